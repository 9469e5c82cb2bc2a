package sizing

import (
	"cmp"
	"slices"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Obstacle says why the whole of a loop can not lie on one level.
type Obstacle string

// Obstacles in the order in which they are looked for. Fits is none.
const (
	Fits       Obstacle = ""
	TooHigh    Obstacle = "height"
	TooLong    Obstacle = "length"
	TooWide    Obstacle = "width"
	TooMassive Obstacle = "mass"
)

// LaneChoice is how the whole of a loop would lie on one supply level of a rack
// type that holds nothing else.
type LaneChoice struct {
	RackType plant.RackTypeCode
	// Level counts from 1, the lowest.
	Level int
	// Lane has its capacity and lanes also where the level is too narrow or too
	// weak for all of them; a container that is too high or too long has 0.
	Lane
	// TotalWidth is that of the lanes with the guides between them.
	TotalWidth units.Length
	Obstacle   Obstacle
}

// LaneChoices returns how l would lie on each supply level of each rack type of
// the plant, by code of the rack type, level and flow side, length along
// first. The importers give a plant without rack types those of
// plant.ShippedRackTypes. Where a code stands twice its first row counts. The
// plant's fill limit is not applied: it leaves room beside other loops.
func LaneChoices(x *plant.Index, l Loop, s plant.Settings) []LaneChoice {
	box := x.Containers[l.Container]
	if box == nil {
		return nil
	}
	var list []LaneChoice
	for _, t := range rackTypes(x) {
		for _, level := range t.Levels {
			if level.Kind != plant.Supply {
				continue
			}
			for _, side := range box.Sides() {
				c := lie(*box, l.Containers, level, s, side)
				if c.Obstacle == Fits && tooMassive(l, t, level) {
					c.Obstacle = TooMassive
				}
				c.RackType = t.RackType
				list = append(list, c)
			}
		}
	}
	return list
}

// rackTypes lists the plant's rack types by code, each once.
func rackTypes(x *plant.Index) []*plant.RackType {
	list := make([]*plant.RackType, 0, len(x.RackTypes))
	for _, t := range x.RackTypes {
		list = append(list, t)
	}
	slices.SortFunc(list, func(a, b *plant.RackType) int { return cmp.Compare(a.RackType, b.RackType) })
	return list
}

// lie is LaneOn with the width of all lanes, Σ lane widths + guide width·(lanes
// − 1), and the first of height, length and width that is in the way.
func lie(box plant.Container, containers int, level plant.Level, s plant.Settings, side plant.FlowSide) LaneChoice {
	lane, ok := LaneOn(box, containers, level, s, side)
	c := LaneChoice{Level: level.Level, Lane: lane}
	if !ok {
		c.Obstacle = TooLong
		if box.Height+s.HandClearance > level.ClearHeight {
			c.Obstacle = TooHigh
		}
		return c
	}
	c.TotalWidth = units.Length(lane.Lanes)*(lane.Width+s.GuideWidth) - s.GuideWidth
	if c.TotalWidth > level.UsableWidth {
		c.Obstacle = TooWide
	}
	return c
}

// tooMassive compares all full containers of l with what the level, and what
// the rack less its own mass, may carry.
func tooMassive(l Loop, t *plant.RackType, level plant.Level) bool {
	load := l.Gross.Ratio().Mul(units.Int(int64(l.Containers)))
	over := func(limit units.Mass) bool { return load.Cmp(limit.Ratio()) > 0 }
	return level.MassLimit > 0 && over(level.MassLimit) || t.MassLimit > 0 && over(t.MassLimit-t.OwnMass)
}
