// Package sizing decides how many containers each loop needs for its refill
// interval, and how many lanes hold them on a given level.
package sizing

import (
	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Loop is a sized replenishment loop.
type Loop struct {
	demand.Loop
	// Mean is the mean use over R + L, in pieces.
	Mean units.Ratio
	// Covered is D of the rule, the pieces the loop must cover over R + L; for
	// a fixed loop what the rule would have covered.
	Covered units.Ratio
	// Cards is the textbook number of kanban, ceil(D/q).
	Cards int
	// Rule is the number of containers by the rule, max(2, Cards + 1), at most
	// MostContainers.
	Rule int
	// Containers is the number the loop has: Rule, or what the sheet fixes.
	Containers int
	// Sized is the demand model shown to people: the loop's, or fixed.
	Sized plant.DemandModel
	// Gross is the mass of one full container.
	Gross units.Mass
}

// Lane is how a loop lies on a level.
type Lane struct {
	Side plant.FlowSide
	// Along is the container's measure along the lane; Width the lane's least
	// width, the container's other side and its clearance on both sides.
	Along, Width units.Length
	// Capacity is containers per lane, at least 1; Lanes what the whole loop
	// needs, at least 1.
	Capacity, Lanes int
}
