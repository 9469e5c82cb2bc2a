package routing_test

import (
	"context"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/units"
)

// TestWhyByHand: 10 + 8 and 9 + 9 containers fill two rounds of 18; nothing can change
// routes. With 2 containers less on one, the other's rack at the same point can come
// over and saves nothing.
func TestWhyByHand(t *testing.T) {
	t.Parallel()
	y := newYard().rack("R1", "P1", 12).rack("R2", "P5", 12).rack("R3", "P3", 2)
	in := input(y.p, y.racks, y.demands)
	p := y.routes(t)
	require.Len(t, p.Routes, 2)
	why := routing.NewReasons(in, p, 1).Rack("R3")
	require.Len(t, why, 1)
	w := why[0]
	far := slices.IndexFunc(p.Routes, func(r routing.Route) bool {
		return slices.ContainsFunc(r.Stops, func(s routing.Stop) bool { return s.Rack == "R2" })
	})
	assert.Equal(t, p.Routes[far].Route, w.Route, "R3 lies on the way to R2")
	assert.Zero(t, w.Saved)
	assert.Equal(t, 30*time.Second+2*25*time.Second, w.SavedTime, "a stop and two containers with their empties")
	require.Len(t, w.Others, 1)
	assert.Empty(t, w.Others[0].Forbidden)
	assert.Equal(t, 40*metre, w.Others[0].More, "from P1 to P3 and back")
	assert.Equal(t, 40*time.Second, w.Others[0].MoreTime)

	other := routing.NewReasons(in, p, 1).Rack("R1")[0].Others[0]
	require.NotNil(t, other.Over)
	assert.Equal(t, "containers", other.Over.Unit)
	assert.InDelta(t, 26, other.Over.Value, 1e-6)
	assert.Contains(t, other.Forbidden, "a round would need 26 containers, and 18 may be planned")
}

func TestWhyNot(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		change func(y *yard)
		says   string
	}{
		{"the other is driven less often", func(y *yard) { y.demands[0].Interval = 30 * time.Minute }, "it is driven only every 60 min"},
		{"other shifts", func(y *yard) {
			y.p.Shifts = []plant.Shift{{Shift: "early", Start: 6 * time.Hour, End: 14 * time.Hour}, {Shift: "late", Start: 14 * time.Hour, End: 22 * time.Hour}}
			y.p.Cells = append(y.p.Cells, plant.Cell{Cell: "MAST", Shifts: []plant.ShiftCode{"late"}})
			y.racks[1].Cell = "MAST"
		}, "it works other shifts"},
		{"a rule keeps them apart", func(y *yard) {
			y.demands[0].Rate, y.demands[1].Rate = 12.0/60, 12.0/60
			y.p.RouteRules = []plant.RouteRule{{Kind: plant.RuleApart, Rack: "R2", Other: "R1"}}
		}, "a rule keeps it apart from rack R2"},
		{"pinned elsewhere", func(y *yard) {
			y.demands[0].Rate, y.demands[1].Rate = 12.0/60, 12.0/60
			y.p.RouteRules = []plant.RouteRule{{Kind: plant.RulePin, Rack: "R1", Route: "1"}, {Kind: plant.RulePin, Rack: "R2", Route: "2"}}
		}, "a rule pins it to route 1"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			y := newYard().rack("R1", "P1", 4).rack("R2", "P2", 4)
			c.change(y)
			p := y.routes(t)
			require.Len(t, p.Routes, 2)
			why := routing.NewReasons(input(y.p, y.racks, y.demands), p, 1).Rack("R1")
			require.Len(t, why, 1)
			assert.Contains(t, why[0].Others[0].Forbidden, c.says)
			assert.Nil(t, why[0].Others[0].Over)
		})
	}
}

// TestWhyIsTried: what is said of another route is what the routes cost when the rack is
// really moved there and all are judged anew.
func TestWhyIsTried(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in := drawInput(t)
		in.Index.Plant.CurrentRoutes = nil
		p := routing.Routes(context.Background(), in, routing.Settings{Steps: 1}, 1, 1, nil)
		if len(p.Routes) < 2 {
			return
		}
		from := rapid.IntRange(0, len(p.Routes)-1).Draw(t, "route")
		at := rapid.IntRange(0, len(p.Routes[from].Stops)-1).Draw(t, "stop")
		stop := p.Routes[from].Stops[at]
		for _, w := range routing.NewReasons(in, p, 1).Rack(stop.Rack) {
			if w.Route != p.Routes[from].Route || w.Stop != at+1 || len(stop.Loops) < loopsOn(in, stop.Rack) {
				continue
			}
			require.Len(t, w.Others, len(p.Routes)-1)
			for _, o := range w.Others {
				if o.Stop > 0 {
					tryMove(t, in, p, from, at, o)
				}
			}
		}
	})
}

