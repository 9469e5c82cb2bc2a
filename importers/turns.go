package importers

import "lanewright/planner/plant"

// turn reads a row of the sheet Turns: who comes From point to At point may go on
// To point, or may not. A blank end means any; From = To is turning round.
func (r *row) turn() plant.Turn {
	return plant.Turn{
		From:    plant.PointCode(r.may("From point").code()),
		At:      plant.PointCode(r.must("At point").code()),
		To:      plant.PointCode(r.may("To point").code()),
		Allowed: r.may("Allowed").yes(false),
		Origin:  r.origin(),
	}
}
