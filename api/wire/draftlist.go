package wire

import (
	"maps"
	"slices"

	"lanewright/planner/archive"
)

// DraftSummary is a draft at a glance.
type DraftSummary struct {
	DraftHeader
	People []string `json:"people" doc:"who made the edits that stand"`
	Edits  int      `json:"edits" doc:"that stand"`
	Cells  []string `json:"cells" doc:"of the loops that the edits name"`
	Racks  []string `json:"racks" doc:"that edits name which name no loop, as of closed lanes"`
}

// NewDraftSummary converts a draft with its steps.
func NewDraftSummary(d archive.Draft) DraftSummary {
	out := DraftSummary{DraftHeader: NewDraftHeader(d)}
	people, cells, racks := map[string]bool{}, map[string]bool{}, map[string]bool{}
	made, _ := d.Standing()
	for _, s := range NewDraftSteps(made) {
		people[s.By] = true
		for _, e := range s.Edits {
			out.Edits++
			for _, l := range []*LoopName{e.Loop, e.With} {
				if l != nil {
					cells[l.Cell] = true
				}
			}
			if e.Loop == nil && e.To != nil {
				racks[e.To.Rack] = true
			}
		}
	}
	list := func(m map[string]bool) []string { return append([]string{}, slices.Sorted(maps.Keys(m))...) }
	out.People, out.Cells, out.Racks = list(people), list(cells), list(racks)
	return out
}
