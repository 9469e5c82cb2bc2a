package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"lanewright/importers/column"
	"lanewright/planner"
	"lanewright/planner/plant"
	"lanewright/planner/structure"
)

// which names a loop as people do: a part, with a cell and a station where the
// part is used at several.
type which struct{ part, cell, station string }

// matching returns the loops that are meant; case does not matter.
func (q which) matching(loops []planner.Loop) []planner.Loop {
	same := func(wanted, code string) bool { return wanted == "" || strings.EqualFold(wanted, code) }
	var list []planner.Loop
	for _, l := range loops {
		if same(q.part, string(l.Part)) && same(q.cell, string(l.Cell)) && same(q.station, string(l.Station)) {
			list = append(list, l)
		}
	}
	return list
}

// loop returns the one loop that is meant. Where there are several it lists them,
// each with the options that mean it alone, and ok is false.
func (p *program) loop(made *planner.Plan, q which, option string) (l planner.Loop, ok bool, err error) {
	list := q.matching(made.Loops)
	switch len(list) {
	case 0:
		return l, false, noLoop(made.Loops, q)
	case 1:
		return list[0], true, nil
	}
	fmt.Fprintf(p.out, "Part %s is used at %s. Add the options of the one you mean:\n\n", list[0].Part, plural(len(list), "station"))
	rows := [][]string{{"cell", "station", "pieces an hour", "containers", "options"}}
	for _, l := range list {
		rows = append(rows, []string{
			string(l.Cell), string(l.Station), fmt.Sprintf("%.4g", 60*l.Rate.Float64()), fmt.Sprint(l.Containers),
			fmt.Sprintf("%s %s --cell %s --station %s", option, shell(string(l.Part)), shell(string(l.Cell)), shell(string(l.Station))),
		})
	}
	table(p.out, rows)
	return l, false, nil
}

// noLoop says what there is instead.
func noLoop(loops []planner.Loop, q which) error {
	of := which{part: q.part}.matching(loops)
	if len(of) == 0 {
		codes := make([]string, len(loops))
		for i, l := range loops {
			codes[i] = string(l.Part)
		}
		slices.Sort(codes)
		if near, ok := column.Nearest(q.part, slices.Compact(codes)); ok {
			return usagef("no loop has part %q; did you mean %s?", q.part, near)
		}
		return usagef("no loop has part %q", q.part)
	}
	var at []string
	for _, l := range of {
		at = append(at, fmt.Sprintf("--cell %s --station %s", shell(string(l.Cell)), shell(string(l.Station))))
	}
	return usagef("part %s is not used there; it is at %s", cmp.Or(string(of[0].Part), q.part), some(at, 5))
}

// cellNamed finds a cell of a plant by its code.
func cellNamed(facts *plant.Plant, name string) (plant.CellCode, error) {
	c, err := named("cell", name, facts.Cells, func(c plant.Cell) string { return string(c.Cell) })
	return c.Cell, err
}

// rackNamed finds a rack of a plan by its code.
func rackNamed(made *planner.Plan, name string) (plant.RackCode, error) {
	r, err := named("rack", name, made.Racks, func(r structure.Rack) string { return string(r.Rack) })
	return r.Rack, err
}

// named finds the one of a list that has the code name; case does not matter.
func named[T any](kind, name string, list []T, code func(T) string) (none T, err error) {
	codes := make([]string, len(list))
	for i, one := range list {
		if codes[i] = code(one); strings.EqualFold(codes[i], name) {
			return one, nil
		}
	}
	if near, ok := column.Nearest(name, codes); ok {
		return none, usagef("there is no %s %q; did you mean %s?", kind, name, near)
	}
	if len(codes) == 0 {
		return none, usagef("there is no %s %q, nor any other", kind, name)
	}
	return none, usagef("there is no %s %q; there are %s", kind, name, some(codes, 8))
}

// shell quotes a code where a shell would take it apart.
func shell(code string) string {
	plain := func(r rune) bool {
		return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || strings.ContainsRune("-_./+:", r) || r > 0x7f
	}
	if code != "" && strings.IndexFunc(code, func(r rune) bool { return !plain(r) }) < 0 {
		return code
	}
	return "'" + strings.ReplaceAll(code, "'", `'\''`) + "'"
}
