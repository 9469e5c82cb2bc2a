package routing

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"lanewright/planner/plant"
)

func clock(hours, minutes int) time.Duration {
	return time.Duration(hours)*time.Hour + time.Duration(minutes)*time.Minute
}

func TestTimetable(t *testing.T) {
	t.Parallel()
	day := plant.Shift{Shift: "day", Start: clock(6, 0), End: clock(14, 30), Breaks: []plant.Break{{Start: clock(10, 0), Length: 30 * time.Minute}}}
	night := plant.Shift{Shift: "night", Start: clock(22, 0), End: clock(30, 0), Breaks: []plant.Break{{Start: clock(26, 0), Length: 20 * time.Minute}}}
	for _, c := range []struct {
		name                    string
		shift                   plant.Shift
		offset, interval, round time.Duration
		want                    []time.Duration
	}{
		{"a departure on the start of lunch leaves at its end", day, 0, 2 * time.Hour, time.Hour,
			[]time.Duration{clock(6, 0), clock(8, 0), clock(10, 30), clock(12, 30)}},
		{"net time stands still at lunch", day, 0, 90 * time.Minute, time.Hour,
			[]time.Duration{clock(6, 0), clock(7, 30), clock(9, 0), clock(11, 0), clock(12, 30)}},
		{"a round may last over lunch", day, 0, 150 * time.Minute, time.Hour,
			[]time.Duration{clock(6, 0), clock(8, 30), clock(11, 30)}},
		{"the last round may end with the shift", day, 0, 4 * time.Hour, 4 * time.Hour,
			[]time.Duration{clock(6, 0), clock(10, 30)}},
		{"and not after it", day, 0, 4 * time.Hour, 4*time.Hour + 1,
			[]time.Duration{clock(6, 0)}},
		{"after the other routes of the handler", day, 17 * time.Minute, 4 * time.Hour, time.Hour,
			[]time.Duration{clock(6, 17), clock(10, 47)}},
		{"past midnight", night, 0, 2 * time.Hour, time.Hour,
			[]time.Duration{clock(22, 0), clock(24, 0), clock(26, 20), clock(28, 20)}},
		{"no round ends in the shift", day, 0, 9 * time.Hour, 9 * time.Hour, nil},
		{"an interval of nothing never leaves", day, 0, 0, time.Minute, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := timetable([]plant.Shift{c.shift}, parking{}, c.offset, c.interval, c.round)
			assert.Equal(t, []ShiftTimes{{Shift: c.shift.Shift, Departures: c.want}}, got)
		})
	}
}

func TestTimetableStartsAnewInEachShift(t *testing.T) {
	t.Parallel()
	early := plant.Shift{Shift: "early", Start: clock(6, 0), End: clock(10, 0)}
	late := plant.Shift{Shift: "late", Start: clock(10, 0), End: clock(14, 0)}
	got := timetable([]plant.Shift{early, late}, parking{}, 0, 3*time.Hour, time.Hour)
	assert.Equal(t, []ShiftTimes{
		{"early", []time.Duration{clock(6, 0), clock(9, 0)}},
		{"late", []time.Duration{clock(10, 0), clock(13, 0)}},
	}, got)
}

func TestLetters(t *testing.T) {
	t.Parallel()
	for i, want := range map[int]string{0: "A", 25: "Z", 26: "AA", 27: "AB", 51: "AZ", 52: "BA", 701: "ZZ", 702: "AAA"} {
		assert.Equal(t, want, letters(i))
	}
}
