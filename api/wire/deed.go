package wire

import (
	"time"

	"lanewright/planner/archive"
	"lanewright/planner/placement"
)

// DraftEdits are the edits of a draft that stand, one by one.
type DraftEdits struct {
	Draft   int64  `json:"draft"`
	Version int    `json:"version" doc:"of the draft"`
	Edits   []Deed `json:"edits" doc:"in the order in which they are made"`
}

// Deed is an edit and what it did.
type Deed struct {
	Version int         `json:"version" doc:"of the draft after the step that made it; edits of one step are undone together"`
	By      string      `json:"by"`
	Made    time.Time   `json:"made"`
	Edit    EditRequest `json:"edit"`
	Loops   []Laying    `json:"loops" doc:"the loops that it names, before and after it"`
}

// Laying is a loop before an edit and after it.
type Laying struct {
	LoopName
	Before Lying `json:"before"`
	After  Lying `json:"after"`
}

// Lying is how a loop is sized and where it lies.
type Lying struct {
	Spots       []Spot  `json:"spots" doc:"its first lane on each level; none where it has no lane"`
	Containers  int     `json:"containers"`
	Container   string  `json:"container"`
	Pack        int64   `json:"pack"`
	IntervalMin float64 `json:"interval_min"`
}

// NewDraftEdits joins the edits of a draft that stand with what each of them did.
func NewDraftEdits(d archive.Draft, story []placement.Deed) DraftEdits {
	out := DraftEdits{Draft: d.ID, Version: d.Version, Edits: []Deed{}}
	made, _ := d.Standing()
	for _, s := range made {
		for _, e := range s.Edits {
			out.Edits = append(out.Edits, Deed{
				Version: s.Version, By: s.By, Made: s.Made.UTC(), Edit: NewEditRequest(e), Loops: convert(story[len(out.Edits)], newLaying),
			})
		}
	}
	return out
}

func newLaying(l placement.Laying) Laying {
	return Laying{LoopName: *loopName(l.Loop), Before: newLying(l.Before), After: newLying(l.After)}
}

func newLying(l placement.Lying) Lying {
	return Lying{
		Spots: convert(l.Spots, newSpotOf), Containers: l.Containers, Container: string(l.Container), Pack: l.Pack, IntervalMin: minutes(l.Interval),
	}
}
