package export

import (
	"context"
	"fmt"
	"runtime"
	"strings"

	"lanewright/planner"
	"lanewright/planner/buildlist"
	"lanewright/planner/plant"
)

// built are the sheets Lifting, Build list and Cut list, each where it has rows.
// The last two are of the racks that the plan proposes.
func (r *report) built() (sheets []grid, err error) {
	if g := r.lifting(); len(g.rows) > 0 {
		sheets = append(sheets, g)
	}
	scope, options := planner.BuildScope{Proposed: true}, planner.BuildOptions{Threads: runtime.GOMAXPROCS(0)}
	b, err := planner.BuildRacks(context.Background(), r.facts.Plant, r.plan, scope, options)
	if err != nil || len(b.Buys) == 0 {
		return sheets, err
	}
	return append(sheets, r.buildList(b), r.cutList(b)), nil
}

// buildList is the sheet of what each proposed rack is built from: pieces that are
// made alike on one row, then what is bought by the piece.
func (r *report) buildList(b planner.Build) grid {
	g := grid{name: "Build list", frozen: 1, columns: []gridColumn{
		idColumn("Rack", 14), idColumn("Cell", 10), wordColumn("Rack type", 20), figureColumn("Pieces", 8, wholeFormat), wordColumn("What", 14),
		idColumn("Part", 24), figureColumn(r.lengthHead("Cut to"), 11, ""), wordColumn(r.lengthHead("Holes from the first end"), 36), wordColumn("Marks", 36),
		figureColumn(r.massHead("Mass"), 11, ""), figureColumn("Cost", 10, twoFormat),
	}}
	for i := range b.Racks {
		g.rows = append(g.rows, r.buildRows(&b.Racks[i])...)
	}
	sums := map[string]any{}
	if b.Total.Weighed > 0 {
		sums[r.massHead("Mass")] = r.heavy(b.Total.Mass)
	}
	if b.Total.Priced > 0 {
		sums["Cost"] = b.Total.Cost.Float64()
	}
	if missing := len(b.Total.Unpriced); missing > 0 {
		sums["Marks"] = fmt.Sprintf("%d parts have no price", missing)
	}
	g.total = g.sums(sums)
	return g
}

func (r *report) buildRows(b *planner.RackBuild) (rows [][]any) {
	lead := []any{string(b.Rack.Rack), string(b.Rack.Cell), rackTypeCode(b.Rack)}
	row := func(count int, what string, buy buildlist.Buy, rest ...any) {
		cells := append(append([]any{}, lead...), count, what, string(buy.Part.Part))
		rows = append(rows, append(append(cells, rest...), r.weighed(buy), priced(buy)))
	}
	for _, g := range b.List.Groups {
		row(len(g.Pieces), string(g.Role), b.List.Worth(g), r.long(g.Length), text(r.holes(g.Holes)), strings.Join(b.List.Marks(g), ", "))
	}
	for _, buy := range b.List.Buys {
		switch buy.Part.Kind {
		case plant.ConnectorPart, plant.FastenerPart, plant.FootPart, plant.CasterPart:
			row(buy.Count, string(buy.Part.Kind), buy, nil, nil, nil)
		}
	}
	return rows
}

// weighed and priced are blank where the kit does not know.
func (r *report) weighed(b buildlist.Buy) any {
	if !b.Weighed() {
		return nil
	}
	return r.heavy(b.Mass)
}

func priced(b buildlist.Buy) any {
	if !b.Priced() {
		return nil
	}
	return b.Cost.Float64()
}

// holes lists where a piece is met.
func (r *report) holes(holes []buildlist.Hole) string {
	var parts []string
	for _, h := range holes {
		at := fmt.Sprint(r.long(h.At))
		if h.Number > 0 {
			at = fmt.Sprintf("no. %d (%s)", h.Number, at)
		}
		parts = append(parts, at+" "+string(h.Way))
	}
	return strings.Join(parts, ", ")
}

// cutList is the sheet with one row for each bar of the proposed racks.
func (r *report) cutList(b planner.Build) grid {
	g := grid{name: "Cut list", frozen: 3, columns: []gridColumn{
		idColumn("Kit", 24), idColumn("Part", 24), figureColumn("Bar", 7, wholeFormat), figureColumn(r.lengthHead("Stock length"), 11, ""),
		wordColumn(r.lengthHead("Cut into"), 32), wordColumn("Pieces", 60), figureColumn(r.lengthHead("Rest"), 10, ""),
		figureColumn("Bought of the part (m)", 12, twoFormat), figureColumn("Least possible (m)", 11, twoFormat), figureColumn("Left over", 9, percentFormat),
	}}
	for _, c := range b.Cuts {
		for n, bar := range c.Bars {
			cells := []any{string(c.Kit), string(c.Part.Part), n + 1, r.long(bar.Length), r.cuts(bar), barPieces(bar), r.long(bar.Rest), nil, nil, nil}
			if n == 0 {
				copy(cells[7:], []any{c.Bought.Metres(), c.Least.Metres(), c.Waste()})
			}
			g.rows = append(g.rows, cells)
		}
		for _, piece := range c.Uncut {
			g.rows = append(g.rows, []any{string(c.Kit), string(c.Part.Part), nil, nil, r.long(piece.Length), string(piece.Rack) + " " + piece.Mark + ": no stock is long enough", nil, nil, nil, nil})
		}
	}
	return g
}

// cuts writes the pieces of a bar by their lengths, the longest first.
func (r *report) cuts(b buildlist.Bar) string {
	var parts []string
	for i := 0; i < len(b.Cuts); {
		j := i
		for j < len(b.Cuts) && b.Cuts[j].Length == b.Cuts[i].Length {
			j++
		}
		parts = append(parts, fmt.Sprintf("%d x %v", j-i, r.long(b.Cuts[i].Length)))
		i = j
	}
	return strings.Join(parts, " + ")
}

func barPieces(b buildlist.Bar) string {
	parts := make([]string, len(b.Cuts))
	for i, c := range b.Cuts {
		parts[i] = string(c.Rack) + " " + c.Mark
	}
	return strings.Join(parts, ", ")
}
