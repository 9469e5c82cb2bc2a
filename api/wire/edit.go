package wire

import (
	"fmt"
	"math"
	"time"

	"lanewright/planner"
	"lanewright/planner/demand"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// EditsFormat names the shape of EditedPlan, as Format does that of Plan.
const EditsFormat = "lanewright.edits/1"

// EditRequest is one change to a plan made by hand.
type EditRequest struct {
	Kind        string       `json:"kind" enum:"move,swap,pin,unpin,close,open,container,interval" doc:"move a loop; swap two; pin or unpin one; close a lane, or open it again; give a loop another container or refill interval"`
	Loop        *LoopName    `json:"loop,omitempty" doc:"the loop that is meant; all kinds but close and open need it"`
	With        *LoopName    `json:"with,omitempty" doc:"swap: the other loop"`
	To          *SpotRequest `json:"to,omitempty" doc:"move: the new place; pin: where it must lie, left out for where it lies; close, open: the lane"`
	From        *SpotRequest `json:"from,omitempty" doc:"move: only the containers on this rack and level"`
	Containers  int          `json:"containers,omitempty" minimum:"0" maximum:"100000" doc:"move: how many, those without a lane first; 0 is all"`
	FlowSide    string       `json:"flow_side,omitempty" enum:"length,width" doc:"move: the side along the lane; left out keeps it"`
	Container   string       `json:"container,omitempty" maxLength:"200" doc:"container: its code"`
	Pack        int64        `json:"pack,omitempty" minimum:"0" maximum:"1000000000" doc:"container: pieces in it; 0 is by volume"`
	IntervalMin float64      `json:"interval_min,omitempty" minimum:"0" maximum:"10080" doc:"interval: the refill interval"`
}

// LoopName names a loop.
type LoopName struct {
	Part    string `json:"part" maxLength:"200"`
	Cell    string `json:"cell" maxLength:"200"`
	Station string `json:"station" maxLength:"200"`
}

// SpotRequest names a rack, a level and a lane.
type SpotRequest struct {
	Rack  string `json:"rack" maxLength:"200"`
	Level int    `json:"level,omitempty" minimum:"0" maximum:"1000" doc:"0 is any, of a pin only"`
	Lane  int    `json:"lane,omitempty" minimum:"0" maximum:"100000" doc:"first lane there, from 1; 0 is where there is room"`
}

func (n *LoopName) key() demand.Key {
	return demand.Key{Part: plant.PartCode(n.Part), Cell: plant.CellCode(n.Cell), Station: plant.StationCode(n.Station)}
}

func (s *SpotRequest) spot() placement.Spot {
	if s == nil {
		return placement.Spot{}
	}
	return placement.Spot{Rack: plant.RackCode(s.Rack), Level: s.Level, Lane: s.Lane}
}

// Edit converts a request. The error says which field its kind needs.
func (r EditRequest) Edit() (placement.Edit, error) {
	needs := func(there bool, field string) error {
		if there {
			return nil
		}
		return fmt.Errorf("an edit of kind %s needs %s", r.Kind, field)
	}
	if err := needs(r.Loop != nil || r.Kind == "close" || r.Kind == "open", "loop"); err != nil {
		return nil, err
	}
	switch r.Kind {
	case "move":
		return r.move(), needs(r.To != nil, "to")
	case "swap":
		if err := needs(r.With != nil, "with"); err != nil {
			return nil, err
		}
		return placement.SwapLoops{A: r.Loop.key(), B: r.With.key()}, nil
	case "pin":
		return placement.PinLoop{Loop: r.Loop.key(), To: r.To.spot()}, nil
	case "unpin":
		return placement.UnpinLoop{Loop: r.Loop.key()}, nil
	case "close":
		return placement.CloseLane{Lane: r.To.spot()}, needs(r.To != nil, "to")
	case "open":
		return placement.OpenLane{Lane: r.To.spot()}, needs(r.To != nil, "to")
	case "container":
		return placement.ChangeContainer{Loop: r.Loop.key(), Container: plant.ContainerCode(r.Container), Pack: r.Pack}, needs(r.Container != "", "container")
	case "interval":
		d := time.Duration(math.Round(r.IntervalMin * float64(time.Minute)))
		return placement.ChangeInterval{Loop: r.Loop.key(), Interval: d}, needs(d > 0, "interval_min")
	}
	return nil, fmt.Errorf("there is no edit of kind %q", r.Kind)
}

func (r EditRequest) move() placement.Edit {
	return placement.MoveLoop{
		Loop: r.Loop.key(), To: r.To.spot(), From: r.From.spot(), Containers: r.Containers, Side: plant.FlowSide(r.FlowSide),
	}
}

// NewEditRequest converts an edit back: what Edit reads.
func NewEditRequest(e placement.Edit) EditRequest {
	switch e := e.(type) {
	case placement.MoveLoop:
		return EditRequest{Kind: "move", Loop: loopName(e.Loop), To: spotRequest(e.To), From: spotRequest(e.From), Containers: e.Containers, FlowSide: string(e.Side)}
	case placement.SwapLoops:
		return EditRequest{Kind: "swap", Loop: loopName(e.A), With: loopName(e.B)}
	case placement.PinLoop:
		return EditRequest{Kind: "pin", Loop: loopName(e.Loop), To: spotRequest(e.To)}
	case placement.UnpinLoop:
		return EditRequest{Kind: "unpin", Loop: loopName(e.Loop)}
	case placement.CloseLane:
		return EditRequest{Kind: "close", To: spotRequest(e.Lane)}
	case placement.OpenLane:
		return EditRequest{Kind: "open", To: spotRequest(e.Lane)}
	case placement.ChangeContainer:
		return EditRequest{Kind: "container", Loop: loopName(e.Loop), Container: string(e.Container), Pack: e.Pack}
	case placement.ChangeInterval:
		return EditRequest{Kind: "interval", Loop: loopName(e.Loop), IntervalMin: minutes(e.Interval)}
	}
	panic(fmt.Sprintf("wire: no shape for an edit of type %T", e))
}

func loopName(k demand.Key) *LoopName {
	return &LoopName{Part: string(k.Part), Cell: string(k.Cell), Station: string(k.Station)}
}

func spotRequest(s placement.Spot) *SpotRequest {
	if s == (placement.Spot{}) {
		return nil
	}
	return &SpotRequest{Rack: string(s.Rack), Level: s.Level, Lane: s.Lane}
}

// EditedPlan is what edits make of a plan; nothing of it is stored.
type EditedPlan struct {
	Format   string         `json:"format" enum:"lanewright.edits/1"`
	Racks    []string       `json:"racks" doc:"racks on which a lane changed; lanes lists all lanes of these"`
	Lanes    []Lane         `json:"lanes" doc:"an over-full level reaches beyond its width"`
	Unplaced []Unplaced     `json:"unplaced" doc:"all loops of the touched cells that lack a lane"`
	Closed   []Spot         `json:"closed" doc:"lanes that no loop may use"`
	Loops    []LoopChange   `json:"loops" doc:"loops whose lanes or size changed"`
	Cells    []CellChange   `json:"cells"`
	Routes   []RouteLoad    `json:"routes" doc:"routes whose load changes; they are not made anew"`
	Returns  []ReturnChange `json:"returns" doc:"racks whose empties need another length of return lane"`
	Broken   []Finding      `json:"broken" doc:"rules that the edited plan breaks, and edits that could not be done"`
	Lifting  []Finding      `json:"lifting" doc:"what screening of lifts says of the changed loops and did not say before"`
	Eased    []Finding      `json:"eased" doc:"what it said before and does not say now"`
}

// LoopChange is what edits change for a loop.
type LoopChange struct {
	Part             string  `json:"part"`
	Cell             string  `json:"cell"`
	Station          string  `json:"station"`
	Slid             bool    `json:"slid" doc:"only the number or the offset of its lanes changed"`
	Before           []Lane  `json:"before"`
	After            []Lane  `json:"after"`
	ContainersBefore int     `json:"containers_before"`
	ContainersAfter  int     `json:"containers_after"`
	LanesBefore      int     `json:"lanes_needed_before"`
	LanesAfter       int     `json:"lanes_needed_after"`
	Moved            int     `json:"moved" doc:"containers that lie on another rack or level than before"`
	EffortBefore     float64 `json:"effort_before" doc:"kg per net hour"`
	EffortAfter      float64 `json:"effort_after"`
}

// CellChange is what edits change for a cell.
type CellChange struct {
	Cell   string `json:"cell"`
	Before Tally  `json:"before"`
	After  Tally  `json:"after"`
}

// Tally counts and sums a cell.
type Tally struct {
	Effort      float64 `json:"effort" doc:"kg per net hour"`
	AddedCost   float64 `json:"added_cost" doc:"of added racks on which something lies; their width in mm where the plant gives no costs"`
	Unplaced    int     `json:"unplaced" doc:"containers without a lane"`
	LanesNeeded int     `json:"lanes_needed"`
	LanesUsed   int     `json:"lanes_used"`
	Splits      int     `json:"splits" doc:"loops on several levels"`
	Moved       int     `json:"moved" doc:"containers that lie elsewhere than today"`
}

// RouteLoad is what a round of a route carries and takes.
type RouteLoad struct {
	Route         string   `json:"route"`
	MeanBefore    float64  `json:"load_mean_before" doc:"containers per round"`
	MeanAfter     float64  `json:"load_mean_after"`
	PlannedBefore float64  `json:"load_planned_before" doc:"containers that are planned for: the mean and a margin for variation"`
	PlannedAfter  float64  `json:"load_planned_after"`
	Limit         float64  `json:"limit" doc:"containers that its vehicle may be planned for"`
	MassBefore    float64  `json:"mass_planned_before" doc:"kg"`
	MassAfter     float64  `json:"mass_planned_after"`
	MassLimit     *float64 `json:"mass_limit" doc:"kg; null where the vehicle has none"`
	RoundBefore   float64  `json:"round_before_min" doc:"at the planned load"`
	RoundAfter    float64  `json:"round_after_min"`
	RoundLimit    float64  `json:"round_limit_min" doc:"the interval within the busy limit"`
}

func newRouteLoad(r planner.RouteLoad) RouteLoad {
	out := RouteLoad{
		Route: r.Route, MeanBefore: r.Before.Mean, MeanAfter: r.After.Mean,
		PlannedBefore: r.Before.Planned, PlannedAfter: r.After.Planned, Limit: r.Most.Planned,
		MassBefore: r.Before.Mass.KG(), MassAfter: r.After.Mass.KG(),
		RoundBefore: r.Before.Round.Minutes(), RoundAfter: r.After.Round.Minutes(), RoundLimit: r.Most.Round.Minutes(),
	}
	if r.Most.Mass > 0 {
		kg := r.Most.Mass.KG()
		out.MassLimit = &kg
	}
	return out
}

// ReturnChange is the length of return lane on a rack.
type ReturnChange struct {
	Rack   string  `json:"rack"`
	Before float64 `json:"need_before_mm"`
	After  float64 `json:"need_after_mm"`
	Have   float64 `json:"have_mm"`
}

// NewEditedPlan converts an edited plan.
func NewEditedPlan(e planner.EditedPlan) *EditedPlan {
	return &EditedPlan{
		Format: EditsFormat, Racks: convert(e.Racks, func(r plant.RackCode) string { return string(r) }),
		Lanes: convert(e.Lanes, newLane), Unplaced: convert(e.Unplaced, newUnplaced), Closed: convert(e.Closed, newSpotOf),
		Loops: convert(e.Changes, newLoopChange), Cells: convert(e.Cells, newCellChange),
		Routes: convert(e.Routes, newRouteLoad), Returns: convert(e.Returns, newReturnChange),
		Broken: NewFindings(e.Broken), Lifting: NewFindings(e.Lifting), Eased: NewFindings(e.Eased),
	}
}

func newSpotOf(s placement.Spot) Spot {
	return Spot{Rack: string(s.Rack), Level: s.Level, Lane: s.Lane}
}

func newLoopChange(c placement.LoopChange) LoopChange {
	return LoopChange{
		Part: string(c.Loop.Part), Cell: string(c.Loop.Cell), Station: string(c.Loop.Station), Slid: c.Slid(),
		Before: convert(c.Before, newLane), After: convert(c.After, newLane),
		ContainersBefore: c.Containers[0], ContainersAfter: c.Containers[1], LanesBefore: c.Needed[0], LanesAfter: c.Needed[1],
		Moved: c.Moved, EffortBefore: c.Effort[0], EffortAfter: c.Effort[1],
	}
}

func newCellChange(c placement.CellChange) CellChange {
	return CellChange{Cell: string(c.Cell), Before: newTally(c.Before), After: newTally(c.After)}
}

func newTally(t placement.Tally) Tally {
	return Tally{
		Effort: t.Effort, AddedCost: t.AddedCost, Unplaced: t.Unplaced,
		LanesNeeded: t.Needed, LanesUsed: t.Used, Splits: t.Splits, Moved: t.Moved,
	}
}

func newReturnChange(r planner.ReturnChange) ReturnChange {
	mm := func(l units.Length) float64 { return l.MM() }
	return ReturnChange{Rack: string(r.Rack), Before: mm(r.Before.Need), After: mm(r.After.Need), Have: mm(r.After.Have)}
}
