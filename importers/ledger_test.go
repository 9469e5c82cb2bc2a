package importers

import (
	"context"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"lanewright/importers/sheet"
	"lanewright/planner/finding"
)

// oddities are texts that cells of real sheets hold.
var oddities = []string{
	"", " ", "-", "n/a", "0", "-1", "1,234", "1.234,5", "15 1/4 in", "1e9", "99999999999999999999", "#REF!", "twelve", "yes", "06:00", "25:00",
	"L-100", "l-100 ", "BOX", "C1", "10", "R1", "P1", "FR3", "supply", "early", "2: 416; 3: 320", "Total", "Part", "\u200b", "100 %", "0.995",
	"Mon-Fri", "2026-03-02", "a,b;c", "normal", "M", "ÄÖÜ", "x", "1 lb",
}

// Whatever stands in the cells, no row is lost: each is used, reported with a
// finding that points to it, or skipped.
func TestEveryRowIsAccountedFor(t *testing.T) {
	t.Parallel()
	sound := loadWorkbook(t, "lantern")
	flat := loadWorkbook(t, "flat")["lamps"]
	rapid.Check(t, func(rt *rapid.T) {
		w := workbook{}
		for name, rows := range sound {
			for _, row := range rows {
				w.add(name, slices.Clone(row)...)
			}
		}
		if rapid.Bool().Draw(rt, "flat") {
			w = workbook{}
			for _, row := range flat {
				w.add("lamps", slices.Clone(row)...)
			}
		}
		for range rapid.IntRange(1, 12).Draw(rt, "changes") {
			disturb(rt, w)
		}
		accountFor(rt, t, w)
	})
}

// disturb puts something odd into a cell, doubles a row or drops a sheet.
func disturb(rt *rapid.T, w workbook) {
	name := rapid.SampledFrom(w.names()).Draw(rt, "sheet")
	rows := w[name]
	i := rapid.IntRange(0, len(rows)-1).Draw(rt, "row")
	switch rapid.IntRange(0, 9).Draw(rt, "kind") {
	case 0:
		w.add(name, slices.Clone(rows[i])...)
	case 1:
		if len(w) > 1 {
			w.without(name)
		}
	default:
		j := rapid.IntRange(0, len(rows[i])).Draw(rt, "column")
		if j == len(rows[i]) {
			rows[i] = append(rows[i], "")
		}
		rows[i][j] = rapid.SampledFrom(oddities).Draw(rt, "text")
	}
}

func accountFor(rt *rapid.T, t *testing.T, w workbook) {
	rd := newReading()
	book, err := sheet.Read(context.Background(), "plant.zip", w.zip(t), sheet.DefaultLimits())
	if err := rd.take("plant.zip", book, err); err != nil {
		rt.Fatalf("%v", err)
	}
	r, err := rd.result()
	if err != nil {
		rt.Fatalf("%v", err)
	}
	for _, l := range r.Sheets {
		if l.Rows != l.Used+l.Reported+l.Skipped {
			rt.Fatalf("ledger %+v", l)
		}
	}
	for _, tab := range rd.tables {
		for _, row := range tab.rows {
			if row.state == reported && !pointsTo(r.Findings, tab, row) {
				rt.Fatalf("row %d of %s is left out and no finding says why: %v", row.Number, tab.sheet.Name, r.Findings)
			}
		}
	}
}

func pointsTo(list finding.List, t *table, r *row) bool {
	head := t.sheet.Rows[t.head.at].Number
	return slices.ContainsFunc(list, func(f finding.Finding) bool {
		return f.Origin.Sheet == t.sheet.Name && (f.Origin.Row == r.Number || f.Origin.Row == head && f.Code == CodeColumnMissing)
	})
}
