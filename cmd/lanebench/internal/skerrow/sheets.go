package skerrow

import (
	"slices"
	"strings"
	"time"

	"lanewright/importers/export"
	"lanewright/planner/search"
)

// oddTexts are descriptions that spreadsheets like to misread.
var oddTexts = map[string]string{
	"3208-A": "+24 V lead pair, 90 mm",
	"3408-A": "- short set, replaced by 3408-B from autumn -",
	"3513-B": "=see drawing 3513, sheet 2",
	"3611-A": "@ goods in: do not mix with 32 mm",
	"3705-A": `Mooring eye, "new" <forged>, Ø 12`,
}

// alikes is the column Look-alike of: one entry names a part that was taken
// off the list long ago.
func alikes(p *part) string {
	if p.code == "3103-C" {
		return "3103-Z"
	}
	return p.alike
}

// usage has one row per product, part and station, or a direct rate.
func (s *stock) usage() export.Table {
	t := sheet("Usage", "Product", "Part", "Cell", "Station", "Quantity per unit", "Scrap (%)", "Pieces per hour", "Variation",
		"Refill interval (min)", "Response time (min)", "Service level (%)", "Safety (%)", "Demand model", "Containers")
	for _, l := range s.loops {
		if l.direct > 0 {
			row := []any{nil, l.part.code, l.cell, l.station, nil, nil, l.direct, 0.35}
			t.Rows = append(t.Rows, append(row, l.wishes()...))
			continue
		}
		for i, p := range l.products {
			code := l.part.code
			if code == "3103-A" && i == 1 {
				code = "3103-a" // one row was typed by hand
			}
			row := []any{p, code, l.cell, l.station, l.each, scrap(code), nil, nil}
			t.Rows = append(t.Rows, append(row, l.wishes()...))
		}
	}
	return *t
}

func scrap(code string) any {
	switch code[:min(4, len(code))] {
	case "3101":
		return 2
	case "3201":
		return 1.5
	case "4204":
		return 3
	}
	return nil
}

// fixedCounts are numbers of containers that people have agreed on; the last
// is below what the loop needs.
var fixedCounts = map[string]int{"3414-A": 8, "3510-A": 8, "4103-A": 6, "3402-A": 3}

// wishes are the last six columns of a row of use.
func (l loop) wishes() []any {
	row := make([]any, 6)
	family := l.part.code[:min(4, len(l.part.code))]
	switch {
	case l.cell == "SKER-1", family == "3401", family == "3501":
		row[0] = 30
	case family == "3901":
		row[0] = 40
	case family == "3302":
		row[1], row[2] = 45, 99.9
	case l.cell == "TIDE":
		row[3] = 10
	}
	switch {
	case l.cell == "HORN":
		row[4] = "poisson"
	case family == "3702" || family == "3802" || family == "3803" || family == "4499":
		row[4] = "empirical"
	case family == "3101":
		row[4] = "normal"
	}
	if n, ok := fixedCounts[l.part.code]; ok {
		row[5] = n
	}
	return row
}

// history is what was built on each working day of the last quarter, and what
// the packing cell sold of one service kit.
func history() export.Table {
	t := sheet("History", "Product", "Part", "Date", "Units")
	record := func(product, part any, name string, days, mean, spread int) {
		r := search.Stream(Seed, "skerrow/history/"+name)
		day := time.Date(2026, time.July, 1, 0, 0, 0, 0, time.UTC)
		for done := 0; done < days; day = day.AddDate(0, 0, 1) {
			if wd := day.Weekday(); wd == time.Saturday || wd == time.Sunday {
				continue
			}
			units := mean + r.IntN(spread+1) + r.IntN(spread+1) - spread
			t.Rows = append(t.Rows, []any{product, part, day, units})
			done++
		}
	}
	record("SK12", nil, "SK12", 66, 640, 140)
	record("SK20", nil, "SK20", 66, 340, 105)
	record(nil, "4499-A", "4499-A", 40, 184, 120)
	return *t
}

func points() export.Table {
	t := sheet("Aisle points", "Point", "X", "Y", "Kind")
	for _, s := range spots() {
		t.Rows = append(t.Rows, []any{s.code, s.x, s.y, s.kind})
	}
	return *t
}

func aisles() export.Table {
	t := sheet("Aisles", "From", "To", "Length", "One way", "Speed limit (m/s)")
	for _, w := range ways() {
		row := []any{w.from, w.to, nil, "no", nil}
		if w.length > 0 {
			row[2] = w.length
		}
		if w.oneWay {
			row[3] = "yes"
		}
		if w.limit > 0 {
			row[4] = w.limit
		}
		t.Rows = append(t.Rows, row)
	}
	return *t
}

func vehicles() export.Table {
	t := sheet("Vehicles", "Vehicle type", "Count", "Containers", "Mass limit", "Speed (m/s)", "Stop time (s)", "Load time (s)",
		"Unload time (s)", "Empty time (s)", "From market")
	t.Rows = [][]any{
		{"TRAIN-W", 9, 36, 700, 1.5, 25, 6, 8, 3, "MKT-W"},
		{"TRAIN-N", 4, 24, 500, 1.5, 25, 6, 8, 3, "MKT-N"},
		{"HANDCART", 6, 10, "330 lb", 1.1, 12, 5, 6, 3, "MKT-W"},
	}
	return *t
}

// layout is what stands in half of the cells today, and a part that has been
// gone since the spring.
func (s *stock) layout() export.Table {
	t := sheet("Current layout", "Rack", "Level", "Lane", "Part", "Station", "Containers")
	for _, l := range s.today() {
		t.Rows = append(t.Rows, []any{l.rack, l.level, l.lane, l.part, l.station, l.containers})
	}
	t.Rows = append(t.Rows, []any{"HARB-05", 4, 3, "2960-A", "040", 2})
	return *t
}

// pins keep a few parts where they stand today.
func (s *stock) pins() export.Table {
	t := sheet("Pins", "Part", "Station", "Rack", "Level", "Lane", "Reason")
	reasons := map[string]string{
		"3101-A": "Lens washer stands beside it", "3403-A": "Hoist reaches only this rack", "3603-A": "Test light stands beside it",
		"3705-A": "Same side as the mooring press", "4106-A": "Foot press is bolted down", "4302-A": "Next to the test tank",
	}
	seen := map[string]bool{}
	for _, l := range s.today() {
		if reason, ok := reasons[l.part]; ok && !seen[l.part] {
			seen[l.part] = true
			lane := any(nil)
			if l.part == "4302-A" {
				lane = l.lane
			}
			t.Rows = append(t.Rows, []any{l.part, l.station, l.rack, l.level, lane, reason})
		}
	}
	slices.SortFunc(t.Rows, func(a, b []any) int { return strings.Compare(a[0].(string), b[0].(string)) })
	return *t
}
