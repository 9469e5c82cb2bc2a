package planner_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner"
	"lanewright/planner/plant"
	"lanewright/planner/simulation"
	"lanewright/planner/units"
)

// The second judge: what sizing and routing promise, play confirms. It shares
// their types and none of their formulas.

// prove plans a plant and plays the plan.
func prove(t *testing.T, p *plant.Plant, change func(*planner.Settings)) *planner.Plan {
	t.Helper()
	s := planner.DefaultSettings(p)
	s.Prove = true
	if change != nil {
		change(&s)
	}
	plan, err := planner.Run(context.Background(), planner.Input{Plant: p}, s, planner.Options{Threads: 2})
	require.NoError(t, err)
	require.NotNil(t, plan.Proof)
	return plan
}

// TestPlansOfRandomPlantsAreProved: with every container in a lane, intervals that
// divide the shift and vehicles with room to spare, no loop of any demand model
// runs short oftener than its service level leaves, and steady loops never do.
func TestPlansOfRandomPlantsAreProved(t *testing.T) {
	t.Parallel()
	played := map[plant.DemandModel]int{}
	for seed := range uint64(12) {
		p := randomPlant(seed)
		plan := prove(t, p, nil)
		require.Empty(t, plan.Unplaced, "seed %d", seed)
		for i, l := range plan.Proof.Loops {
			loop := &plan.Loops[i]
			played[loop.Model]++
			assert.Equal(t, simulation.Proved, l.Verdict, "seed %d, %s loop %v: %+v", seed, loop.Model, l.Loop, l)
			if loop.Model == plant.SteadyModel {
				assert.Zero(t, l.ShortCycles, "seed %d, steady loop %v", seed, l.Loop)
			}
			assert.LessOrEqual(t, l.OnHandMost, l.Room, "seed %d, %v fits its lanes", seed, l.Loop)
		}
		for _, r := range plan.Proof.Routes {
			assert.Less(t, 100*(r.Late+r.Dropped), 2*r.Rounds, "seed %d, route %s is planned for a load that hardly ever is passed", seed, r.Route)
		}
	}
	for _, m := range []plant.DemandModel{plant.SteadyModel, plant.NormalModel, plant.PoissonModel, plant.NegativeBinomialModel, plant.EmpiricalModel} {
		assert.Greater(t, played[m], 30, "loops of model %s", m)
	}
}

// TestSteadyLoopsNeedWhatTheRuleSays: the least number of containers with which
// a steady loop never runs dry in any phase, found by play, is the number of the
// rule, for each of thousands of loops of random plants.
func TestSteadyLoopsNeedWhatTheRuleSays(t *testing.T) {
	t.Parallel()
	loops := 0
	for seed := range uint64(40) {
		p := randomPlant(seed)
		for i := range p.Usage {
			p.Usage[i].Model, p.Usage[i].Variation = plant.SteadyModel, units.Ratio{}
		}
		s := planner.DefaultSettings(p)
		s.Placement.Steps, s.Routing.Steps = 0, 1
		plan, err := planner.Run(context.Background(), planner.Input{Plant: p}, s, planner.Options{Threads: 2})
		require.NoError(t, err)
		for _, l := range plan.Loops {
			loops++
			assert.Equal(t, l.Containers, max(2, simulation.LeastContainers(l.Loop, 10_000)), "seed %d, %v", seed, l.Key)
		}
	}
	assert.Greater(t, loops, 2000)
}

// TestFullVehiclesAreFound: with a vehicle that holds half of what its routes were
// planned for, loops run short, and the plan names vehicle and route as the cause.
func TestFullVehiclesAreFound(t *testing.T) {
	t.Parallel()
	p := randomPlant(3)
	plan := prove(t, p, nil)
	require.NotEmpty(t, plan.Routes)
	p.Vehicles[0].Containers = max(1, int(plan.Routes[0].LoadMean/2))
	r, err := planner.Play(context.Background(), p, plan, plan.Settings.Simulation, planner.Options{Threads: 2})
	require.NoError(t, err)
	short := 0
	for i, l := range r.Loops {
		if l.Verdict != simulation.Short {
			continue
		}
		short++
		assert.Equal(t, simulation.CauseCapacity, l.Cause, "%+v", l)
		assert.Positive(t, l.LeftBehind)
		assert.NotEmpty(t, plan.Loops[i].Route)
	}
	assert.Positive(t, short)
	codes := map[string]int{}
	for _, f := range r.Findings {
		codes[f.Code]++
		assert.NotEmpty(t, f.Detail)
		assert.NotEmpty(t, f.Remedy)
	}
	assert.Equal(t, short, codes[simulation.CodeRunsShort])
	assert.Positive(t, codes[simulation.CodeVehicleFull])
}

