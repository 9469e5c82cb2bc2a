package sheet_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"lanewright/importers/sheet"
)

// TestRowGivesBack: a row gives back the cells that it was made of, all at once and one
// by one.
func TestRowGivesBack(t *testing.T) {
	t.Parallel()
	text := rapid.OneOf(rapid.Just(""), rapid.String(), rapid.StringN(250, 260, -1), rapid.Just(strings.Repeat("é", 300)))
	cell := rapid.Custom(func(t *rapid.T) sheet.Cell {
		c := sheet.Cell{Text: text.Draw(t, "text"), Error: rapid.Bool().Draw(t, "error"), NoValue: rapid.Bool().Draw(t, "no value")}
		if c.Number = rapid.Bool().Draw(t, "number"); c.Number {
			c.Date = rapid.Bool().Draw(t, "date")
			c.Raw = rapid.OneOf(rapid.Just(""), rapid.Just("702.43"), rapid.StringMatching(`[0-9]{1,15}\.[0-9]{1,15}`)).Draw(t, "raw")
			if rapid.Bool().Draw(t, "as shown") {
				c.Text = c.Raw
			}
		}
		return c
	})
	rapid.Check(t, func(t *rapid.T) {
		cells := rapid.SliceOfN(cell, 1, 40).Draw(t, "cells")
		r := sheet.NewRow(7, cells)
		assert.Equal(t, cells, r.Cells())
		assert.Equal(t, len(cells), r.Width())
		for i, c := range cells {
			assert.Equal(t, c, r.Cell(i))
		}
		assert.Equal(t, sheet.Cell{}, r.Cell(len(cells)))
		assert.Equal(t, 7, r.Number)
	})
}
