package export

import (
	"strconv"

	"lanewright/planner"
	"lanewright/planner/finding"
	"lanewright/planner/units"
)

// loops is the sheet with one row per loop: how many containers, why, where.
func (r *report) loops() grid {
	g := grid{name: "Loops", frozen: 1, columns: []gridColumn{
		idColumn("Part", 16), wordColumn("Description", 36), idColumn("Cell", 10), idColumn("Station", 10),
		idColumn("Container", 14), figureColumn("Standard pack", 10, wholeFormat),
		figureColumn("Pieces per hour", 11, twoFormat), figureColumn("Containers per hour", 11, twoFormat),
		figureColumn("Refill interval (min)", 10, ""), figureColumn("Response time (min)", 10, ""),
		figureColumn("Service level", 10, "0.0##%"), wordColumn("Demand model", 11),
		figureColumn("Mean pieces", 10, oneFormat), figureColumn("Covered pieces", 10, oneFormat),
		figureColumn("Cards", 8, wholeFormat), figureColumn("Containers", 11, wholeFormat),
		figureColumn("Containers without a lane", 12, wholeFormat),
		figureColumn("Lane capacity", 9, wholeFormat), figureColumn("Lanes", 8, wholeFormat),
		wordColumn("Side along the lane", 11), figureColumn(r.massHead("Full container"), 11, ""),
		wordColumn("Place", 32), idColumn("Route", 9), wordColumn("Why without a lane", 46),
	}}
	lanes := 0
	for _, l := range r.plan.Loops {
		g.rows = append(g.rows, r.loopRow(l))
		lanes += l.Lanes
	}
	g.total = g.sums(map[string]any{
		"Pieces per hour": r.totals.PiecesPerHour, "Containers per hour": r.totals.ContainersPerHour,
		"Containers": r.totals.Containers, "Containers without a lane": r.totals.ContainersUnplaced, "Lanes": lanes,
	})
	return g
}

func (r *report) loopRow(l planner.Loop) []any {
	rate := l.Rate.Float64() * 60
	left, why := 0, any(nil)
	if u, ok := r.left[l.Key]; ok {
		left, why = u.Containers, text(u.Detail)
	}
	return []any{
		string(l.Part), r.description(l.Part), string(l.Cell), string(l.Station), string(l.Container), l.Pack,
		rate, rate / float64(l.Pack), units.Minutes(l.Interval).Float64(), units.Minutes(l.Response).Float64(),
		l.ServiceLevel.Float64(), string(l.Sized), l.Mean.Float64(), l.Covered.Float64(), l.Cards, l.Containers, left,
		count(l.Capacity), l.Lanes, text(string(l.Side)), r.heavy(l.Gross),
		text(r.places(l.Key)), text(l.Route), why,
	}
}

// findings is the sheet of what somebody should look at, worst first.
func (r *report) findings() grid {
	g := grid{name: "Findings", frozen: 2, columns: []gridColumn{
		wordColumn("Severity", 10), idColumn("Code", 26), wordColumn("What", 52), wordColumn("Why it matters", 52),
		wordColumn("What to do", 46), idColumn("File", 18), idColumn("Sheet", 14), figureColumn("Row", 7, ""),
		idColumn("Column", 8), idColumn("Part", 14), idColumn("Container", 12), idColumn("Cell", 10), idColumn("Station", 9),
		idColumn("Rack", 12), idColumn("Rack type", 10), figureColumn("Level", 7, ""), idColumn("Route", 8),
		figureColumn("Value", 10, ""), figureColumn("Limit", 10, ""), idColumn("Unit", 9), wordColumn("Source", 34),
	}}
	list := append(finding.List{}, r.plan.Findings...)
	list.Sort()
	for _, f := range list {
		g.rows = append(g.rows, findingRow(f))
	}
	return g
}

// severityPaper colours the word; the word itself says the same.
var severityPaper = map[finding.Severity]string{finding.Error: "F6D5D0", finding.Warning: "FBEBC8", finding.Note: "E3ECF1"}

func findingRow(f finding.Finding) []any {
	severity := styled{string(f.Severity), look{bold: f.Severity != finding.Note, paper: severityPaper[f.Severity], indent: true}}
	s := f.Subject
	row := []any{
		severity, f.Code, f.Summary, text(f.Detail), text(f.Remedy),
		text(f.Origin.File), text(f.Origin.Sheet), count(f.Origin.Row), text(f.Origin.Column),
		text(s.Part), text(s.Container), text(s.Cell), text(s.Station), text(s.Rack), text(s.RackType), count(s.Level), text(s.Route),
	}
	if m := f.Measure; m != nil {
		row = append(row, significant(m.Value), significant(m.Limit), text(m.Unit))
	} else {
		row = append(row, nil, nil, nil)
	}
	return append(row, text(f.Source))
}

// significant rounds a measure to six digits for reading.
func significant(v float64) float64 {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 6, 64), 64)
	if err != nil {
		return v
	}
	return r
}
