package routing_test

import (
	"context"
	"fmt"
	"math"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
)

// TestParking: the cart stands at P3, 30 m from the market: its round of 6 min leaves
// after a minute of net time, and the last one leaves the time to go back.
func TestParking(t *testing.T) {
	t.Parallel()
	y := newYard().rack("R2", "P4", 6).rack("R1", "P2", 4)
	y.p.Vehicles[0].Parking = "P3"
	y.p.Shifts = []plant.Shift{{Shift: "day", Days: plant.DefaultShift().Days, Start: 6 * time.Hour, End: 8*time.Hour + 8*time.Minute}}
	p := y.routes(t)
	require.Len(t, p.Routes, 1)
	assert.Equal(t, []time.Duration{6*time.Hour + time.Minute, 7*time.Hour + time.Minute, 8*time.Hour + time.Minute}, p.Routes[0].Timetable[0].Departures,
		"6.5 min of round and 30 s of way end with the shift")
	y.p.Shifts[0].End -= time.Minute
	assert.Len(t, y.routes(t).Routes[0].Timetable[0].Departures, 2)
}

func TestParkingThatIsNotReached(t *testing.T) {
	t.Parallel()
	y := newYard().rack("R1", "P1", 4)
	y.p.Aisles[3].OneWay = true
	y.p.Vehicles[0].Parking = "P5"
	p := y.routes(t)
	f := byCode(t, p, routing.CodeParking)
	assert.Equal(t, finding.Warning, f.Severity)
	assert.Equal(t, plant.DefaultShift().Start, p.Routes[0].Timetable[0].Departures[0])
}

// narrow is a yard whose aisle from the market to P1 is single file, with so many
// full rounds at an interval of 30 min that each handler drives one.
func narrow(rounds int) *yard {
	y := newYard()
	for i := range rounds {
		y.rack(plant.RackCode(fmt.Sprintf("R%02d", i)), "P2", 36)
	}
	for i := range y.demands {
		y.demands[i].Interval = 30 * time.Minute
	}
	y.p.Vehicles[0].Count, y.p.Vehicles[0].StopTime = rounds, 8*time.Minute
	y.p.Aisles[0].SingleFile = true
	return y
}

// TestRoundsDoNotMeet: each round is in the narrow aisle for 10 s after it leaves and
// for 10 s before it is back. Both handlers could begin with the shift; one waits.
func TestRoundsDoNotMeet(t *testing.T) {
	t.Parallel()
	y := narrow(2)
	p := y.routes(t)
	require.Len(t, p.Routes, 2)
	require.Equal(t, 2, p.Bounds.Handlers)
	assert.Empty(t, meetings(p, y))
	first, second := p.Routes[0].Timetable[0].Departures[0], p.Routes[1].Timetable[0].Departures[0]
	assert.NotEqual(t, first, second)
	for _, f := range p.Findings {
		assert.NotEqual(t, routing.CodeMeetInAisle, f.Code)
	}
	y.p.Aisles[0].SingleFile = false
	p = y.routes(t)
	assert.Equal(t, p.Routes[0].Timetable[0].Departures[0], p.Routes[1].Timetable[0].Departures[0], "nothing to keep apart")
}

// TestRoundsThatMustMeet: with a room of a few minutes twelve handlers can not all
// keep apart; those that meet are named.
func TestRoundsThatMustMeet(t *testing.T) {
	t.Parallel()
	y := narrow(12)
	y.p.Vehicles[0].StopTime = 17 * time.Minute
	p := y.routes(t)
	require.Equal(t, 12, p.Bounds.Handlers)
	f := byCode(t, p, routing.CodeMeetInAisle)
	assert.Equal(t, finding.Warning, f.Severity)
	assert.Equal(t, float64(len(meetings(p, y))), f.Measure.Value)
}

