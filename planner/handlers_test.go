package planner_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"lanewright/planner"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
)

// TestHandlerUses: routes add up in the shifts they share, at intervals of their own;
// the fullest shift counts, and a route without a departure takes no time.
func TestHandlerUses(t *testing.T) {
	t.Parallel()
	route := func(name, handler string, round, interval time.Duration, shifts ...string) routing.Route {
		r := routing.Route{Route: name, Handler: handler, Vehicle: "cart", Round: round, Interval: interval}
		for _, s := range shifts {
			r.Timetable = append(r.Timetable, routing.ShiftTimes{Shift: plant.ShiftCode(s), Departures: []time.Duration{time.Hour}})
		}
		r.Timetable = append(r.Timetable, routing.ShiftTimes{Shift: "none"})
		return r
	}
	p := &planner.Plan{Routes: []routing.Route{
		route("A", "H1", 10*time.Minute, 40*time.Minute, "early", "late"),
		route("B", "H2", 6*time.Minute, 60*time.Minute),
		route("C", "H1", 30*time.Minute, 60*time.Minute, "early"),
		route("D", "H1", 12*time.Minute, 60*time.Minute, "late"),
	}}
	// H1: early 10/40 + 30/60 = 0.75, late 10/40 + 12/60 = 0.45.
	assert.Equal(t, []planner.HandlerUse{
		{Handler: "H1", Vehicle: "cart", Routes: []string{"A", "C", "D"}, Busy: 0.75},
		{Handler: "H2", Vehicle: "cart", Routes: []string{"B"}},
	}, p.HandlerUses())
}
