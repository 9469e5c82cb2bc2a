package wire

import (
	"cmp"
	"slices"
	"time"

	"lanewright/planner"
	"lanewright/planner/archive"
	"lanewright/planner/finding"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
)

// DraftHeader is a draft of a plan without its steps.
type DraftHeader struct {
	ID        int64     `json:"id"`
	Plan      int64     `json:"plan" doc:"id of the plan that is edited"`
	Plant     string    `json:"plant"`
	Name      string    `json:"name"`
	By        string    `json:"by" doc:"who began it"`
	Created   time.Time `json:"created"`
	Changed   time.Time `json:"changed"`
	Version   int       `json:"version" doc:"rises with every step; the entity tag says it too"`
	Published int64     `json:"published_plan" doc:"id of the plan that it became; 0 while it is open"`
}

// Draft is what somebody is changing of a plan by hand.
type Draft struct {
	DraftHeader
	Steps  []DraftStep `json:"steps" doc:"that stand, in their order"`
	Undone []DraftStep `json:"undone" doc:"that were taken back and can be made again, the next one last"`
}

// DraftStep is one step of a draft.
type DraftStep struct {
	Version int           `json:"version" doc:"of the draft after the step"`
	Kind    string        `json:"kind" enum:"edit,undo,redo"`
	By      string        `json:"by"`
	Made    time.Time     `json:"made"`
	Edits   []EditRequest `json:"edits" doc:"that it made; none of an undo or redo"`
}

// MergedDraft is a draft after edits were merged, and those that were not made.
type MergedDraft struct {
	Draft
	Conflicts []Conflict `json:"conflicts" doc:"edits that were left out because somebody else changed the same meanwhile"`
}

// Conflict is an edit that touches the same loop, lane or rack as one that somebody
// else made, or took back, meanwhile.
type Conflict struct {
	Edit   EditRequest  `json:"edit" doc:"that was left out"`
	On     string       `json:"on" enum:"loop,lane,rack" doc:"what both touch"`
	Loop   *LoopName    `json:"loop,omitempty"`
	At     *SpotRequest `json:"at,omitempty" doc:"the rack, and the level and lane where both name the same lane"`
	Theirs *EditRequest `json:"theirs,omitempty" doc:"the other edit; left out where the edit builds on one of the same request that was left out"`
	By     string       `json:"by,omitempty" doc:"who made the other edit"`
	Undone bool         `json:"undone,omitempty" doc:"the other edit was taken back meanwhile"`
}

// NewDraftHeader converts the header of a draft.
func NewDraftHeader(d archive.Draft) DraftHeader {
	return DraftHeader{
		ID: d.ID, Plan: d.Plan, Plant: d.Plant, Name: d.Name, By: d.By, Created: d.Created.UTC(), Changed: d.Changed.UTC(),
		Version: d.Version, Published: d.Published,
	}
}

// NewDraft converts a draft.
func NewDraft(d archive.Draft) Draft {
	made, undone := d.Standing()
	return Draft{DraftHeader: NewDraftHeader(d), Steps: NewDraftSteps(made), Undone: NewDraftSteps(undone)}
}

// NewDraftSteps converts steps.
func NewDraftSteps(list []archive.Step) []DraftStep {
	return convert(list, func(s archive.Step) DraftStep {
		return DraftStep{Version: s.Version, Kind: string(s.Kind), By: s.By, Made: s.Made.UTC(), Edits: convert(s.Edits, NewEditRequest)}
	})
}

// NewConflict converts a clash of an edit with one of the steps that were taken back,
// or came, meanwhile.
func NewConflict(c planner.Clash, mine placement.Edit, gone, came []archive.Step) Conflict {
	out := Conflict{Edit: NewEditRequest(mine), On: "rack", At: spotRequest(c.On.At)}
	switch {
	case c.On.Loop.Part != "":
		out.On, out.Loop = "loop", loopName(c.On.Loop)
	case c.On.At.Lane > 0:
		out.On = "lane"
	}
	n := c.Theirs
	for i, list := range [][]archive.Step{gone, came} {
		for _, s := range list {
			if n >= 0 && n < len(s.Edits) {
				theirs := NewEditRequest(s.Edits[n])
				out.Theirs, out.By, out.Undone = &theirs, s.By, i == 0
			}
			n -= len(s.Edits)
		}
	}
	return out
}