// meetings reckons, from the departures alone, which rounds are in the aisle from the
// market to P1 at the same time: a second judge that expands a day.
func meetings(p routing.Plan, y *yard) []string {
	speed := y.p.Vehicles[0].Speed.MPS()
	type in struct {
		route, handler string
		from, to       float64
	}
	var all []in
	for _, r := range p.Routes {
		for _, d := range r.Timetable[0].Departures {
			s := d.Seconds()
			// The way back begins when the last stop has been served at its mean load.
			last := r.Stops[len(r.Stops)-1]
			v := y.p.Vehicles[0]
			served := last.Arrive.Seconds() + v.StopTime.Seconds() + last.Containers*v.UnloadTime.Seconds() + last.Empties*v.EmptyTime.Seconds()
			all = append(all, in{r.Route, r.Handler, s, s + 10/speed}, in{r.Route, r.Handler, s + served + 10/speed, s + served + 20/speed})
		}
	}
	var met []string
	for i, a := range all {
		for _, b := range all[i+1:] {
			if a.handler != b.handler && math.Max(a.from, b.from) < math.Min(a.to, b.to)-1e-6 {
				met = append(met, a.route+b.route)
			}
		}
	}
	slices.Sort(met)
	return slices.Compact(met)
}

func TestMarketPlaces(t *testing.T) {
	t.Parallel()
	y := narrow(3)
	y.p.Aisles[0].SingleFile = false
	y.p.Vehicles[0].LoadTime = 2 * time.Second
	p := y.routes(t)
	assert.Equal(t, finding.Note, byCode(t, p, routing.CodeMarketFull).Severity)
	y.p.AislePoints[0].Places = 3
	for _, f := range y.routes(t).Findings {
		assert.NotEqual(t, routing.CodeMarketFull, f.Code, "three may load at once")
	}
	y.p.AislePoints[0].Places = 1
	p = y.routes(t)
	for _, f := range p.Findings {
		assert.NotEqual(t, routing.CodeMarketFull, f.Code, "they begin a minute apart")
	}
	y = narrow(12)
	y.p.Aisles[0].SingleFile, y.p.Vehicles[0].StopTime = false, 17*time.Minute
	y.p.AislePoints[0].Places = 1
	f := byCode(t, y.routes(t), routing.CodeMarketFull)
	assert.Equal(t, finding.Warning, f.Severity)
}

// TestUnreachableSaysWhatHelps names the one change after which a round gets there.
func TestUnreachableSaysWhatHelps(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name    string
		change  func(y *yard)
		summary string
		remedy  string
	}{
		{"one way", func(y *yard) { y.p.Aisles[1].OneWay = true }, "gets to aisle point P2, but from there not back to its market M", "To get back: let the aisle between P1 and P2 be driven from P2 to P1 too."},
		{"closed", func(y *yard) {
			y.p.RouteRules = []plant.RouteRule{{Kind: plant.RuleClosed, From: "P1", To: "P2"}}
		}, "gets neither to aisle point P2 nor from there", "To get there: open the closed aisle from P1 to P2. To get back: open the closed aisle from P2 to P1."},
		{"for people", func(y *yard) { y.p.Aisles[1].Traffic = plant.OnlyWalkers }, "gets neither", "open the aisle from P1 to P2 to this vehicle type"},
		{"no aisle", func(y *yard) { y.p.Aisles = append(y.p.Aisles[:1:1], y.p.Aisles[2:]...) }, "gets neither", "add an aisle from P1 to P2, 10 m"},
		{"a turn", func(y *yard) {
			y.p.Turns = []plant.Turn{{From: "M", At: "P1", To: "P2"}, {From: "M", At: "P1", To: "M"}}
		}, "does not get to aisle point P2", "allow one of the turns on the way"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			y := newYard().rack("R1", "P2", 3)
			c.change(y)
			p := routing.Routes(context.Background(), input(y.p, y.racks, y.demands), routing.DefaultSettings(), 1, 1, nil)
			f := byCode(t, p, routing.CodeStopUnreachable)
			assert.Contains(t, f.Summary, c.summary)
			assert.Contains(t, f.Remedy, c.remedy)
			assert.Equal(t, "CART", f.Subject.Vehicle)
		})
	}
}

