package recompute

import (
	"encoding/csv"
	"fmt"
	"math/big"
	"os"
	"path/filepath"
	"sort"
	"strconv"
	"strings"
)

// row is one row of a sheet by canonical column name; amounts are in the unit
// of this package: mm, kg, min, s for times of vehicles, m on the map.
type row map[string]string

// facts are the sheets.
type facts struct {
	sheets   map[string][]row
	settings map[string]string
	stations map[[2]string]row
	by       map[string]map[string]row
	levels   map[string]map[int]row
}

// inUnits turns a value under a heading with a unit into this package's unit.
var inUnits = map[string]string{
	"mm": "1", "cm": "10", "in": "25.4", "kg": "1", "g": "1/1000", "lb": "0.45359237",
	"min": "1", "s": "1", "m": "1", "m/s": "1", "%": "1",
}

func readFacts(dir string) (*facts, error) {
	f := &facts{sheets: map[string][]row{}, settings: map[string]string{}, stations: map[[2]string]row{}, by: map[string]map[string]row{}, levels: map[string]map[int]row{}}
	paths, err := filepath.Glob(filepath.Join(dir, "*.csv"))
	if err != nil || len(paths) == 0 {
		return nil, fmt.Errorf("no CSV files in %s", dir)
	}
	for _, p := range paths {
		name := strings.TrimSuffix(filepath.Base(p), ".csv")
		rows, err := readSheet(p)
		if err != nil {
			return nil, err
		}
		f.sheets[name] = rows
	}
	f.index()
	return f, nil
}

func readSheet(path string) ([]row, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	r := csv.NewReader(file)
	r.FieldsPerRecord = -1
	records, err := r.ReadAll()
	if err != nil || len(records) == 0 {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	names, factors := headings(records[0])
	var rows []row
	for _, rec := range records[1:] {
		x := row{}
		for i, v := range rec {
			v = strings.TrimSpace(v)
			if i >= len(names) || v == "" {
				continue
			}
			if factors[i] != nil {
				if n, ok := new(big.Rat).SetString(v); ok {
					v = n.Mul(n, factors[i]).RatString()
				}
			}
			x[names[i]] = v
		}
		if len(x) > 0 {
			rows = append(rows, x)
		}
	}
	return rows, nil
}

func headings(header []string) ([]string, []*big.Rat) {
	names, factors := make([]string, len(header)), make([]*big.Rat, len(header))
	for i, h := range header {
		h = strings.TrimPrefix(strings.TrimSpace(h), "\ufeff")
		names[i] = h
		if at := strings.LastIndexAny(h, "(["); at > 0 {
			unit := strings.Trim(h[at:], "()[]")
			if u, ok := inUnits[unit]; ok {
				names[i] = strings.TrimSpace(h[:at])
				if u != "1" {
					factors[i], _ = new(big.Rat).SetString(u)
				}
			}
		}
	}
	return names, factors
}

func (f *facts) index() {
	for _, r := range f.sheets["Plant"] {
		name := r["Setting"]
		if at := strings.LastIndex(name, "("); at > 0 {
			name = strings.TrimSpace(name[:at])
		}
		f.settings[name] = r["Value"]
	}
	for sheet, column := range map[string]string{
		"Products": "Product", "Parts": "Part", "Containers": "Container", "Cells": "Cell", "Rack types": "Rack type",
		"Racks": "Rack", "Aisle points": "Point", "Vehicles": "Vehicle type",
	} {
		f.by[sheet] = map[string]row{}
		for _, r := range f.sheets[sheet] {
			f.by[sheet][r[column]] = r
		}
	}
	for _, r := range f.sheets["Stations"] {
		f.stations[[2]string{r["Cell"], r["Station"]}] = r
	}
	for _, r := range f.sheets["Levels"] {
		t := r["Rack type"]
		if f.levels[t] == nil {
			f.levels[t] = map[int]row{}
		}
		f.levels[t][r.whole("Level", 0)] = r
	}
}

// setting returns a Plant setting or its default.
func (f *facts) setting(name, def string) *big.Rat {
	v := strings.TrimSuffix(f.settings[name], "%")
	if n, ok := new(big.Rat).SetString(strings.TrimSpace(v)); ok {
		return n
	}
	n, _ := new(big.Rat).SetString(def)
	return n
}

func (f *facts) share(name, def string) float64 {
	v, _ := f.setting(name, def).Float64()
	return v / 100
}

func (f *facts) mm(name, def string) float64 {
	v, _ := f.setting(name, def).Float64()
	return v
}

func (r row) rat(column, def string) *big.Rat {
	if n, ok := new(big.Rat).SetString(strings.TrimSuffix(r[column], "%")); ok {
		return n
	}
	n, _ := new(big.Rat).SetString(def)
	return n
}

func (r row) num(column string, def float64) float64 {
	if r[column] == "" {
		return def
	}
	v, _ := r.rat(column, "0").Float64()
	return v
}

func (r row) whole(column string, def int) int {
	if n, err := strconv.Atoi(r[column]); err == nil {
		return n
	}
	return def
}

func (r row) yes(column string, def bool) bool {
	switch strings.ToLower(r[column]) {
	case "yes", "y", "true", "1":
		return true
	case "no", "n", "false", "0":
		return false
	}
	return def
}

func (r row) list(column string) []string {
	var out []string
	for _, s := range strings.Split(r[column], ",") {
		if s = strings.TrimSpace(s); s != "" {
			out = append(out, s)
		}
	}
	return out
}

func sortedKeys[V any](m map[key]V) []key {
	keys := make([]key, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	sort.Slice(keys, func(a, b int) bool {
		x, y := keys[a], keys[b]
		if x.cell != y.cell {
			return x.cell < y.cell
		}
		if x.station != y.station {
			return x.station < y.station
		}
		return x.part < y.part
	})
	return keys
}
