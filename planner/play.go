package planner

import (
	"context"

	"lanewright/planner/plant"
	"lanewright/planner/simulation"
	"lanewright/planner/sizing"
)

// Play plays a plan of the facts: the same plan, settings and seed give the same
// result with any number of threads. The seed is that of the plan.
func Play(ctx context.Context, facts *plant.Plant, p *Plan, s simulation.Settings, o Options) (simulation.Result, error) {
	return simulation.Play(ctx, SimulationInput(facts, p), s, p.Settings.Plant.Seed, o.Threads, o.Progress)
}

// SimulationInput returns what of a plan is played.
func SimulationInput(facts *plant.Plant, p *Plan) simulation.Input {
	in := simulation.Input{
		Plant: p.Settings.Plant, Index: plant.NewIndex(facts),
		Racks: p.Racks, Lanes: p.Lanes, Routes: p.Routes,
		Loops: make([]sizing.Loop, len(p.Loops)),
	}
	for i := range p.Loops {
		in.Loops[i] = p.Loops[i].Loop
	}
	return in
}
