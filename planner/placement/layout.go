// Package placement gives each loop its rack, level and lanes, proposes racks
// where there are too few, proves how far from the best it is, and says why a
// loop stayed without a lane.
package placement

import (
	"fmt"

	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/search"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// Lane is one lane of a rack's level.
type Lane struct {
	Rack  plant.RackCode
	Level int
	// Lane counts from 1, from the left seen from the pick side.
	Lane int
	Kind plant.LevelKind
	// Offset is the lane's left edge from the left end of the usable width.
	Offset, Width units.Length
	// Loop is the loop that lies here; the zero Key is an empty lane.
	Loop demand.Key
	// Side, Capacity and Containers are set where Loop is; on a return lane
	// Capacity and Containers are 0.
	Side                 plant.FlowSide
	Capacity, Containers int
}

// Empty reports whether no part lies in the lane.
func (l Lane) Empty() bool { return l.Loop == demand.Key{} }

// Unplaced is a loop, or the part of one, that got no lane.
type Unplaced struct {
	Loop demand.Key
	// Containers are those without a lane.
	Containers int
	// Reason is the code of the finding that explains it; Detail is its text:
	// the true obstacle with its millimetres, kilograms or metres.
	Reason, Detail string
}

// Bound is what was proved about one cell.
type Bound struct {
	Cell plant.CellCode
	// Unplaced counts containers without a lane; no layout has fewer than
	// UnplacedBound.
	Unplaced, UnplacedBound int
	// AddedCost is the cost of the racks added (their frontage in millimetres
	// where the plant gives no costs; a type without a cost beside others that
	// have one counts as dear per millimetre as the dearest, rounded up to
	// whole units of the currency); no layout that places as many
	// containers costs less than AddedCostBound.
	AddedCost, AddedCostBound float64
	// Effort is kg per net hour by the rule of section 5 of the planning
	// rules; no layout that places as many containers, adds racks of at most
	// the same cost and splits no more loops has less than EffortBound.
	Effort, EffortBound float64
	// Optimal is true only when all three gaps are zero.
	Optimal bool
	Stopped search.Stop
}

// Balance is what an engineer balances: lanes of one width class in a cell.
type Balance struct {
	Cell plant.CellCode
	// Width is the lane width of the class: the least width that a lane of
	// its loops needs on the flow side they were given (for an unplaced loop,
	// its narrowest).
	Width units.Length
	// Needed are the lanes its loops need, placed or not; Placed those they
	// got; Room how many more lanes of the class the cell's supply levels
	// could take as they are planned.
	Needed, Placed, Room int
}

// Layout is the placement of a whole plant.
type Layout struct {
	// Racks are all racks, those proposed included, by code.
	Racks []structure.Rack
	// Lanes are ordered by rack, level and lane.
	Lanes    []Lane
	Unplaced []Unplaced
	Bounds   []Bound
	Balance  []Balance
	Findings finding.List
}

// Spot is a rack and level, with the first lane there.
type Spot struct {
	Rack  plant.RackCode
	Level int
	Lane  int
}

// Address names a lane in the plant, as its label has it and its codes say:
// LENS-01/2-3 is lane 3, from the left seen from the pick side, of level 2, from
// below, of rack LENS-01.
func (s Spot) Address() string { return fmt.Sprintf("%s/%d-%d", s.Rack, s.Level, s.Lane) }

// Move is a change of rack or level against today's layout. From or To is nil
// for what is new or gone.
type Move struct {
	Part       plant.PartCode
	Cell       plant.CellCode
	Station    plant.StationCode
	From, To   *Spot
	Containers int
}
