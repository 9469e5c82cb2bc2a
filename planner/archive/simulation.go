package archive

import (
	"time"

	"lanewright/planner/simulation"
)

// Simulation is the header of a stored play of a plan. Simulations are never
// changed.
type Simulation struct {
	ID int64
	// Plan is the plan that was played.
	Plan int64
	// Proof says that the play is part of the plan: it was made with it.
	Proof    bool
	Created  time.Time
	Settings simulation.Settings
	Seed     uint64
	Verdicts Verdicts
	// Played, Events and Pieces are those of the result.
	Played         time.Duration
	Events, Pieces int64
}

// Verdicts counts the loops of a play by what it proved about them.
type Verdicts struct{ Proved, Short, NotPlayed int }

// CountVerdicts counts the verdicts on loops.
func CountVerdicts(loops []simulation.LoopResult) (v Verdicts) {
	for _, l := range loops {
		switch l.Verdict {
		case simulation.Proved:
			v.Proved++
		case simulation.Short:
			v.Short++
		default:
			v.NotPlayed++
		}
	}
	return v
}

// NewSimulation is the header of a result before it is stored.
func NewSimulation(plan int64, proof bool, r *simulation.Result) Simulation {
	return Simulation{
		Plan: plan, Proof: proof, Settings: r.Settings, Seed: r.Seed, Verdicts: CountVerdicts(r.Loops),
		Played: r.Played, Events: r.Events, Pieces: r.Pieces,
	}
}
