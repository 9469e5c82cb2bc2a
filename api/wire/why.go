package wire

import (
	"lanewright/planner/demand"
	"lanewright/planner/placement"
	"lanewright/planner/units"
)

// WhyFormat names the shape of Why, as Format does that of Plan.
const WhyFormat = "lanewright.why/1"

// Why says why a loop lies where it lies or has no lane.
type Why struct {
	Format  string       `json:"format" enum:"lanewright.why/1"`
	Part    string       `json:"part"`
	Cell    string       `json:"cell"`
	Station string       `json:"station"`
	Pinned  bool         `json:"pinned" doc:"a pin keeps it there; other places count as if it were taken off"`
	Lanes   []Lane       `json:"lanes" doc:"where it lies; empty where it has no lane"`
	Places  []OtherPlace `json:"places" doc:"the three best other places for all its containers"`
	Missing *Unplaced    `json:"missing" doc:"its containers without a lane and the true obstacle; null where all have one"`
	Changes []Change     `json:"changes" doc:"what would give it its lanes, tried, the least to do first"`
}

// OtherPlace is a level where a loop could lie.
type OtherPlace struct {
	Text        string        `json:"text" doc:"the same in a sentence"`
	Place       Spot          `json:"place"`
	FlowSide    string        `json:"flow_side" enum:"length,width"`
	Lanes       int           `json:"lanes"`
	Possible    bool          `json:"possible" doc:"the edits were tried and break no rule"`
	EffortMore  float64       `json:"effort_more" doc:"what the cell would have more, in kg per net hour; the loop alone where it is not possible"`
	WidthLeftMM float64       `json:"width_left_mm" doc:"below 0: what is missing"`
	MassLeftKG  *float64      `json:"mass_left_kg,omitempty" doc:"left out without a limit; below 0: what is missing"`
	InTheWay    []LoopName    `json:"in_the_way" doc:"loops that would have to leave"`
	Moved       int           `json:"moved" doc:"containers that would lie elsewhere than now"`
	Edits       []EditRequest `json:"edits" doc:"what brings it there"`
}

// Change is a change that would give a loop its lanes.
type Change struct {
	Text       string        `json:"text" doc:"the same in a sentence"`
	Kind       string        `json:"kind" enum:"moves,unpin,flow-side,interval,container,clear-height,lane-length,rack"`
	And        string        `json:"and,omitempty" doc:"a second kind made with it"`
	Containers int           `json:"containers" doc:"what the loop then has"`
	Left       int           `json:"left" doc:"of them without a lane still; above 0 only where nothing that was tried places all"`
	Places     []Spot        `json:"places"`
	EffortMore float64       `json:"effort_more" doc:"what the cell would have more, in kg per net hour"`
	Moved      int           `json:"moved" doc:"containers of other loops that would lie elsewhere"`
	Interval   float64       `json:"interval_min,omitempty"`
	Container  string        `json:"container,omitempty"`
	Pack       int64         `json:"pack,omitempty"`
	FlowSide   string        `json:"flow_side,omitempty"`
	Level      *Spot         `json:"level,omitempty" doc:"the level that must be higher or longer"`
	ByMM       float64       `json:"by_mm,omitempty" doc:"by how much"`
	RackType   string        `json:"rack_type,omitempty"`
	Cost       float64       `json:"cost,omitempty" doc:"of the rack; left out where the plant gives none"`
	WidthMM    float64       `json:"width_mm,omitempty" doc:"frontage of the rack"`
	BeyondMM   float64       `json:"beyond_mm,omitempty" doc:"what the cell's frontage lacks for it"`
	Edits      []EditRequest `json:"edits" doc:"what is edited besides"`
}

// NewWhy converts what is known of a loop's place, its sentences in the plant's units.
func NewWhy(w placement.Whys, s units.Speech) *Why {
	out := &Why{
		Format: WhyFormat, Part: string(w.Loop.Part), Cell: string(w.Loop.Cell), Station: string(w.Loop.Station), Pinned: w.Pinned,
		Lanes: convert(w.Here, newLane), Places: convert(w.Places, newOtherPlace), Changes: convert(w.Changes, newChange),
	}
	if w.Missing.Containers > 0 {
		u := newUnplaced(w.Missing)
		u.Detail = s.Local(u.Detail)
		out.Missing = &u
	}
	for i := range out.Places {
		out.Places[i].Text = s.Local(out.Places[i].Text)
	}
	for i := range out.Changes {
		out.Changes[i].Text = s.Local(out.Changes[i].Text)
	}
	return out
}

func newOtherPlace(p placement.OtherPlace) OtherPlace {
	out := OtherPlace{
		Text: p.String(), Place: newSpotOf(p.At), FlowSide: string(p.Side), Lanes: p.Lanes, Possible: p.Possible,
		EffortMore: p.Effort, WidthLeftMM: p.WidthLeft.MM(), Moved: p.Moved,
		InTheWay: convert(p.InTheWay, func(k demand.Key) LoopName { return *loopName(k) }), Edits: convert(p.Edits, NewEditRequest),
	}
	if p.MassLeft >= 0 {
		kg := p.MassLeft.KG()
		out.MassLeftKG = &kg
	}
	return out
}

func newChange(c placement.Change) Change {
	out := Change{
		Text: c.String(), Kind: string(c.Kind), And: string(c.And), Containers: c.Containers, Left: c.Left, Places: convert(c.At, newSpotOf),
		EffortMore: c.Effort, Moved: c.MovedContainers, Interval: minutes(c.Interval), Container: string(c.Container), Pack: c.Pack,
		FlowSide: string(c.Side), ByMM: c.By.MM(), RackType: string(c.RackType), Cost: c.Cost.Float64(), WidthMM: c.Width.MM(), BeyondMM: c.Beyond.MM(),
		Edits: convert(c.Edits, NewEditRequest),
	}
	if c.Level.Rack != "" {
		s := newSpotOf(c.Level)
		out.Level = &s
	}
	return out
}
