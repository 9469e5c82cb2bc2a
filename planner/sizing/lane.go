package sizing

import (
	"lanewright/planner/plant"
)

// LaneOn returns how containers of c lie on level with side along the lane,
// and false where they do not fit its length or height:
//
//	capacity = ⌊lane length / along⌋, lanes = ⌈containers / capacity⌉,
//	width = across + 2·side clearance, height + hand clearance ≤ clear height.
//
// It does not compare the width with the level's: that depends on the lanes
// beside it. All measures are whole nanometres, so the rounding is exact.
func LaneOn(c plant.Container, containers int, level plant.Level, s plant.Settings, side plant.FlowSide) (Lane, bool) {
	along, across := c.Along(side)
	lane := Lane{Side: side, Along: along, Width: across + 2*s.SideClearance}
	if c.Height+s.HandClearance > level.ClearHeight || along <= 0 || along > level.LaneLength {
		return lane, false
	}
	lane.Capacity = int(level.LaneLength / along)
	lane.Lanes = max(1, (containers+lane.Capacity-1)/lane.Capacity)
	return lane, true
}
