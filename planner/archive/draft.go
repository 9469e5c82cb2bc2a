package archive

import (
	"errors"
	"slices"
	"time"

	"lanewright/planner"
	"lanewright/planner/placement"
)

// ErrStale says that somebody changed it since the version that was named.
var ErrStale = errors.New("changed meanwhile")

// Draft is what somebody is changing of a plan by hand. The plan stays as it is; a
// draft becomes a plan of its own when it is published, and is never changed then.
type Draft struct {
	ID int64
	// Plan is the plan that is edited, Plant its plant.
	Plan  int64
	Plant string
	Name  string
	// By is who began it: a name that people know.
	By               string
	Created, Changed time.Time
	// Version counts the steps taken.
	Version int
	// Published is the plan that it became; 0 while it is open.
	Published int64
	// Steps are all steps ever taken, the first with version 1. Lists of drafts leave
	// them out.
	Steps []Step
}

// StepKind says what a step of a draft does.
type StepKind string

// Kinds of steps.
const (
	// MakeStep makes edits; what was taken back before can not be made again then.
	MakeStep StepKind = "edit"
	// UndoStep takes back the last step that stands, RedoStep makes again the one that
	// was taken back last.
	UndoStep StepKind = "undo"
	RedoStep StepKind = "redo"
)

// Step is one step of a draft. Steps are never changed or removed.
type Step struct {
	Version int
	Kind    StepKind
	By      string
	Made    time.Time
	// Edits are those of a MakeStep.
	Edits []placement.Edit
	// Key makes asking twice harmless; empty is no key.
	Key string
}

// NewDraft asks for a draft of a plan.
type NewDraft struct {
	Plan     int64
	Name, By string
	Key      string
}

// NewStep asks for a step of a draft whose version is After.
type NewStep struct {
	After int
	Kind  StepKind
	By    string
	Edits []placement.Edit
	Key   string
}

// At is the draft as it was when its version was that.
func (d Draft) At(version int) Draft {
	d.Steps = d.Steps[:max(0, min(version, len(d.Steps)))]
	d.Version = len(d.Steps)
	return d
}

// Standing lists the MakeSteps that stand, in their order, and those that were taken
// back and can be made again, the next one last.
func (d Draft) Standing() (made, undone []Step) {
	for _, s := range d.Steps {
		switch {
		case s.Kind == MakeStep:
			made, undone = append(made, s), nil
		case s.Kind == UndoStep && len(made) > 0:
			undone = append(undone, made[len(made)-1])
			made = made[:len(made)-1]
		case s.Kind == RedoStep && len(undone) > 0:
			made = append(made, undone[len(undone)-1])
			undone = undone[:len(undone)-1]
		}
	}
	// The two share nothing with what is appended to them later.
	return slices.Clip(slices.Clone(made)), slices.Clip(undone)
}

// Edits lists the edits that stand, in their order.
func (d Draft) Edits() []placement.Edit {
	made, _ := d.Standing()
	return EditsOf(made)
}

// EditsOf lists the edits of steps.
func EditsOf(steps []Step) []placement.Edit {
	var list []placement.Edit
	for _, s := range steps {
		list = append(list, s.Edits...)
	}
	return list
}

// Since compares what stands with what stood at a version: the steps whose edits were
// taken back since, the last ones of that time, and those that came.
func (d Draft) Since(version int) (gone, came []Step) {
	then, _ := d.At(version).Standing()
	now, _ := d.Standing()
	same := 0
	for same < min(len(then), len(now)) && then[same].Version == now[same].Version {
		same++
	}
	return then[same:], now[same:]
}

// Publication is a plan that the floor was told to work to, until the next one of its
// plant. Publications are never changed.
type Publication struct {
	ID    int64
	Plant string
	Plan  int64
	// Draft is the draft that became the plan; 0 where a plan was published as it is.
	Draft int64
	// Before is the plan that was published until then; 0 for the first of a plant.
	Before int64
	// By is who published it, Note what they say about it.
	By, Note string
	Created  time.Time
	// Accepted are the codes of the rules that the plan breaks and that were accepted.
	Accepted []string
	// Changed is what changes on the floor against the plan before; all of it is new
	// where there is none.
	Changed planner.FloorChange
}

// NewPublication asks for a plan to be published: the stored one with id Plan or, where
// that is 0, the one that a draft makes, which is stored with it.
type NewPublication struct {
	Plant string
	Plan  int64
	// Edited is made from Draft at a version of it.
	Edited  *planner.Plan
	Draft   int64
	Version int
	// Before is the plan that Changed compares with. A store answers with ErrStale
	// where another one was published meanwhile.
	Before   int64
	By, Note string
	Accepted []string
	Changed  planner.FloorChange
	Key      string
}
