package routing_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"lanewright/planner/plant"
	"lanewright/planner/routing"
)

// TestWaitsWhereShiftsOverlap: two shifts with a round at each whole hour, the
// second from the seventh hour of the first on. In the hour that both work their
// rounds leave together, and two hours of work lie between them and the next.
func TestWaitsWhereShiftsOverlap(t *testing.T) {
	t.Parallel()
	early, late := plant.DefaultShift(), plant.DefaultShift()
	early.Shift, early.Start, early.End = "early", 6*time.Hour, 14*time.Hour
	late.Shift, late.Start, late.End = "late", 13*time.Hour, 21*time.Hour
	hours := func(s plant.Shift) routing.ShiftTimes {
		times := routing.ShiftTimes{Shift: s.Shift}
		for at := s.Start; at < s.End; at += time.Hour {
			times.Departures = append(times.Departures, at)
		}
		return times
	}
	r := routing.Route{Timetable: []routing.ShiftTimes{hours(early), hours(late)}}
	one, two := r.Waits([]plant.Shift{early, late})
	assert.Equal(t, 2*time.Hour, one)
	assert.Equal(t, 3*time.Hour, two, "the hour of both, and one of one")
}

// TestWaits: departures in net minutes of a shift of 480, by hand.
func TestWaits(t *testing.T) {
	t.Parallel()
	cases := []struct {
		name       string
		departures []time.Duration
		one, two   time.Duration
	}{
		{"every hour", []time.Duration{0, 60, 120, 180, 240, 300, 360, 420}, 60, 120},
		{"the last does not fit", []time.Duration{0, 60, 120, 180, 240, 300, 360}, 120, 180},
		{"an offset is made good by the next shift", []time.Duration{20, 120, 220, 320, 420}, 100, 200},
		{"once a shift", []time.Duration{10}, 480, 960},
		{"two, and a long night", []time.Duration{0, 200}, 280, 480},
		{"none", nil, 0, 0},
	}
	for _, c := range cases {
		s := plant.DefaultShift()
		s.Breaks = []plant.Break{{Start: s.Start + 2*time.Hour, Length: 30 * time.Minute}}
		s.End += 30 * time.Minute
		r := routing.Route{Timetable: []routing.ShiftTimes{{Shift: s.Shift}}}
		for _, d := range c.departures {
			at, ok := s.Clock(d * time.Minute)
			assert.True(t, ok)
			r.Timetable[0].Departures = append(r.Timetable[0].Departures, at)
		}
		one, two := r.Waits([]plant.Shift{s})
		assert.Equal(t, c.one*time.Minute, one, c.name)
		assert.Equal(t, c.two*time.Minute, two, c.name)
	}
}
