package costing_test

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"lanewright/planner/costing"
	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/sizing"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// weekdays are Monday to Friday.
var weekdays = [7]bool{false, true, true, true, true, true, false}

// works is a small plant whose cost is worked out by hand. Early has 8 h less
// half an hour of break, late 7.5 h with none, both five days a week.
//
//	H1 drives in both shifts, H2 in the early one: (7.5 + 7.5 + 7.5) h · 5 d · 48 w
//	= 5400 h at 30; two vehicles in the early shift.
//	2 racks of 1500 over 10 years; 2 · 1.5 m · 1 m = 3 m² at 120.
//	4 containers of 20 pieces, 1 a minute, R = L = 20 min: 80 − 10 − 30 = 40 pieces
//	on hand at 6.50 = 260; 8 % of it 20.80.
func works() costing.Input {
	s := plant.DefaultSettings()
	s.Prices = plant.Prices{
		HandlerHour: 30 * units.Unit, VehicleYear: 4000 * units.Unit, RackYears: units.Int(10),
		FloorYear: 120 * units.Unit, StockInterest: units.R(8, 100),
	}
	p := &plant.Plant{
		Settings: s,
		Shifts: []plant.Shift{
			{Shift: "early", Days: weekdays, Start: 6 * time.Hour, End: 14 * time.Hour,
				Breaks: []plant.Break{{Start: 9 * time.Hour, Length: 30 * time.Minute}}},
			{Shift: "late", Days: weekdays, Start: 14 * time.Hour, End: 21*time.Hour + 30*time.Minute},
		},
		Parts: []plant.Part{{Part: "LENS", Pack: 20, UnitCost: 6*units.Unit + units.Unit/2}},
	}
	flow := &plant.RackType{RackType: "flow", Width: 1500 * units.Millimetre, Depth: units.Metre, Cost: 1500 * units.Unit}
	return costing.Input{
		Plant: s, Index: plant.NewIndex(p),
		Loops: []sizing.Loop{{
			Loop: demand.Loop{
				Key: demand.Key{Part: "LENS", Cell: "C1", Station: "S1"}, Pack: 20, Rate: units.Int(1),
				Interval: 20 * time.Minute, Response: 20 * time.Minute,
			},
			Containers: 4,
		}},
		Racks:  []structure.Rack{{Rack: "R1", Type: flow}, {Rack: "R2", Type: flow}},
		Routes: []routing.Route{route("A", "H1", "early", "late"), route("B", "H1", "early"), route("C", "H2", "early")},
	}
}

func route(name, handler string, shifts ...plant.ShiftCode) routing.Route {
	r := routing.Route{Route: name, Handler: handler, Vehicle: "TRAIN"}
	for _, s := range shifts {
		r.Timetable = append(r.Timetable, routing.ShiftTimes{Shift: s, Departures: []time.Duration{6 * time.Hour}})
	}
	return r
}

func TestAShiftWithoutDeparturesIsNotStaffed(t *testing.T) {
	t.Parallel()
	in := works()
	in.Routes[0].Timetable[1].Departures = nil
	assert.Equal(t, "3600", costing.Year(in).Line(costing.Handlers).Quantity.String(), "2 · 7.5 h · 5 d · 48 w")
}

func TestVehiclesAtOnce(t *testing.T) {
	t.Parallel()
	cases := map[string]struct {
		bend func(*costing.Input)
		want string
	}{
		"one after the other": {func(in *costing.Input) {
			in.Routes = []routing.Route{route("A", "H1", "early", "late")}
		}, "1"},
		"shifts that overlap": {func(in *costing.Input) {
			in.Index.Shifts["late"].Start = 13 * time.Hour
			in.Routes = []routing.Route{route("A", "H1", "early", "late")}
		}, "2"},
		"a night past the week's end": {func(in *costing.Input) {
			late, early := in.Index.Shifts["late"], in.Index.Shifts["early"]
			late.Days, late.Start, late.End = [7]bool{time.Saturday: true}, 22*time.Hour, 31*time.Hour
			early.Days = [7]bool{time.Sunday: true}
			in.Routes = []routing.Route{route("A", "H1", "early", "late")}
		}, "2"},
		"two types": {func(in *costing.Input) {
			cart := route("B", "H2", "late")
			cart.Vehicle = "CART"
			in.Routes = []routing.Route{route("A", "H1", "early"), cart}
		}, "2"},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			in := works()
			c.bend(&in)
			assert.Equal(t, c.want, costing.Year(in).Line(costing.Vehicles).Quantity.String())
		})
	}
}

// Each price that is taken away makes its own line unknown and the total partial;
// what is left is summed.
func TestMissingPricesAreSaid(t *testing.T) {
	t.Parallel()
	whole := costing.Year(works())
	assert.False(t, whole.Partial())
	cases := map[costing.Kind]func(*costing.Input){
		costing.Handlers: func(in *costing.Input) { in.Plant.Prices.HandlerHour = 0 },
		costing.Vehicles: func(in *costing.Input) { in.Plant.Prices.VehicleYear = 0 },
		costing.Racks:    func(in *costing.Input) { in.Racks[0].Type.Cost = 0 },
		costing.Floor:    func(in *costing.Input) { in.Plant.Prices.FloorYear = 0 },
		costing.Stock:    func(in *costing.Input) { in.Plant.Prices.StockInterest = units.Ratio{} },
	}
	for kind, bend := range cases {
		t.Run(string(kind), func(t *testing.T) {
			t.Parallel()
			in := works()
			bend(&in)
			cost := costing.Year(in)
			assert.True(t, cost.Partial())
			for _, l := range cost.Lines {
				assert.Equal(t, l.Kind != kind, l.Known(), l.Kind)
			}
			assert.Zero(t, cost.Line(kind).Amount)
			assert.Equal(t, whole.Total-whole.Line(kind).Amount, cost.Total)
		})
	}
}