func TestTurnAtStop(t *testing.T) {
	t.Parallel()
	y := newYard().rack("R1", "P2", 3)
	y.p.Aisles[1].NoTurning = true
	f := byCode(t, y.routes(t), routing.CodeTurnAtStop)
	assert.Contains(t, f.Summary, "after stopping at R1")
	y.p.Vehicles[0].OnFoot = true
	assert.Empty(t, y.routes(t).Findings, "who walks turns as he likes")
}

// TestRules: R1 and R2 need one route every hour, R3 one every half hour.
func TestRules(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		rules []plant.RouteRule
		// routes are how many there are then, says what is reported.
		routes int
		says   string
	}{
		{"apart", []plant.RouteRule{{Kind: plant.RuleApart, Rack: "R2", Other: "R1"}}, 3, ""},
		{"before", []plant.RouteRule{{Kind: plant.RuleBefore, Rack: "R2", Other: "R1"}}, 2, ""},
		{"each before the other", []plant.RouteRule{{Kind: plant.RuleBefore, Rack: "R1", Other: "R2"}, {Kind: plant.RuleBefore, Rack: "R2", Other: "R1"}}, 3, ""},
		{"pinned to two routes", []plant.RouteRule{{Kind: plant.RulePin, Rack: "R1", Route: "x"}, {Kind: plant.RulePin, Rack: "R2", Route: "y"}}, 3, ""},
		{"pinned to one, and of two intervals", []plant.RouteRule{{Kind: plant.RulePin, Rack: "R1", Route: "x"}, {Kind: plant.RulePin, Rack: "R3", Route: "x"}}, 2, "Racks pinned to route x are on routes"},
		{"pinned to one, and apart", []plant.RouteRule{{Kind: plant.RulePin, Rack: "R1", Route: "x"}, {Kind: plant.RulePin, Rack: "R2", Route: "x"}, {Kind: plant.RuleApart, Rack: "R1", Other: "R2"}}, 3, "Racks pinned to route x are on routes"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			y := newYard().rack("R1", "P1", 3).rack("R2", "P2", 3).rack("R3", "P3", 3)
			y.demands[2].Interval = 30 * time.Minute
			y.p.RouteRules = c.rules
			p := y.routes(t)
			assert.Len(t, p.Routes, c.routes)
			if c.says == "" {
				assert.False(t, slices.ContainsFunc(p.Findings, codeIs(routing.CodeRuleBroken)), p.Findings)
				assert.Empty(t, broken(c.rules, p))
				return
			}
			f := byCode(t, p, routing.CodeRuleBroken)
			assert.Contains(t, f.Summary, c.says)
			assert.Equal(t, finding.Warning, f.Severity)
		})
	}
}

