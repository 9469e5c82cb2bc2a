package recompute

import "math"

// vertical is the vertical multiplier of the lifting equation at v mm, held at
// its 1750 mm value above.
func vertical(v float64) float64 { return 1 - 0.003*math.Abs(math.Min(v, 1750)/10-75) }

// effort is what one lane costs a cell per hour.
func (j *judge) effort(l planLane) float64 {
	loop := j.loopOf[l.key()]
	part := j.facts.by["Parts"][l.Part]
	c := j.facts.by["Containers"][part["Container"]]
	v := j.levelOf(spot{l.Rack, l.Level})
	half := c.num("Height", 0) / 2
	pick := v.num("Pick height", 0)
	pieces := loop.PiecesPerHour * float64(l.Containers) / float64(loop.Containers)
	e := pieces * part.num("Piece mass", 0) * (1/vertical(pick+half) - 1)
	e += pieces / part.num("Standard pack", 1) * j.gross(l.Part) * (1/vertical(pick+v.num("Drop", 0)+half) - 1)
	if d, ok := j.distance(j.rackOf[l.Rack], j.facts.stations[[2]string{l.Cell, l.Station}]); ok {
		e += pieces * 2 * d * 0.05
	}
	return e
}

func (j *judge) bounds() {
	unplaced, cost, effort := map[string]int{}, map[string]float64{}, map[string]float64{}
	for _, u := range j.plan.Unplaced {
		unplaced[u.Cell] += u.Containers
	}
	priced := false
	for _, t := range j.facts.by["Rack types"] {
		priced = priced || t.num("Cost", 0) > 0
	}
	for _, r := range j.plan.Racks {
		t := j.facts.by["Rack types"][r.RackType]
		if r.Proposed && priced {
			cost[r.Cell] += t.num("Cost", 0)
		} else if r.Proposed {
			cost[r.Cell] += t.num("Width", 0)
		}
	}
	for _, l := range j.plan.Lanes {
		if l.Part != "" {
			effort[l.Cell] += j.effort(l)
		}
	}
	for _, b := range j.plan.Bounds.Cells {
		j.near(float64(b.Unplaced), float64(unplaced[b.Cell]), "cell %s: unplaced", b.Cell)
		j.near(b.AddedCost, cost[b.Cell], "cell %s: added cost", b.Cell)
		j.near(b.Effort, effort[b.Cell], "cell %s: effort", b.Cell)
		if b.Unplaced < b.UnplacedBound || b.AddedCost < b.AddedCostBound-1e-6 || b.Effort < b.EffortBound*(1-1e-9)-1e-9 {
			j.say("cell %s: a bound is beaten by the plan: %+v", b.Cell, b)
		}
		closed := b.Unplaced == b.UnplacedBound && math.Abs(b.AddedCost-b.AddedCostBound) < 1e-6 && b.Effort-b.EffortBound <= 1e-6*math.Max(1, b.Effort)
		if b.Optimal && !closed {
			j.say("cell %s: called optimal with a gap: %+v", b.Cell, b)
		}
	}
	if n := len(j.facts.sheets["Cells"]); len(j.plan.Bounds.Cells) < n {
		j.say("%d cells have bounds, the sheet has %d", len(j.plan.Bounds.Cells), n)
	}
}
