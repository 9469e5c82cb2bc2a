package wire

import (
	"encoding/json"

	"lanewright/planner"
	"lanewright/planner/placement"
)

// Format names the shape of Plan. Fields may be added to it; a field that
// changes its meaning gives it another number.
const Format = "lanewright.plan/1"

// Plan is the plan document.
type Plan struct {
	Format   string         `json:"format" enum:"lanewright.plan/1"`
	Plant    string         `json:"plant"`
	Revision string         `json:"revision" doc:"SHA-256 of the facts"`
	Seed     uint64         `json:"seed"`
	Version  string         `json:"version" doc:"version of the planner's rules"`
	Stopped  string         `json:"stopped" doc:"cancelled when the search was cut short: the same bytes are then not promised"`
	Settings map[string]any `json:"settings" doc:"settings as the run used them"`
	Summary  Summary        `json:"summary"`
	Bounds   Bounds         `json:"bounds"`
	Balance  []Balance      `json:"balance"`
	Uses     []CellUse      `json:"level_use" doc:"how evenly the supply levels of each cell are used"`
	Loops    []Loop         `json:"loops"`
	Racks    []Rack         `json:"racks"`
	Lanes    []Lane         `json:"lanes"`
	Unplaced []Unplaced     `json:"unplaced"`
	Routes   []Route        `json:"routes"`
	Unserved []Unserved     `json:"unserved"`
	Moves    []Move         `json:"moves"`
	Steps    []MoveStep     `json:"move_steps" doc:"the moves in an order that one person can work down"`
	Proof    *Proof         `json:"proof" doc:"what a play of the plan measured; null where it was not proved"`
	Edits    []EditRequest  `json:"edits" doc:"what was changed by hand on the plan that this one was made from; empty where the planner made it"`
	Held     []EditRequest  `json:"held" doc:"what of all edits by hand still counts when it is edited again: pins and closed lanes"`
	Build    *PlanBuild     `json:"build" doc:"what the proposed racks are built from; null where the plant has no kits or no rack is proposed"`
	Findings []Finding      `json:"findings"`
}

// NewPlan converts a plan and keeps the order of its lists. What its racks are built
// from is not part of it: it follows from plan and facts, and Built adds it.
func NewPlan(p *planner.Plan) *Plan {
	return &Plan{
		Format: Format, Plant: p.Plant, Revision: p.Revision,
		Seed: p.Settings.Plant.Seed, Version: p.Version, Stopped: string(p.Stopped),
		Settings: newSettings(p.Settings), Summary: NewSummary(p.Summary()),
		Bounds:   Bounds{Cells: convert(p.Cells, newCellBound), Routes: newRouteBound(p.RouteBounds)},
		Balance:  convert(p.Balance, newBalance),
		Uses:     convert(placement.Uses(p.Racks, p.Lanes, p.Settings.Plant.GuideWidth), newCellUse),
		Loops:    convert(p.Loops, newLoop),
		Racks:    convert(p.Racks, newRack),
		Lanes:    convert(p.Lanes, newLane),
		Unplaced: convert(p.Unplaced, newUnplaced),
		Routes:   convert(p.Routes, newRoute),
		Unserved: convert(p.Unserved, newUnserved),
		Moves:    convert(p.Moves, newMove),
		Steps:    convert(p.MoveSteps, newMoveStep),
		Proof:    newProof(p.Proof),
		Edits:    convert(p.Edits, NewEditRequest),
		Held:     convert(p.Held, NewEditRequest),
		Findings: NewFindings(p.Findings),
	}
}

func newSettings(s planner.Settings) map[string]any {
	out := map[string]any{}
	for _, p := range s.Pairs() {
		out[p.Key] = scalar(p.Value)
	}
	return out
}

// scalar keeps a text that is a JSON number as that number, digit by digit.
func scalar(s string) any {
	if s != "" && (s[0] == '-' || s[0] >= '0' && s[0] <= '9') && json.Valid([]byte(s)) {
		return json.Number(s)
	}
	return s
}