// TestTooFewContainersAreFound: a loop that the sheet fixes below the rule runs
// short, and the play finds the number that is enough: never more than the rule.
func TestTooFewContainersAreFound(t *testing.T) {
	t.Parallel()
	p := randomPlant(5)
	rule := prove(t, p, nil)
	fixed := map[int]bool{}
	for i, l := range rule.Loops {
		if l.Rule < 5 || len(fixed) == 8 {
			continue
		}
		fixed[i] = true
		for u := range p.Usage {
			if p.Usage[u].Part == l.Part && p.Usage[u].Station == l.Station && p.Usage[u].Cell == l.Cell {
				p.Usage[u].Containers = l.Rule - 2
			}
		}
	}
	require.NotEmpty(t, fixed)
	plan := prove(t, p, nil)
	for i := range fixed {
		l := plan.Proof.Loops[i]
		if plan.Loops[i].Model != plant.SteadyModel {
			continue
		}
		assert.Equal(t, simulation.Short, l.Verdict, "%+v", l)
		assert.Equal(t, simulation.CauseContainers, l.Cause)
		assert.Greater(t, l.Enough, l.Containers)
		assert.LessOrEqual(t, l.Enough, plan.Loops[i].Rule)
	}
}

// TestGapsAtTheEndOfShiftsAreFound: 480 net minutes, a round every 200 that takes
// more than 80: the third could not end in the shift, and from the second to the
// first of the next shift it is 280 minutes. Steady loops run short there, and
// the play says so.
func TestGapsAtTheEndOfShiftsAreFound(t *testing.T) {
	t.Parallel()
	p := randomPlant(1)
	p.Vehicles[0].StopTime = 45 * time.Minute
	for i := range p.Usage {
		p.Usage[i].Model, p.Usage[i].Variation, p.Usage[i].Interval = plant.SteadyModel, units.Ratio{}, 200*time.Minute
	}
	plan := prove(t, p, nil)
	short := 0
	for _, l := range plan.Proof.Loops {
		if l.ShortCycles > 0 {
			short++
			assert.Equal(t, simulation.CauseGap, l.Cause)
		}
	}
	assert.Greater(t, short, 10)
	longest := time.Duration(0)
	for _, r := range plan.Proof.Routes {
		longest = max(longest, r.GapMost)
	}
	assert.Equal(t, 280*time.Minute, longest)
}

// TestCoveredShiftEndsAreProved: the same plant asked to cover the ends of its
// shifts has a container more where it is needed, and nobody runs short.
func TestCoveredShiftEndsAreProved(t *testing.T) {
	t.Parallel()
	p := randomPlant(1)
	p.Vehicles[0].StopTime = 45 * time.Minute
	for i := range p.Usage {
		p.Usage[i].Model, p.Usage[i].Variation, p.Usage[i].Interval = plant.SteadyModel, units.Ratio{}, 200*time.Minute
	}
	plain := prove(t, p, nil)
	covered := prove(t, p, func(s *planner.Settings) { s.CoverShiftEnds = true })
	more := 0
	for i, l := range covered.Proof.Loops {
		assert.GreaterOrEqual(t, covered.Loops[i].Containers, plain.Loops[i].Containers)
		more += covered.Loops[i].Containers - plain.Loops[i].Containers
		if l.Verdict != simulation.NotPlayed {
			assert.Zero(t, l.ShortCycles, "%+v", l)
		}
	}
	assert.Positive(t, more)
}

// randomPlant makes a plant of a few cells whose shift, intervals, racks and
// vehicles are generous: nothing but its loops can fail.
func randomPlant(seed uint64) *plant.Plant {
	g := rand.New(rand.NewPCG(seed, 1))
	p := &plant.Plant{
		Name: fmt.Sprintf("random %d", seed), Settings: plant.DefaultSettings(), Shifts: []plant.Shift{plant.DefaultShift()},
		Containers: []plant.Container{
			{Container: "S", Length: 300 * units.Millimetre, Width: 200 * units.Millimetre, Height: 150 * units.Millimetre, Returnable: true, Nests: units.Int(1), FlowSide: plant.EitherAlong, Handles: plant.FairHandles},
			{Container: "M", Length: 400 * units.Millimetre, Width: 300 * units.Millimetre, Height: 200 * units.Millimetre, Returnable: true, Nests: units.Int(1), FlowSide: plant.EitherAlong, Handles: plant.FairHandles},
		},
		AislePoints: []plant.AislePoint{{Point: "MKT", Kind: plant.Market}},
		Vehicles:    []plant.Vehicle{{Vehicle: "CART", Count: 50, Containers: 400, Speed: 2 * units.MetrePerSecond, StopTime: 5 * time.Second, LoadTime: time.Second, UnloadTime: time.Second}},
		RackTypes:   []plant.RackType{generousRack()},
	}
	if g.IntN(2) == 0 {
		p.Shifts = []plant.Shift{shiftOf("early", 6), shiftOf("late", 14)}
	}
	for c := range 2 + g.IntN(3) {
		addCell(p, plant.CellCode(fmt.Sprintf("C%d", c+1)), g)
	}
	return p
}

func shiftOf(code plant.ShiftCode, start int) plant.Shift {
	s := plant.Shift{Shift: code, Start: time.Duration(start) * time.Hour, End: time.Duration(start+8) * time.Hour}
	for d := time.Monday; d <= time.Friday; d++ {
		s.Days[d] = true
	}
	return s
}

