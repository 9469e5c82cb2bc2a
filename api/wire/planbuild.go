package wire

import (
	"lanewright/planner"
	"lanewright/planner/buildlist"
)

// PlanBuild is what the racks that a plan proposes are built from, all cut together.
// Places, holes and steps of every piece are in Build.
type PlanBuild struct {
	Racks []PlanRack `json:"racks"`
	Buys  []Buy      `json:"buys" doc:"what they take together"`
	Total BuyTotal   `json:"total"`
	Cuts  []CutList  `json:"cut_lists" doc:"all pieces of the racks cut together, part by part, the stock on hand first"`
}

// PlanRack is one of those racks.
type PlanRack struct {
	Rack     string   `json:"rack"`
	RackType string   `json:"rack_type"`
	Cell     string   `json:"cell"`
	Kit      string   `json:"kit" doc:"empty where the kit lacks a part that every rack needs; then there is no list"`
	Pieces   []Group  `json:"pieces" doc:"those made alike together"`
	Total    BuyTotal `json:"total"`
}

// Built returns the document with what the proposed racks are built from; nil is
// nothing.
func (p *Plan) Built(b *planner.Build) *Plan {
	if b == nil {
		return p
	}
	with := *p
	with.Build = &PlanBuild{
		Racks: convert(b.Racks, newPlanRack), Buys: convert(b.Buys, newBuy), Total: newBuyTotal(b.Total), Cuts: convert(b.Cuts, newCutList),
	}
	return &with
}

func newPlanRack(r planner.RackBuild) PlanRack {
	w := PlanRack{
		Rack: string(r.Rack.Rack), Cell: string(r.Rack.Cell),
		Pieces: convert(r.List.Groups, func(g buildlist.Group) Group { return newGroup(r.List, g) }), Total: newBuyTotal(buildlist.Sum(r.List.Buys)),
	}
	if r.Rack.Type != nil {
		w.RackType = string(r.Rack.Type.RackType)
	}
	if r.Frame != nil {
		w.Kit = string(r.Frame.Kit.Kit)
	}
	return w
}
