package placement

import (
	"cmp"
	"fmt"
	"slices"

	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// Codes of what was asked to stay as it is today.
const (
	CodeKeepUnknown = "placement.keep-unknown"
	CodeKeepNoFit   = "placement.kept-does-not-fit"
)

// Keep names what stays where it lies in the current layout. Loops that are
// meant keep their rack and level; other loops may still get free lanes beside
// them. Pins of the sheet count first.
type Keep struct {
	// Cells and Racks are codes.
	Cells, Racks []string
	// Levels are "RACK/LEVEL", Loops "PART@CELL/STATION".
	Levels, Loops []string
}

// none reports whether nothing was asked.
func (k Keep) none() bool {
	return len(k.Cells)+len(k.Racks)+len(k.Levels)+len(k.Loops) == 0
}

// names are what k may call a loop that lies on a level, in the order of its
// lists.
func names(l demand.Key, at Spot) [4]string {
	return [4]string{
		string(l.Cell), string(at.Rack), fmt.Sprintf("%s/%d", at.Rack, at.Level),
		fmt.Sprintf("%s@%s/%s", l.Part, l.Cell, l.Station),
	}
}

// lists are the names that were asked for, by setting.
func (k Keep) lists() [4][]string { return [4][]string{k.Cells, k.Racks, k.Levels, k.Loops} }

// keepSettings are the settings of the lists.
var keepSettings = [4]string{"keep_cells", "keep_racks", "keep_levels", "keep_loops"}

// means reports whether a loop that lies on a level is to stay there.
func (k Keep) means(l demand.Key, at Spot) bool {
	called := names(l, at)
	for i, list := range k.lists() {
		if slices.Contains(list, called[i]) {
			return true
		}
	}
	return false
}

// unknown warns of names by which nothing of the current layout is meant.
func (k Keep) unknown(t spots) finding.List {
	met := [4]map[string]bool{{}, {}, {}, {}}
	for l, list := range t.of {
		for _, at := range list {
			for i, name := range names(l, at.Spot) {
				met[i][name] = true
			}
		}
	}
	var list finding.List
	for i, asked := range k.lists() {
		for _, name := range asked {
			if met[i][name] {
				continue
			}
			list = append(list, finding.Finding{
				Severity: finding.Warning, Code: CodeKeepUnknown,
				Summary: fmt.Sprintf("%s names %s, where nothing lies today", keepSettings[i], name),
				Detail:  "What stays is read from the current layout. It has no row that is meant by this name.",
				Remedy:  "Correct the name: cells and racks by code, levels as RACK/LEVEL, loops as PART@CELL/STATION. Or add the rows to the sheet Current layout.",
			})
		}
	}
	return list
}

// keep turns what stays in the cell into pins. A loop that does not fit its
// place any more, beside the others that stay there, is left free and reported.
func (c *cell) keep(k Keep, t spots) ([]plant.Pin, finding.List) {
	if k.none() {
		return nil, nil
	}
	meant := map[int][]todaySpot{}
	var order []int
	for i := range c.loops {
		for _, at := range t.of[c.key(i)] {
			if k.means(c.key(i), at.Spot) && len(c.loops[i].pins) == 0 {
				meant[i] = append(meant[i], at)
			}
		}
		if meant[i] != nil {
			order = append(order, i)
		}
	}
	st := newState(c, nil)
	var pins []plant.Pin
	var noticed finding.List
	for _, i := range order {
		if len(t.of[c.key(i)]) == 1 && st.stays(i, meant[i]) {
			at := meant[i][0]
			pins = append(pins, plant.Pin{Part: c.loops[i].Part, Station: c.loops[i].Station, Rack: at.Rack, Level: at.Level, Reason: "kept as it is today"})
			continue
		}
		noticed = append(noticed, c.letGo(st, i, t.of[c.key(i)]))
	}
	return pins, noticed
}

// stays puts all containers of loop i on its only level of today, if they fit
// beside what lies there.
func (st *state) stays(i int, spots []todaySpot) bool {
	s := st.shelfOf(spots[0].Spot)
	if s < 0 || st.c.whole[i*len(st.c.cols)+st.shelves[s].col] >= boundless || !st.fits(i, st.c.loops[i].k, s) {
		return false
	}
	st.put(i, st.c.loops[i].k, s)
	return true
}

// shelfOf finds a level of a standing rack, -1 where there is none.
func (st *state) shelfOf(at Spot) int {
	return slices.IndexFunc(st.shelves, func(sh shelf) bool {
		return st.racks[sh.rack].base < st.c.standing && st.c.cols[sh.col].level.Level.Level == at.Level &&
			st.c.bases[st.racks[sh.rack].base].rack.Rack == at.Rack
	})
}

// letGo says why a loop that was to stay does not.
func (c *cell) letGo(st *state, i int, spots []todaySpot) finding.Finding {
	l := &c.loops[i]
	at := slices.MinFunc(spots, func(a, b todaySpot) int { return cmp.Or(cmp.Compare(a.Rack, b.Rack), cmp.Compare(a.Level, b.Level)) })
	f := finding.Finding{
		Severity: finding.Warning, Code: CodeKeepNoFit, Origin: l.Origin,
		Subject: finding.Subject{Part: string(l.Part), Container: string(l.Container), Cell: string(l.Cell), Station: string(l.Station), Rack: string(at.Rack), Level: at.Level},
		Summary: fmt.Sprintf("Part %s at station %s was to stay on level %d of rack %s and does not fit there any more", l.Part, l.Station, at.Level, at.Rack),
		Remedy:  "Shorten its refill interval, keep fewer loops there, or let it move.",
	}
	if len(spots) > 1 {
		f.Summary = fmt.Sprintf("Part %s at station %s was to stay, but lies in %d places today", l.Part, l.Station, len(spots))
		f.Detail = "Only a loop that lies on one level can be kept there. It was placed freely; the other loops that are kept stay."
		f.Remedy = "Pin it on the sheet Pins, or put its containers on one level."
		return f
	}
	there := func(r *structure.Rack, level int) bool { return r.Rack == at.Rack && level == at.Level }
	o, found := c.farthest(l, c.bases[:c.standing], there)
	switch s := st.shelfOf(at.Spot); {
	case !found || s < 0:
		f.Detail = "The plan has no such place for it."
	case o.stage != mayLie:
		b := c.blocked(l, o)
		f.Detail, f.Measure = b.Detail, b.Measure
	default:
		f.Detail = c.crowded(st, i, s)
	}
	f.Detail += " It was placed freely; the other loops that are kept stay."
	return f
}

// crowded says what loop i lacks on a shelf.
func (c *cell) crowded(st *state, i, s int) string {
	sh, l := &st.shelves[s], &c.loops[i]
	col := &c.cols[sh.col]
	load := min(col.mass-sh.mass, c.bases[st.racks[sh.rack].base].load-st.racks[sh.rack].mass)
	need, boxes := c.want(i, sh.col, l.k), count(l.k, "container")
	switch {
	case need < boundless && sh.used+need > col.width:
		return fmt.Sprintf("Its %s take %s with guides, and %s are left beside what is kept there.", boxes, units.Length(need-c.guide), units.Length(max(0, col.width-sh.used-c.guide)))
	case times(l.k, l.gross) > load:
		return fmt.Sprintf("Its %s weigh %s, and the level carries only %s more beside what is kept there.", boxes, units.Mass(times(l.k, l.gross)), units.Mass(max(0, load)))
	case need >= boundless:
		return fmt.Sprintf("Its %s take more width than the level has.", boxes)
	default:
		return fmt.Sprintf("Its %s can not be kept apart from their neighbours among what is kept there.", boxes)
	}
}