// DraftCell is one cell as a draft leaves it.
type DraftCell struct {
	Draft    int64        `json:"draft"`
	Version  int          `json:"version" doc:"of the draft"`
	Cell     Cell         `json:"cell" doc:"lanes needed, there, free and short"`
	Before   Tally        `json:"before" doc:"the cell counted as the plan has it"`
	After    Tally        `json:"after" doc:"the cell counted as the draft leaves it"`
	Racks    []Rack       `json:"racks"`
	Lanes    []Lane       `json:"lanes" doc:"an over-full level reaches beyond its width"`
	Closed   []Spot       `json:"closed" doc:"lanes that no loop may use"`
	Loops    []Loop       `json:"loops"`
	Unplaced []Unplaced   `json:"unplaced"`
	Changes  []LoopChange `json:"changes" doc:"loops whose lanes or size differ from the plan's"`
	Routes   []RouteLoad  `json:"routes" doc:"that stop at the cell's racks and whose load changes"`
	Broken   []Finding    `json:"broken" doc:"rules that are broken, and edits that could not be done"`
	Lifting  []Finding    `json:"lifting" doc:"what screening of lifts says and did not say of the plan"`
	Eased    []Finding    `json:"eased" doc:"what it said of the plan and does not say now"`

	Pins       []Pinned        `json:"pins" doc:"loops that must lie where they are pinned"`
	Containers []ContainerSize `json:"containers" doc:"the plant's containers, by code"`
}

// Pinned says where a loop must lie.
type Pinned struct {
	Loop LoopName    `json:"loop"`
	To   SpotRequest `json:"to"`
}

// ContainerSize is a container of the plant and its outside measures.
type ContainerSize struct {
	Container   string  `json:"container"`
	Description string  `json:"description"`
	LengthMM    float64 `json:"length_mm"`
	WidthMM     float64 `json:"width_mm"`
	HeightMM    float64 `json:"height_mm"`
}

// NewDraftCell gathers one cell of a plan as it is laid; false where it has no such cell.
// The zero draft stands for the plan itself.
func NewDraftCell(facts *plant.Plant, l *planner.Laid, d archive.Draft, code plant.CellCode) (DraftCell, bool) {
	p := l.Cell(code)
	out := DraftCell{Draft: d.ID, Version: d.Version}
	found := false
	for _, c := range NewCells(facts, p) {
		if c.Cell == string(code) {
			out.Cell, found = c, true
		}
	}
	before, after := l.Tally(code)
	out.Before, out.After = newTally(before), newTally(after)
	home := RackCells(p)
	here := func(list finding.List) finding.List {
		var some finding.List
		for _, f := range list {
			if FindingCell(f, home) == string(code) || f.Subject.Route != "" && f.Subject.Rack == "" && stopsAt(p, f.Subject.Route) {
				some = append(some, f)
			}
		}
		return some
	}
	out.Racks, out.Lanes, out.Loops, out.Unplaced = convert(p.Racks, newRack), convert(p.Lanes, newLane), convert(p.Loops, newLoop), convert(p.Unplaced, newUnplaced)
	out.Closed, out.Changes, out.Routes = []Spot{}, []LoopChange{}, []RouteLoad{}
	for _, s := range l.Closed {
		if home[string(s.Rack)] == string(code) {
			out.Closed = append(out.Closed, newSpotOf(s))
		}
	}
	for _, c := range l.Changes {
		if c.Loop.Cell == code {
			out.Changes = append(out.Changes, newLoopChange(c))
		}
	}
	for _, r := range l.Routes {
		if stopsAt(p, r.Route) {
			out.Routes = append(out.Routes, newRouteLoad(r))
		}
	}
	out.Broken, out.Lifting, out.Eased = NewFindings(here(l.Broken)), NewFindings(here(l.Lifting)), NewFindings(here(l.Eased))
	out.Pins, out.Containers = pinned(l, p, code), containerSizes(facts)
	return out, found
}