func TestOneRackOrPartWithoutAPriceLeavesTheOthers(t *testing.T) {
	t.Parallel()
	in := works()
	in.Racks = append(in.Racks, structure.Rack{Rack: "R3", Type: &plant.RackType{Width: units.Metre, Depth: units.Metre}})
	other := in.Loops[0]
	other.Part = "SEAL"
	in.Loops = append(in.Loops, other)
	cost := costing.Year(in)
	racks, stock := cost.Line(costing.Racks), cost.Line(costing.Stock)
	assert.Equal(t, []int{3, 1, 2, 1}, []int{racks.Items, racks.Unpriced, stock.Items, stock.Unpriced})
	assert.Equal(t, "300", racks.Amount.String())
	assert.Equal(t, "20.8", stock.Amount.String())
	assert.Equal(t, "4", cost.Line(costing.Floor).Quantity.String(), "a rack without a cost takes floor all the same")
}

// Thirds add up: amounts are rounded once each, the total once.
func TestTotalIsExactToTheMillionth(t *testing.T) {
	t.Parallel()
	in := works()
	in.Plant.Prices.RackYears = units.Int(7)
	cost := costing.Year(in)
	assert.Equal(t, "428.571429", cost.Line(costing.Racks).Amount.String(), "3000 / 7")
	assert.Equal(t, "170809.371429", cost.Total.String())
}

func TestAnEmptyPlanCostsNothing(t *testing.T) {
	t.Parallel()
	cost := costing.Year(costing.Input{Plant: plant.DefaultSettings(), Index: plant.NewIndex(&plant.Plant{})})
	assert.False(t, cost.Partial(), "there is nothing without a price")
	assert.Zero(t, cost.Total)
	assert.Len(t, cost.Lines, 5)
}

func TestOnHandOfALoopWithoutUse(t *testing.T) {
	t.Parallel()
	l := works().Loops[0]
	l.Rate = units.Ratio{}
	assert.Equal(t, "80", costing.OnHand(l).String())
	l.Rate = units.Int(100)
	assert.Equal(t, "0", costing.OnHand(l).String(), "never below 0")
}

// TestSumsOfManyLoopsStayShort: rates from a history have denominators of their own,
// and their exact sum would have the digits of all of them.
func TestSumsOfManyLoopsStayShort(t *testing.T) {
	t.Parallel()
	in := works()
	first := in.Loops[0]
	for i := range int64(5000) {
		l := first
		l.Rate = units.R(1, 10_007+2*i)
		in.Loops = append(in.Loops, l)
	}
	assert.Less(t, len(costing.Pieces(in.Loops).String()), 20)
	assert.Less(t, len(costing.Year(in).Line(costing.Stock).Quantity.String()), 20)
	exact := costing.OnHand(in.Loops[17]).Float64()
	assert.InDelta(t, exact, costing.Pieces(in.Loops[17:18]).Float64(), 5e-7)
}

// TestOnHandAgainstPlay plays steady loops minute by minute with whole containers
// and compares the mean on hand with the formula; the containers are those of the
// rule or more, so that nobody waits.
func TestOnHandAgainstPlay(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		l := works().Loops[0]
		l.Pack = int64(rapid.IntRange(3, 30).Draw(t, "pack"))
		// A prime interval meets every phase of the use.
		interval := rapid.SampledFrom([]int{7, 13, 29, 41}).Draw(t, "interval")
		l.Interval = time.Duration(interval) * time.Minute
		response := rapid.IntRange(1, 60).Draw(t, "response")
		l.Response = time.Duration(response) * time.Minute
		if l.Pack%int64(interval) == 0 {
			l.Pack++
		}
		need := units.Int(int64(interval + response)).Div(units.Int(l.Pack)).Ceil()
		l.Containers = int(need) + 1 + rapid.IntRange(0, 3).Draw(t, "more")
		got := play(int(l.Pack), l.Containers, interval, response)
		assert.LessOrEqual(t, math.Abs(got-costing.OnHand(l).Float64()), 1.0, "a piece or a minute is not divided in the play")
	})
}

// play uses one piece a minute and returns the mean number of pieces on hand.
func play(pack, containers, interval, response int) float64 {
	onHand, signals, sum := pack*containers, 0, 0
	due := map[int]int{}
	const minutes = 200_000
	for m := range minutes {
		onHand += due[m] * pack
		delete(due, m)
		if m%interval == 0 && signals > 0 {
			due[m+response] += signals
			signals = 0
		}
		onHand--
		if (m+1)%pack == 0 {
			signals++
		}
		sum += onHand
	}
	return float64(sum) / minutes
}
