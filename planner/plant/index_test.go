package plant_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"lanewright/planner/plant"
)

// TestCellShifts: by start, then code, whatever the order of the rows.
func TestCellShifts(t *testing.T) {
	t.Parallel()
	shift := func(code plant.ShiftCode, hour int) plant.Shift {
		return plant.Shift{Shift: code, Start: time.Duration(hour) * time.Hour, End: time.Duration(hour+8) * time.Hour}
	}
	p := &plant.Plant{
		Shifts: []plant.Shift{shift("night", 22), shift("late", 14), shift("early", 6), shift("assembly", 14)},
		Cells:  []plant.Cell{{Cell: "LENS"}, {Cell: "HORN", Shifts: []plant.ShiftCode{"night", "late", "early"}}, {Cell: "SEAL", Shifts: []plant.ShiftCode{"dawn"}}},
	}
	x := plant.NewIndex(p)
	for _, c := range []struct {
		cell plant.CellCode
		want []plant.ShiftCode
	}{
		{"LENS", []plant.ShiftCode{"early", "assembly", "late", "night"}},
		{"a cell that is not there", []plant.ShiftCode{"early", "assembly", "late", "night"}},
		{"HORN", []plant.ShiftCode{"early", "late", "night"}},
		{"SEAL", nil},
	} {
		var got []plant.ShiftCode
		for _, s := range x.CellShifts(c.cell) {
			got = append(got, s.Shift)
		}
		assert.Equal(t, c.want, got, c.cell)
	}
	assert.Equal(t, plant.ShiftCode("night"), p.Shifts[0].Shift, "the facts stay as they are")
}