func pinned(l *planner.Laid, p *planner.Plan, cell plant.CellCode) []Pinned {
	list, pins := []Pinned{}, l.PinsOf(cell)
	for i := range p.Loops {
		if to, ok := pins[p.Loops[i].Key]; ok {
			list = append(list, Pinned{*loopName(p.Loops[i].Key), SpotRequest{Rack: string(to.Rack), Level: to.Level, Lane: to.Lane}})
		}
	}
	return list
}

func containerSizes(facts *plant.Plant) []ContainerSize {
	list := convert(facts.Containers, func(c plant.Container) ContainerSize {
		return ContainerSize{string(c.Container), c.Description, c.Length.MM(), c.Width.MM(), c.Height.MM()}
	})
	slices.SortFunc(list, func(a, b ContainerSize) int { return cmp.Compare(a.Container, b.Container) })
	return list
}

func stopsAt(p *planner.Plan, route string) bool {
	for _, r := range p.Routes {
		if r.Route == route {
			return true
		}
	}
	return false
}

// TriedEdits is what edits more would make of a draft. Nothing of it is kept.
type TriedEdits struct {
	EditedPlan
	Version int       `json:"version" doc:"of the draft that it is compared with"`
	Worse   []Finding `json:"worse" doc:"of broken, those that are not broken now, or less: without any the edits fit"`
	Fits    bool      `json:"fits"`
}

// NewTriedEdits converts what edits more would make of a draft where some rules are
// broken already.
func NewTriedEdits(version int, broken finding.List, e planner.EditedPlan) TriedEdits {
	worse := placement.Worse(broken, e.Broken)
	return TriedEdits{EditedPlan: *NewEditedPlan(e), Version: version, Worse: NewFindings(worse), Fits: len(worse) == 0}
}

// Fits is every level of a cell as a place for all of one loop.
type Fits struct {
	Part    string `json:"part"`
	Cell    string `json:"cell"`
	Station string `json:"station"`
	Levels  []Fit  `json:"levels" doc:"supply levels of the cell's racks, by rack and level"`
}

// Fit is what laying what is meant of a loop on one level would come to.
type Fit struct {
	Rack     string    `json:"rack"`
	Level    int       `json:"level"`
	Lane     int       `json:"lane" doc:"the first that the loop would have there"`
	FlowSide string    `json:"flow_side"`
	Lanes    int       `json:"lanes" doc:"that the loop would have there"`
	Fits     bool      `json:"fits" doc:"no rule would be broken that is not now"`
	Here     bool      `json:"here" doc:"all that is meant lies there already"`
	Effort   float64   `json:"effort" doc:"more for the loop than now, kg per net hour; below 0 is less"`
	WhyNot   []Missing `json:"why_not" doc:"rules that would be broken"`
}

// Missing is a rule that would be broken, and by how much.
type Missing struct {
	Code    string  `json:"code"`
	Summary string  `json:"summary"`
	Missing float64 `json:"missing" doc:"by how much, in unit; 0 where that can not be measured"`
	Unit    string  `json:"unit"`
}

// NewFits converts the places of a loop.
func NewFits(part, cell, station string, list []placement.Fit) Fits {
	return Fits{Part: part, Cell: cell, Station: station, Levels: convert(list, func(f placement.Fit) Fit {
		return Fit{
			Rack: string(f.At.Rack), Level: f.At.Level, Lane: f.At.Lane, FlowSide: string(f.Side), Lanes: f.Lanes,
			Fits: len(f.Broken) == 0, Here: f.Here, Effort: f.Effort, WhyNot: convert(f.Broken, newMissing),
		}
	})}
}

func newMissing(f finding.Finding) Missing {
	m := Missing{Code: f.Code, Summary: f.Summary}
	if f.Measure != nil {
		m.Missing, m.Unit = f.Measure.Value-f.Measure.Limit, f.Measure.Unit
	}
	return m
}