// tryMove gives a plan's routes, with one stop moved, as today's and has them judged.
func tryMove(t *rapid.T, in routing.Input, p routing.Plan, from, at int, o routing.OtherRoute) {
	to := slices.IndexFunc(p.Routes, func(r routing.Route) bool { return r.Route == o.Route })
	var rows []plant.CurrentStop
	var before, after units.Length
	whole := true
	for _, i := range []int{from, to} {
		stops := slices.Clone(p.Routes[i].Stops)
		before += p.Routes[i].Travel
		if i == from {
			stops = slices.Delete(stops, at, at+1)
		} else {
			stops = slices.Insert(stops, o.Stop-1, p.Routes[from].Stops[at])
		}
		for k, s := range stops {
			whole = whole && len(s.Loops) == loopsOn(in, s.Rack)
			rows = append(rows, plant.CurrentStop{Route: plant.TourCode(p.Routes[i].Route), Order: k + 1, Rack: s.Rack, Vehicle: p.Routes[i].Vehicle, Interval: p.Routes[i].Interval})
		}
	}
	if !whole {
		return
	}
	in.Index.Plant.CurrentRoutes = rows
	defer func() { in.Index.Plant.CurrentRoutes = nil }()
	over := 0
	for _, r := range routing.JudgeToday(in, 1).Routes {
		after += r.Travel
		over += len(r.Over)
	}
	require.Equal(t, after-before, o.More, "metres of %s", o.Route)
	if o.Forbidden == "" {
		require.Zero(t, over)
	}
}

func TestWhereTimeGoes(t *testing.T) {
	t.Parallel()
	y := newYard().rack("R2", "P4", 6).rack("R1", "P2", 4)
	in := input(y.p, y.racks, y.demands)
	s, ok := routing.NewReasons(in, y.routes(t), 1).Time("A")
	require.True(t, ok)
	assert.Equal(t, routing.Spent{
		Route: "A", Driving: 80 * time.Second, Stopping: time.Minute, Loading: 100 * time.Second, Unloading: 100 * time.Second, Empties: 50 * time.Second,
		Round: 390 * time.Second, Waiting: time.Hour - 390*time.Second, Interval: time.Hour,
	}, s)
	_, ok = routing.NewReasons(in, y.routes(t), 1).Time("Z")
	assert.False(t, ok)
}

func TestTimesAddUp(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in := drawInput(t)
		p := routing.Routes(context.Background(), in, routing.Settings{Steps: 1}, 1, 1, nil)
		for _, r := range p.Routes[:min(3, len(p.Routes))] {
			s, ok := routing.NewReasons(in, p, 1).Time(r.Route)
			require.True(t, ok)
			require.Equal(t, r.Round, s.Driving+s.Stopping+s.Loading+s.Unloading+s.Empties)
			require.Equal(t, r.Interval, s.Round+s.Others+s.Waiting)
			require.GreaterOrEqual(t, min(s.Driving, s.Stopping, s.Loading, s.Unloading, s.Empties, s.Waiting), -time.Microsecond)
		}
	})
}

// TestWhyUnserved: 40 containers an hour, 18 may be planned: each change that is named is
// made, and the plan then serves the rack.
func TestWhyUnserved(t *testing.T) {
	t.Parallel()
	y := newYard().rack("R1", "P1", 40)
	y.p.Settings.IntervalChoices = nil
	in := input(y.p, y.racks, y.demands)
	p := y.routes(t)
	missing := routing.NewReasons(in, p, 1).Unserved("R1")
	require.Len(t, missing, 1)
	texts := map[string]string{}
	for _, c := range missing[0].Changes {
		texts[c.Kind] = c.Text
	}
	assert.Equal(t, "An interval of 27 min instead of 60 min lets a round serve it.", texts["interval"])
	assert.Equal(t, "Vehicle type CART with room for 45 containers instead of 20 serves it every 60 min.", texts["capacity"])
	assert.Equal(t, "Shared evenly between 3 racks, each is served every 60 min.", texts["share"])
	for _, change := range []func(){
		func() { y.demands[0].Interval = 27 * time.Minute },
		func() { y.demands[0].Interval = time.Hour; y.p.Vehicles[0].Containers = 45 },
	} {
		change()
		assert.Empty(t, y.routes(t).Unserved)
	}
	y.p.Vehicles[0].Containers = 44
	assert.NotEmpty(t, y.routes(t).Unserved)
	y.demands[0].Interval = 28 * time.Minute
	y.p.Vehicles[0].Containers = 20
	assert.NotEmpty(t, y.routes(t).Unserved)
}

func TestWhyUnreachable(t *testing.T) {
	t.Parallel()
	y := newYard().rack("R1", "P2", 4)
	y.p.Aisles[1].OneWay = true
	p := y.routes(t)
	missing := routing.NewReasons(input(y.p, y.racks, y.demands), p, 1).Unserved("R1")
	require.Len(t, missing, 1)
	require.Len(t, missing[0].Changes, 1)
	assert.Contains(t, missing[0].Changes[0].Text, "the way from P2 to P1 (10 m) is open to it in both directions")
}
