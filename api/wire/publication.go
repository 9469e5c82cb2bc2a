package wire

import (
	"time"

	"lanewright/planner"
	"lanewright/planner/archive"
)

// Publication is a plan that the floor was told to work to.
type Publication struct {
	ID       int64       `json:"id" doc:"0 of a publication that was only tried"`
	Plant    string      `json:"plant"`
	Plan     int64       `json:"plan" doc:"0 of a draft that was only tried"`
	Draft    int64       `json:"draft" doc:"the draft that became the plan; 0 where a plan was published as it is"`
	Before   int64       `json:"plan_before" doc:"the plan that was published until then; 0 for the first"`
	By       string      `json:"by"`
	Note     string      `json:"note"`
	Created  time.Time   `json:"created"`
	Accepted []string    `json:"accepted" doc:"codes of the rules that the plan breaks and that were accepted"`
	Changed  FloorChange `json:"changed" doc:"what changes on the floor against the plan before"`
	Broken   []Finding   `json:"broken" doc:"rules that the plan breaks; told when it is published or that is tried"`
}

// FloorChange counts what changes on the floor.
type FloorChange struct {
	Racks      int `json:"racks" doc:"on which a lane in use changes"`
	Lanes      int `json:"lanes" doc:"whose part, containers or place change, that come or go"`
	Loops      int `json:"loops" doc:"that lie elsewhere, have other containers, come or go"`
	Containers int `json:"containers" doc:"to be carried to another rack or level, or to the floor"`
}

// Published is what the floor of a plant works to, and what it worked to before.
type Published struct {
	Plant   string       `json:"plant"`
	Current *Publication `json:"current" doc:"null while nothing was published"`
	Page[Publication]
}

// NewPublication converts a publication.
func NewPublication(p archive.Publication) Publication {
	out := Publication{
		ID: p.ID, Plant: p.Plant, Plan: p.Plan, Draft: p.Draft, Before: p.Before, By: p.By, Note: p.Note, Created: p.Created.UTC(),
		Accepted: p.Accepted, Changed: NewFloorChange(p.Changed), Broken: []Finding{},
	}
	if out.Accepted == nil {
		out.Accepted = []string{}
	}
	return out
}

// NewFloorChange converts a change on the floor.
func NewFloorChange(c planner.FloorChange) FloorChange { return FloorChange(c) }
