package demand_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

func TestNetWeek(t *testing.T) {
	t.Parallel()
	saturday := plant.Shift{Shift: "sat", Start: 6 * h, End: 10 * h}
	saturday.Days[time.Saturday] = true
	assert.Equal(t, "0", demand.NetWeek(nil).String())
	assert.Equal(t, "2400", demand.NetWeek([]plant.Shift{plant.DefaultShift()}).String())
	assert.Equal(t, "4800", demand.NetWeek([]plant.Shift{shift("a", 6*h, 14*h), shift("b", 10*h, 18*h)}).String(), "overlapping shifts add up")
	assert.Equal(t, "2640", demand.NetWeek([]plant.Shift{plant.DefaultShift(), saturday}).String())
}

// TestCellsWithShiftsOfTheirOwn: the same 480 pieces a day of one part in several
// cells, each over the minutes that it works.
func TestCellsWithShiftsOfTheirOwn(t *testing.T) {
	t.Parallel()
	cases := []struct {
		cell   plant.CellCode
		shifts []plant.ShiftCode
		rate   string
	}{
		{"ALL", nil, "480/1590"},
		{"EARLY", []plant.ShiftCode{"early"}, "480/435"},
		{"NIGHT", []plant.ShiftCode{"night"}, "480/435"},
		{"OVER", []plant.ShiftCode{"early", "middle"}, "480/720"},
		{"SPLIT", []plant.ShiftCode{"split"}, "480/435"},
		{"NOBODY", []plant.ShiftCode{"unheard-of"}, ""},
	}
	p := lanterns()
	p.Cells = nil
	p.Shifts = []plant.Shift{
		shift("early", 6*h, 14*h, pause(9*h, 15*time.Minute), pause(12*h, 30*time.Minute)),
		shift("middle", 10*h, 15*h, pause(12*h, 15*time.Minute)),
		shift("night", 22*h, 30*h, pause(23*h+45*time.Minute, 30*time.Minute), pause(28*h, 15*time.Minute)),
		shift("split", 6*h, 20*h, pause(10*h, 5*h), pause(12*h, 4*h+45*time.Minute)),
	}
	for _, c := range cases {
		p.Cells = append(p.Cells, plant.Cell{Cell: c.cell, Shifts: c.shifts})
		p.Usage = append(p.Usage, plant.Usage{Product: "A", Part: "P", Cell: c.cell, Station: "S", PerUnit: units.Int(1)}, plant.Usage{Part: "P", Cell: c.cell, Station: "S", PerDay: units.Int(240)})
	}
	loops, findings := demand.Loops(plant.NewIndex(p), p.Settings)
	require.Len(t, loops, 5, "several points of use of one part")
	for _, l := range loops {
		for _, c := range cases {
			if c.cell == l.Cell {
				assert.True(t, units.MustRatio(c.rate).Equal(l.Rate), "%s: %s, not %s", c.cell, l.Rate, c.rate)
			}
		}
	}
	assert.Equal(t, demand.CodeNoTime, only(t, findings, demand.CodeNoTime).Code)
}

// TestRatesWhenTheClocksChange: a rate is one per net minute of the shifts as they
// stand on the clock, in any zone and on any night; what really passes is an hour
// more or less, and so many more or fewer pieces are used (last Sundays of March
// and October 2026, Directive 2000/84/EC; from memory).
func TestRatesWhenTheClocksChange(t *testing.T) {
	t.Parallel()
	night := plant.Shift{Shift: "night", Start: 22 * h, End: 30 * h, Days: [7]bool{true, true, true, true, true, true, true}}
	p := lanterns(plant.Usage{Product: "A", PerUnit: units.Int(2)})
	p.Shifts = []plant.Shift{night}
	for _, name := range []string{"UTC", "Europe/Berlin", "America/Chicago"} {
		zone, err := time.LoadLocation(name)
		require.NoError(t, err)
		p.Settings.TimeZone = name
		l := loopOf(t, p)
		assert.Equal(t, "1", l.Rate.String(), name)
		used := func(from time.Time) string {
			list := demand.Occurrences(p.Shifts, from, zone, 1)
			require.Len(t, list, 1)
			return l.Rate.Mul(units.Minutes(list[0].Net())).String()
		}
		want := map[string][]string{"UTC": {"480", "480"}, "Europe/Berlin": {"420", "540"}, "America/Chicago": {"480", "480"}}[name]
		assert.Equal(t, want[0], used(time.Date(2026, 3, 28, 0, 0, 0, 0, time.UTC)), name)
		assert.Equal(t, want[1], used(time.Date(2026, 10, 24, 0, 0, 0, 0, time.UTC)), name)
	}
}
