package archive

import (
	"time"

	"lanewright/planner"
	"lanewright/planner/simulation"
)

// State is the state of a run.
type State string

// States of a run: Queued -> Running -> Done, Failed or Cancelled; a queued
// run may be cancelled at once.
const (
	Queued    State = "queued"
	Running   State = "running"
	Done      State = "done"
	Failed    State = "failed"
	Cancelled State = "cancelled"
)

// Ended reports whether a run in state s will not change any more.
func (s State) Ended() bool { return s == Done || s == Failed || s == Cancelled }

// RunKind says what a run makes.
type RunKind string

// Kinds of runs.
const (
	// PlanRun makes a plan of a revision.
	PlanRun RunKind = "plan"
	// SimulationRun plays a plan.
	SimulationRun RunKind = "simulation"
)

// NewRun asks for a plan, or for a play of one.
type NewRun struct {
	// Kind is PlanRun where it is empty.
	Kind RunKind
	// Plant and Revision say what is planned; Revision is a number, 0 for the
	// latest. A play has those of its plan, whatever stands here.
	Plant    string
	Revision int
	// PlanID is the plan to be played; 0 for a run that makes one.
	PlanID int64
	// Settings override the facts' settings, as planner.Settings.Set reads
	// them, or the plan's settings of a play, as SetPlay does, in the order of
	// their keys.
	Settings map[string]string
	// Key makes asking twice harmless; empty is no key.
	Key string
}

// Made is what a run made: one of the two, or nothing.
type Made struct {
	Plan       *planner.Plan
	Simulation *simulation.Result
}

// Nothing reports whether nothing was made.
func (m Made) Nothing() bool { return m.Plan == nil && m.Simulation == nil }

// Run is the making of one plan, or of one play of a plan.
type Run struct {
	ID       string
	Kind     RunKind
	Plant    string
	Revision int
	// PlanID is the plan to be played; 0 for a run that makes one.
	PlanID   int64
	Settings map[string]string
	State    State
	// Stage, Done and Total are the latest progress.
	Stage       string
	Done, Total int
	// Plan is the plan that was made and Simulation the play; each is 0 until
	// State is Done, and in runs of the other kind.
	Plan, Simulation int64
	// Error says why State is Failed.
	Error                      string
	Created, Started, Finished time.Time
	// Attempt counts the claims of the run; a late worker's writes carry an
	// older attempt and are refused with ErrConflict.
	Attempt int
	// Sequence rises with every change of the run.
	Sequence int64
}