func generousRack() plant.RackType {
	t := plant.RackType{RackType: "WIDE", Width: 4 * units.Metre, Depth: 3 * units.Metre, Height: 2 * units.Metre, Cost: 500 * units.Unit}
	for i := range 4 {
		kind, drop := plant.Supply, 120*units.Millimetre
		if i == 0 {
			kind, drop = plant.Return, -120*units.Millimetre
		}
		t.Levels = append(t.Levels, plant.Level{
			Level: i + 1, Kind: kind, PickHeight: units.Length(300+400*i) * units.Millimetre, Drop: drop,
			LaneLength: 2800 * units.Millimetre, UsableWidth: 3900 * units.Millimetre, ClearHeight: 350 * units.Millimetre,
		})
	}
	return t
}

// addCell adds a cell with racks enough, ten metres further down the aisle.
func addCell(p *plant.Plant, cell plant.CellCode, g *rand.Rand) {
	stop := plant.PointCode("A-" + cell)
	before := p.AislePoints[len(p.AislePoints)-1]
	x := before.Place.X + 10*units.Metre
	p.AislePoints = append(p.AislePoints, plant.AislePoint{Point: stop, Place: plant.Place{X: x}, Kind: plant.StopAt})
	p.Aisles = append(p.Aisles, plant.Aisle{From: before.Point, To: stop})
	p.Cells = append(p.Cells, plant.Cell{Cell: cell})
	place := plant.Place{X: x, Y: 2 * units.Metre}
	p.Stations = append(p.Stations, plant.Station{Cell: cell, Station: "10", Place: &place, WalkLimit: 50 * units.Metre})
	for r := range 4 {
		p.Racks = append(p.Racks, plant.Rack{Rack: plant.RackCode(fmt.Sprintf("%s-R%d", cell, r+1)), RackType: "WIDE", Cell: cell, AislePoint: stop, Place: &place})
	}
	interval := []time.Duration{20, 30, 40, 60, 120}[g.IntN(5)] * time.Minute
	for range 15 + g.IntN(15) {
		addUse(p, cell, interval, g)
	}
}

// addUse adds a part and its use, by any of the models.
func addUse(p *plant.Plant, cell plant.CellCode, interval time.Duration, g *rand.Rand) {
	part := plant.Part{Part: plant.PartCode(fmt.Sprintf("%d-%03d", g.IntN(9)+1, len(p.Parts))), Container: []plant.ContainerCode{"S", "M"}[g.IntN(2)], Pack: 1 + g.Int64N(60), PieceMass: 50 * units.Gram}
	models := []plant.DemandModel{plant.SteadyModel, plant.NormalModel, plant.PoissonModel, plant.NegativeBinomialModel, plant.EmpiricalModel}
	u := plant.Usage{
		Part: part.Part, Cell: cell, Station: "10", Interval: interval, Model: models[g.IntN(len(models))],
		// So many that the loop has 2 to about 12 containers.
		PerHour:      units.R(1+g.Int64N(part.Pack*600), 2*int64(interval.Minutes())),
		ServiceLevel: []units.Ratio{units.R(9, 10), units.R(95, 100), units.R(99, 100), units.R(995, 1000)}[g.IntN(4)],
	}
	switch u.Model {
	case plant.NormalModel, plant.NegativeBinomialModel:
		u.Variation = units.R(1+g.Int64N(30), 100)
	case plant.EmpiricalModel:
		daily := u.PerHour.Mul(units.Int(8 * int64(len(p.Shifts))))
		for d := range 40 {
			p.History = append(p.History, plant.History{Part: part.Part, Date: time.Date(2026, 1, 1+d, 0, 0, 0, 0, time.UTC), Units: daily.Mul(units.R(50+g.Int64N(100), 100))})
		}
	}
	p.Parts, p.Usage = append(p.Parts, part), append(p.Usage, u)
}

// TestReturnLanesHoldWhatComesBack: a rack whose return lanes the plan finds long
// enough is overfull no oftener than the plant's service level leaves, however
// tight they are.
func TestReturnLanesHoldWhatComesBack(t *testing.T) {
	t.Parallel()
	short, enough := 0, 0
	for seed := range uint64(10) {
		p := randomPlant(seed)
		p.RackTypes[0].Levels[0].UsableWidth = units.Length(450+150*seed) * units.Millimetre
		p.Settings.ServiceLevel = units.R(95, 100)
		plan := prove(t, p, nil)
		found := map[string]bool{}
		for _, f := range plan.Findings {
			if f.Code == "empties.return-lanes-short" {
				found[f.Subject.Rack] = true
			}
		}
		for _, r := range plan.Proof.Racks {
			if found[string(r.Rack)] {
				short++
				continue
			}
			enough++
			assert.LessOrEqual(t, float64(r.Overfull), 0.06*float64(r.Visits), "seed %d, rack %s: %+v", seed, r.Rack, r)
		}
	}
	assert.Greater(t, short, 10)
	assert.Greater(t, enough, 10)
}
