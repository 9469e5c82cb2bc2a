package routing_test

import (
	"cmp"
	"context"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
)

// span is a round of a handler from the start of loading until his vehicle is back.
type span struct {
	route    string
	from, to time.Duration
}

// spans are the rounds of each handler in a shift by the timetable alone, in net time:
// loading precedes the departure, and the rest of the round follows it.
func spans(in routing.Input, p routing.Plan, shift *plant.Shift) map[string][]span {
	list := map[string][]span{}
	for _, r := range p.Routes {
		loading := time.Duration(r.LoadPlanned * float64(in.Index.Vehicles[r.Vehicle].LoadTime))
		for _, t := range r.Timetable {
			if t.Shift != shift.Shift {
				continue
			}
			for _, d := range t.Departures {
				begins := shift.Passed(d) - loading
				list[r.Handler] = append(list[r.Handler], span{r.Route, begins, begins + r.Round})
			}
		}
	}
	return list
}

// apart wants spans that do not overlap, but for errors of a microsecond.
func apart(t require.TestingT, list []span, what string) {
	slices.SortFunc(list, func(a, b span) int { return cmp.Compare(a.from, b.from) })
	for i := 1; i < len(list); i++ {
		require.LessOrEqual(t, list[i-1].to, list[i].from+time.Microsecond, "%s is on %v and %v at once", what, list[i-1], list[i])
	}
}

// TestHandlersDoOneThingAtATime: nobody loads a round while he still drives another, in
// any shift by the timetable, and on any day by the clock, breaks and the nights on
// which the clocks change included.
func TestHandlersDoOneThingAtATime(t *testing.T) {
	t.Parallel()
	berlin, err := time.LoadLocation("Europe/Berlin")
	require.NoError(t, err)
	rapid.Check(t, func(rt *rapid.T) {
		in := drawInput(rt)
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(rt, "loading"), 3))
		for i := range in.Index.Plant.Vehicles { // loads that take long, and not alike
			in.Index.Plant.Vehicles[i].LoadTime = time.Duration(1+r.IntN(20)) * time.Second
		}
		p := routing.Routes(context.Background(), in, routing.Settings{Steps: 5}, 1, 2, nil)
		for i := range in.Index.Plant.Shifts {
			for handler, list := range spans(in, p, &in.Index.Plant.Shifts[i]) {
				apart(rt, list, "handler "+handler+" in a shift")
			}
		}
		byClock(rt, in, p, demand.Occurrences(in.Index.Plant.Shifts, time.Date(2026, 3, 27, 0, 0, 0, 0, time.UTC), berlin, 4))
		byClock(rt, in, p, demand.Occurrences(in.Index.Plant.Shifts, time.Date(2026, 10, 23, 0, 0, 0, 0, time.UTC), berlin, 4))
	})
}

// byClock is the same for the rounds of each working of a shift.
func byClock(t require.TestingT, in routing.Input, p routing.Plan, workings []demand.Occurrence) {
	for _, o := range workings {
		list := map[string][]span{}
		for _, r := range p.Routes {
			for _, x := range r.Rounds(in.Index.Vehicles[r.Vehicle], in.Index.Plant.Shifts, []demand.Occurrence{o}) {
				list[r.Handler] = append(list[r.Handler], span{r.Route, x.Loads.Sub(o.Day), x.Back.Sub(o.Day)})
			}
		}
		for handler, rounds := range list {
			apart(t, rounds, "handler "+handler+" on a day")
		}
	}
}
