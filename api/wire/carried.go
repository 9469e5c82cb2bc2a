package wire

import (
	"time"

	"lanewright/planner"
	"lanewright/planner/archive"
)

// Carried is a draft as it would be made of another plan of its plant.
type Carried struct {
	Draft   int64 `json:"draft"`
	Version int   `json:"version" doc:"of the draft"`
	Plan    int64 `json:"plan" doc:"that the draft edits"`
	Onto    int64 `json:"onto" doc:"the other plan"`
	Related bool  `json:"related" doc:"edits by hand lead from the one plan to the other: theirs lists them; else what differs between the two counts"`

	Theirs []CarriedStep `json:"theirs" doc:"what was made by hand between the two plans, taken back ones first"`
	Edits  []CarriedEdit `json:"edits" doc:"of the draft that stand, in their order"`
}

// CarriedStep is a step that lies between two plans.
type CarriedStep struct {
	Plan   int64         `json:"plan" doc:"that the step is part of"`
	By     string        `json:"by"`
	Made   time.Time     `json:"made"`
	Undone bool          `json:"undone" doc:"the other plan is without it"`
	Edits  []EditRequest `json:"edits"`
}

// CarriedEdit is an edit of a draft, and what it meets on the other plan.
type CarriedEdit struct {
	Number   int             `json:"number" doc:"from 0, to say which are taken"`
	By       string          `json:"by"`
	Made     time.Time       `json:"made"`
	Edit     EditRequest     `json:"edit"`
	Conflict *Conflict       `json:"conflict" doc:"null where it touches nothing that was changed"`
	Differs  *LoopDifference `json:"differs" doc:"the loop that differs between the plans, where they are not related; null elsewhere"`
}

// NewCarried converts the edits of a draft, those that clash with what leads to another
// plan: steps taken back, and those that came.
func NewCarried(d archive.Draft, onto int64, clashes []planner.Clash, gone, came []archive.Step) Carried {
	out := Carried{Draft: d.ID, Version: d.Version, Plan: d.Plan, Onto: onto, Related: true, Theirs: []CarriedStep{}, Edits: []CarriedEdit{}}
	made, _ := d.Standing()
	for _, s := range made {
		for _, e := range s.Edits {
			out.Edits = append(out.Edits, CarriedEdit{Number: len(out.Edits), By: s.By, Made: s.Made.UTC(), Edit: NewEditRequest(e)})
		}
	}
	for _, c := range clashes {
		conflict := NewConflict(c, d.Edits()[c.Mine], gone, came)
		out.Edits[c.Mine].Conflict = &conflict
	}
	return out
}

// Tell adds the steps that lie between the two plans, and the plan that each belongs to.
func (c *Carried) Tell(plan int64, undone bool, steps []archive.Step) {
	for _, s := range steps {
		c.Theirs = append(c.Theirs, CarriedStep{Plan: plan, By: s.By, Made: s.Made.UTC(), Undone: undone, Edits: convert(s.Edits, NewEditRequest)})
	}
}

// Differ says of the clashes of two plans that are not related which loop differs.
func (c *Carried) Differ(clashes []planner.Clash, differ []planner.LoopDifference) {
	c.Related = false
	for _, x := range clashes {
		if x.Theirs >= 0 {
			d := newLoopDifference(differ[x.Theirs])
			c.Edits[x.Mine].Differs = &d
		}
	}
}
