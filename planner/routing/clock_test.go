package routing_test

import (
	"testing"
	"time"
	_ "time/tzdata"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
)

// TestRoundsByTheClock: a night shift from 22:00 to 06:00 with a break from 01:30 to
// 02:00, rounds of 50 min every 90 min of work. When the clocks go forward at 02:00 the
// shift is an hour shorter, when they go back at 03:00 an hour longer (Directive
// 2000/84/EC, articles 2 and 3; from memory): no interval changes, only their number.
func TestRoundsByTheClock(t *testing.T) {
	t.Parallel()
	berlin, err := time.LoadLocation("Europe/Berlin")
	require.NoError(t, err)
	y := newYard().rack("R1", "P5", 15)
	y.p.Vehicles[0].StopTime = 40 * time.Minute
	y.demands[0].Interval, y.demands[0].Rate = 90*time.Minute, 10.0/90
	night := plant.Shift{Shift: "night", Start: 22 * time.Hour, End: 30 * time.Hour, Breaks: []plant.Break{{Start: 25*time.Hour + 30*time.Minute, Length: 30 * time.Minute}}}
	night.Days[time.Saturday] = true
	y.p.Shifts = []plant.Shift{night}
	p := y.routes(t)
	require.Len(t, p.Routes, 1)
	r := p.Routes[0]
	for _, c := range []struct {
		name  string
		from  time.Time
		leave []string
	}{
		{"an ordinary night", time.Date(2026, 5, 2, 0, 0, 0, 0, time.UTC), []string{"22:00 +0200", "23:30 +0200", "01:00 +0200", "03:00 +0200", "04:30 +0200"}},
		{"forward", time.Date(2026, 3, 28, 0, 0, 0, 0, time.UTC), []string{"22:00 +0100", "23:30 +0100", "01:00 +0100", "04:00 +0200"}},
		{"back", time.Date(2026, 10, 24, 0, 0, 0, 0, time.UTC), []string{"22:00 +0200", "23:30 +0200", "01:00 +0200", "02:00 +0100", "03:30 +0100", "05:00 +0100"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			list := demand.Occurrences(y.p.Shifts, c.from, berlin, 1)
			rounds := r.Rounds(&y.p.Vehicles[0], y.p.Shifts, list)
			var leave []string
			for i, x := range rounds {
				leave = append(leave, x.Leaves.Format("15:04 -0700"))
				assert.False(t, x.Loads.After(x.Leaves))
				assert.True(t, x.Back.After(x.Stops[0]) && !x.Back.After(list[0].End()), "round %d", i)
			}
			assert.Equal(t, c.leave, leave)
			// The third round leaves at 01:00 and is at its stop before the break; its 40 min
			// there last over the break of 30 min.
			assert.Equal(t, "01:00:50", rounds[2].Stops[0].Format(time.TimeOnly))
			assert.Equal(t, r.Round+30*time.Minute-100*time.Second, rounds[2].Back.Sub(rounds[2].Leaves), "loading precedes the departure")
		})
	}
}
