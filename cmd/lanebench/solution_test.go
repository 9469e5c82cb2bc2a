package main

import (
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// problemText is a problem as its file has it, read with no help of the program: the
// values of the header and the numbers of each section.
type problemText struct {
	header   map[string]string
	sections map[string][]float64
}

func readProblem(t *testing.T, name string) problemText {
	t.Helper()
	text, err := os.ReadFile(name)
	require.NoError(t, err)
	p := problemText{map[string]string{}, map[string][]float64{}}
	section := ""
	for row := range strings.Lines(string(text)) {
		row = strings.TrimSpace(row)
		if key, value, ok := strings.Cut(row, ":"); ok {
			p.header[strings.TrimSpace(key)] = strings.TrimSpace(value)
			continue
		}
		for _, word := range strings.Fields(row) {
			if n, err := strconv.ParseFloat(word, 64); err == nil {
				p.sections[section] = append(p.sections[section], n)
			} else {
				section = word
			}
		}
	}
	return p
}

func (p problemText) number(key string) float64 {
	n, _ := strconv.ParseFloat(p.header[key], 64)
	return n
}

// leg is the length from a to b; nodes count from 0.
func (p problemText) leg(a, b int, exact bool) float64 {
	if table := p.sections["EDGE_WEIGHT_SECTION"]; table != nil {
		return table[a*int(p.number("DIMENSION"))+b]
	}
	at := p.sections["NODE_COORD_SECTION"]
	d := math.Hypot(at[3*a+1]-at[3*b+1], at[3*a+2]-at[3*b+2])
	if exact {
		return d
	}
	return math.Floor(d + 0.5)
}

// judge recomputes the file of routes: their length, and whether they serve every stop
// once within capacity and limit. said is what the file has as its cost.
func (p problemText) judge(t *testing.T, name string, exact bool) (length, said float64, ok bool) {
	t.Helper()
	text, err := os.ReadFile(name)
	require.NoError(t, err)
	served := map[int]int{}
	ok = true
	for row := range strings.Lines(string(text)) {
		words := strings.Fields(row)
		if words[0] == "Cost" {
			said, err = strconv.ParseFloat(words[1], 64)
			require.NoError(t, err)
			continue
		}
		var load, time, long float64
		last := 0
		for _, word := range append(words[2:], "0") {
			x, err := strconv.Atoi(word)
			require.NoError(t, err)
			served[x]++
			long += p.leg(last, x, exact)
			load += p.sections["DEMAND_SECTION"][2*x+1]
			if s := p.sections["SERVICE_TIME_SECTION"]; s != nil {
				time += s[2*x+1]
			} else if x > 0 {
				time += p.number("SERVICE_TIME")
			}
			last = x
		}
		length += long
		ok = ok && load <= p.number("CAPACITY") && (p.header["DISTANCE"] == "" || long+time <= p.number("DISTANCE")+1e-6)
	}
	for x := 1; x < int(p.number("DIMENSION")); x++ {
		ok = ok && served[x] == 1
	}
	return length, said, ok && len(served) == int(p.number("DIMENSION"))
}

// TestRoutesFile recomputes what `routing --routes` writes from the text of problem and
// file alone: of a made-up floor with one-way aisles, of a published problem, of one with
// a limit and service, and of all published ones that lie beside the checkout.
func TestRoutesFile(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	floor := filepath.Join(dir, "floor.vrp")
	_, err := run(t, "floor", "--stops", "40", "--one-way", "70", "--seed", "3", "--out", floor)
	require.NoError(t, err)
	limited := strings.Replace(lineProblem, "CAPACITY : 2\n", "CAPACITY : 3\nDISTANCE : 20.5\nSERVICE_TIME : 0.25\n", 1)
	problems := map[string]bool{
		floor:                              false,
		written(t, "limited.vrp", limited): true,
		filepath.Join("internal", "vrp", "testdata", "A-n32-k5.vrp"): false,
	}
	beside, err := filepath.Glob(filepath.Join(os.Getenv("LANEWRIGHT_ROUTING_PROBLEMS"), "*.vrp"))
	require.NoError(t, err)
	for _, name := range beside {
		problems[name] = readProblem(t, name).header["DISTANCE"] != ""
	}
	for name, exact := range problems {
		routes := filepath.Join(dir, filepath.Base(name)+".sol")
		line, err := run(t, "routing", name, "--steps", "1000", "--routes", routes)
		require.NoError(t, err)
		length, said, ok := readProblem(t, name).judge(t, routes, exact)
		assert.True(t, ok, name)
		assert.Equal(t, true, line["feasible"], name)
		assert.InDelta(t, length, said, 1e-6, name)
		assert.InDelta(t, length, line["value"], 1e-6, name)
		assert.LessOrEqual(t, line["bound"], length+1e-6, name)
	}
}
