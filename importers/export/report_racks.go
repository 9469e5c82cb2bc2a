package export

import (
	"fmt"
	"strings"

	"lanewright/planner/demand"
	"lanewright/planner/placement"
	"lanewright/planner/structure"
)

// racks is the sheet with one row per rack.
func (r *report) racks() grid {
	g := grid{name: "Racks", frozen: 1, columns: []gridColumn{
		idColumn("Rack", 14), idColumn("Rack type", 12), idColumn("Cell", 10), wordColumn("To add", 8),
		wordColumn("Stations", 24), figureColumn("X (m)", 9, ""), figureColumn("Y (m)", 9, ""), idColumn("Aisle point", 12),
		figureColumn(r.lengthHead("Width"), 11, ""), figureColumn("Lanes used", 9, wholeFormat),
		figureColumn("Lanes free", 9, wholeFormat), figureColumn("Return lanes", 9, wholeFormat),
		figureColumn("Containers", 11, wholeFormat), figureColumn(r.massHead("Load"), 11, ""),
		figureColumn(r.massHead("Mass limit"), 11, ""), idColumn("Routes", 14),
	}}
	var placed int
	for _, rack := range r.plan.Racks {
		lanes := r.byRack[rack.Rack]
		g.rows = append(g.rows, r.rackRow(rack, lanes))
		placed += standing(lanes)
	}
	g.total = g.sums(map[string]any{
		"Lanes used": r.totals.LanesUsed, "Lanes free": r.totals.LanesFree, "Return lanes": r.totals.ReturnLanes,
		"Containers": placed, r.massHead("Load"): r.heavy(r.load(r.plan.Lanes)),
	})
	return g
}

func (r *report) rackRow(rack structure.Rack, lanes []placement.Lane) []any {
	used, free, back := countLanes(lanes)
	var x, y, width, limit any
	if rack.Known {
		x, y = rounded(rack.Place.X.Metres(), 3), rounded(rack.Place.Y.Metres(), 3)
	}
	if t := rack.Type; t != nil {
		width = r.long(t.Width)
		if t.MassLimit > 0 {
			limit = r.heavy(t.MassLimit)
		}
	}
	return []any{
		string(rack.Rack), rackTypeCode(rack), string(rack.Cell), yesNo(rack.Proposed), codes(rack.Stations), x, y,
		text(string(rack.Point)), width, used, free, back, standing(lanes), r.heavy(r.load(lanes)), limit,
		text(strings.Join(r.routeOf[rack.Rack], ", ")),
	}
}

func rackTypeCode(rack structure.Rack) any {
	if rack.Type == nil {
		return nil
	}
	return text(string(rack.Type.RackType))
}

// standing counts the containers that lanes hold.
func standing(lanes []placement.Lane) int {
	n := 0
	for _, l := range lanes {
		n += l.Containers
	}
	return n
}

// lanes is the sheet with one row per lane, free and return lanes too.
func (r *report) lanes() grid {
	g := grid{name: "Lanes", frozen: 3, columns: []gridColumn{
		idColumn("Rack", 14), figureColumn("Level", 7, wholeFormat), figureColumn("Lane", 7, wholeFormat),
		wordColumn("Kind", 9), figureColumn(r.lengthHead("From the left"), 11, ""), figureColumn(r.lengthHead("Lane width"), 11, ""),
		idColumn("Part", 16), wordColumn("Description", 36), idColumn("Cell", 10), idColumn("Station", 10),
		idColumn("Container", 14), wordColumn("Side along the lane", 11), figureColumn("Capacity", 10, wholeFormat),
		figureColumn("Containers", 11, wholeFormat), figureColumn(r.massHead("Load"), 11, ""),
	}}
	for _, lane := range r.plan.Lanes {
		g.rows = append(g.rows, r.laneRow(lane))
	}
	g.total = g.sums(map[string]any{
		"Containers": standing(r.plan.Lanes), r.massHead("Load"): r.heavy(r.load(r.plan.Lanes)),
	})
	return g
}

func (r *report) laneRow(lane placement.Lane) []any {
	row := []any{
		string(lane.Rack), lane.Level, lane.Lane, string(lane.Kind), r.long(lane.Offset), r.long(lane.Width),
	}
	if lane.Empty() {
		return append(row, make([]any, 9)...)
	}
	var container any
	if loop := r.loopOf[lane.Loop]; loop != nil {
		container = text(string(loop.Container))
	}
	return append(row,
		string(lane.Loop.Part), r.description(lane.Loop.Part), string(lane.Loop.Cell), string(lane.Loop.Station),
		container, string(lane.Side), lane.Capacity, lane.Containers, r.heavy(r.load([]placement.Lane{lane})))
}

// places says in words where a loop's lanes are: "R12 level 3 lanes 2-3".
func (r *report) places(loop demand.Key) string {
	lanes := r.byLoop[loop]
	var parts []string
	for i := 0; i < len(lanes); {
		j := i + 1
		for j < len(lanes) && follows(lanes[j-1], lanes[j]) {
			j++
		}
		parts = append(parts, spanText(lanes[i], lanes[j-1]))
		i = j
	}
	return strings.Join(parts, "; ")
}

func follows(a, b placement.Lane) bool {
	return a.Rack == b.Rack && a.Level == b.Level && b.Lane == a.Lane+1
}

func spanText(first, last placement.Lane) string {
	lanes := fmt.Sprintf("lane %d", first.Lane)
	if last.Lane > first.Lane {
		lanes = fmt.Sprintf("lanes %d-%d", first.Lane, last.Lane)
	}
	return fmt.Sprintf("%s level %d %s", first.Rack, first.Level, lanes)
}

// moves is the sheet of what changes against today's layout.
func (r *report) moves() grid {
	g := grid{name: "Moves", frozen: 1, columns: []gridColumn{
		idColumn("Part", 16), wordColumn("Description", 36), idColumn("Cell", 10), idColumn("Station", 10), wordColumn("Change", 10),
		idColumn("From rack", 14), figureColumn("From level", 8, wholeFormat), figureColumn("From lane", 8, wholeFormat),
		idColumn("To rack", 14), figureColumn("To level", 8, wholeFormat), figureColumn("To lane", 8, wholeFormat),
		figureColumn("Containers", 11, wholeFormat),
	}}
	for _, m := range r.plan.Moves {
		row := []any{string(m.Part), r.description(m.Part), string(m.Cell), string(m.Station), changeOf(m)}
		row = append(append(row, spot(m.From)...), spot(m.To)...)
		g.rows = append(g.rows, append(row, m.Containers))
	}
	g.total = g.sums(map[string]any{"Containers": r.totals.MovedContainers})
	return g
}

func changeOf(m placement.Move) string {
	switch {
	case m.From == nil:
		return "new"
	case m.To == nil:
		return "taken out"
	default:
		return "moved"
	}
}

func spot(s *placement.Spot) []any {
	if s == nil {
		return []any{nil, nil, nil}
	}
	return []any{string(s.Rack), s.Level, count(s.Lane)}
}
