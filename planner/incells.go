package planner

import (
	"slices"

	"lanewright/planner/finding"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/simulation"
	"lanewright/planner/structure"
)

// InCells is what of a plant and its plan concerns some cells: their racks, lanes,
// loops, moves and findings, and the routes that stop at their racks, with all
// their stops. What is proved of routes stays that of the whole plant. No cells
// are all of them. The given facts and plan stay as they are.
func InCells(facts *plant.Plant, p *Plan, cells ...plant.CellCode) (*plant.Plant, *Plan) {
	if len(cells) == 0 {
		return facts, p
	}
	chosen := make(map[plant.CellCode]bool, len(cells))
	for _, c := range cells {
		chosen[c] = true
	}
	place := *facts
	place.Cells = picked(facts.Cells, func(c plant.Cell) bool { return chosen[c.Cell] })
	one := *p
	one.Loops = picked(p.Loops, func(l Loop) bool { return chosen[l.Cell] })
	one.Racks = picked(p.Racks, func(r structure.Rack) bool { return chosen[r.Cell] })
	racks := make(map[plant.RackCode]bool, len(one.Racks))
	for _, r := range one.Racks {
		racks[r.Rack] = true
	}
	one.Lanes = picked(p.Lanes, func(l placement.Lane) bool { return racks[l.Rack] })
	one.Unplaced = picked(p.Unplaced, func(u placement.Unplaced) bool { return chosen[u.Loop.Cell] })
	one.Cells = picked(p.Cells, func(b placement.Bound) bool { return chosen[b.Cell] })
	one.Balance = picked(p.Balance, func(b placement.Balance) bool { return chosen[b.Cell] })
	one.Routes = picked(p.Routes, func(r routing.Route) bool {
		return slices.ContainsFunc(r.Stops, func(s routing.Stop) bool { return racks[s.Rack] })
	})
	one.Unserved = picked(p.Unserved, func(u routing.Unserved) bool { return racks[u.Rack] })
	one.Moves = picked(p.Moves, func(m placement.Move) bool { return chosen[m.Cell] })
	one.MoveSteps = picked(p.MoveSteps, func(s placement.Step) bool { return chosen[s.Cell] })
	one.Findings = picked(p.Findings, func(f finding.Finding) bool {
		return chosen[plant.CellCode(f.Subject.Cell)] || f.Subject.Cell == "" && racks[plant.RackCode(f.Subject.Rack)]
	})
	if p.Proof != nil {
		proof := *p.Proof
		proof.Loops = picked(proof.Loops, func(l simulation.LoopResult) bool { return chosen[l.Loop.Cell] })
		one.Proof = &proof
	}
	return &place, &one
}