// TestToday judges two routes of today by hand: one as in TestOneRoute, one of 24
// containers, more than the 18 that may be planned.
func TestToday(t *testing.T) {
	t.Parallel()
	y := newYard().rack("R2", "P4", 6).rack("R1", "P2", 4).rack("R3", "P1", 12).rack("R4", "P1", 12).rack("R5", "P1", 1)
	y.p.CurrentRoutes = []plant.CurrentStop{
		{Route: "1", Order: 2, Rack: "R2"}, {Route: "1", Order: 1, Rack: "R1", Vehicle: "CART"},
		{Route: "2", Order: 1, Rack: "R3"}, {Route: "2", Order: 2, Rack: "R4"}, {Route: "2", Order: 3, Rack: "R9"},
	}
	in := input(y.p, y.racks, y.demands)
	today := routing.JudgeToday(in, 1)
	require.Len(t, today.Routes, 2)
	one, two := today.Routes[0], today.Routes[1]
	assert.Equal(t, "1", one.Route.Route)
	assert.Equal(t, plant.RackCode("R1"), one.Stops[0].Rack)
	assert.Equal(t, 390*time.Second, one.Round)
	assert.Equal(t, 80*metre, one.Travel)
	assert.Empty(t, one.Over)
	require.Len(t, two.Over, 1)
	assert.Equal(t, "containers", two.Over[0].Unit)
	assert.InDelta(t, 24, two.Over[0].Value, 1e-6)
	assert.InDelta(t, 18, two.Over[0].Limit, 1e-9)
	assert.Equal(t, []plant.RackCode{"R9"}, two.Unknown)
	assert.Equal(t, []plant.RackCode{"R5"}, today.Lacking)
	assert.Equal(t, 1, today.Handlers)
	assert.InDelta(t, 100, routing.MetresPerHour([]routing.Route{one.Route, two.Route}), 1e-9)

	p := y.routes(t)
	assert.Equal(t, "2", byCode(t, p, routing.CodeTodayDoesNotFit).Subject.Route)
	assert.Contains(t, byCode(t, p, routing.CodeTodayLacksRack).Summary, "R5")
	assert.Contains(t, byCode(t, p, routing.CodeTodayCompared).Summary, "Today 2 routes drive 100 m an hour with 1 handler")
}

func TestTodayAtAnIntervalOfItsOwn(t *testing.T) {
	t.Parallel()
	y := newYard().rack("R1", "P1", 12).rack("R2", "P1", 12)
	y.p.CurrentRoutes = []plant.CurrentStop{{Route: "1", Order: 1, Rack: "R1", Interval: 30 * time.Minute}, {Route: "1", Order: 2, Rack: "R2"}}
	today := routing.JudgeToday(input(y.p, y.racks, y.demands), 1)
	assert.Empty(t, today.Routes[0].Over, "12 containers every half hour")
	assert.Equal(t, 30*time.Minute, today.Routes[0].Interval)
	y.p.Aisles[0].OneWay = true
	today = routing.JudgeToday(input(y.p, y.racks, y.demands), 1)
	assert.Equal(t, []plant.RackCode{"R1", "R2"}, today.Routes[0].Apart)
	assert.Equal(t, []plant.RackCode{"R1", "R2"}, today.Lacking)
}

// TestTodayOfAPlanIsThePlan: the routes that a plan chose, given back as today's,
// fit and cost the same.
func TestTodayOfAPlanIsThePlan(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in := drawInput(t)
		p := routing.Routes(context.Background(), in, routing.Settings{Steps: 1}, 1, 1, nil)
		whole := map[plant.RackCode]int{}
		for _, r := range p.Routes {
			for _, s := range r.Stops {
				whole[s.Rack]++
			}
		}
		kept := map[string]routing.Route{}
		for _, r := range p.Routes {
			if slices.ContainsFunc(r.Stops, func(s routing.Stop) bool { return whole[s.Rack] > 1 || len(s.Loops) < loopsOn(in, s.Rack) }) {
				continue // a rack that is split is no row of today's routes
			}
			kept[r.Route] = r
			for i, s := range r.Stops {
				in.Index.Plant.CurrentRoutes = append(in.Index.Plant.CurrentRoutes, plant.CurrentStop{Route: plant.TourCode(r.Route), Order: i + 1, Rack: s.Rack, Vehicle: r.Vehicle, Interval: r.Interval})
			}
		}
		today := routing.JudgeToday(in, 2)
		require.Len(t, today.Routes, len(kept))
		for _, r := range today.Routes {
			want := kept[r.Route.Route]
			require.Empty(t, r.Over)
			require.Equal(t, want.Round, r.Round)
			require.Equal(t, want.Travel, r.Travel)
			require.Equal(t, want.Stops, r.Stops)
		}
	})
}

func loopsOn(in routing.Input, rack plant.RackCode) int {
	n := 0
	for _, d := range in.Demands {
		if d.Rack == rack {
			n++
		}
	}
	return n
}
