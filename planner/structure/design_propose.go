package structure

import (
	"cmp"
	"fmt"
	"slices"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// returnDrop is the drop of the return level, to whole millimetres.
func (d *designer) returnDrop() units.Length {
	return up(units.Length(units.R(int64(d.lane), 1).Mul(d.k.ReturnSlope).Floor()), units.Millimetre)
}

// returnPick is the pick height of a return level below: its low edge, at the
// load side, lies over the braces.
func (d *designer) returnPick() units.Length {
	return up(d.foot+d.side+d.deep+d.returnDrop()+2*units.Millimetre, grid)
}

// propose makes the rack type of a shelving.
func (d *designer) propose(s shelving) Proposal {
	p := Proposal{Effort: s.effort, Best: s.best}
	t := &p.Type
	t.Depth, t.OnCasters, t.Kit = d.w.Depth, d.w.OnCasters, d.k.Kit
	usable := up(s.width, d.k.CutStep)
	t.Width = usable + 2*d.side
	order := make([]int, s.groups)
	for g := range order {
		order[g] = g
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(s.picks[a], s.picks[b]) })
	if d.w.Return == ReturnBelow {
		d.addReturn(t, d.returnPick(), usable)
	}
	top := units.Length(0)
	for _, g := range order {
		high := d.addSupply(&p, s, g, usable)
		load := s.picks[g] + d.drop
		top = max(top, s.picks[g]+high+d.w.Hand, load+length(float64(high)*d.tilt()))
	}
	if d.w.Return == ReturnAbove {
		// Where the two slope against each other they are nearest at the load side.
		pick := up(top+d.returnDrop()+d.deep+2*units.Millimetre, grid)
		d.addReturn(t, pick, usable)
		top = pick + d.w.ReturnHeight + d.w.Hand
	}
	t.Height = up(top+d.k.Tube(plant.AsBrace).Height+4*units.Millimetre, grid)
	t.RackType = plant.RackTypeCode(fmt.Sprintf("designed %s x %s, supply levels: %d", t.Width, t.Depth, s.groups))
	return p
}

// addReturn adds the return level.
func (d *designer) addReturn(t *plant.RackType, pick, usable units.Length) {
	t.Levels = append(t.Levels, plant.Level{
		Level: len(t.Levels) + 1, Kind: plant.Return, PickHeight: pick, Drop: -d.returnDrop(),
		LaneLength: d.lane, UsableWidth: usable, ClearHeight: d.w.ReturnHeight + d.w.Hand,
	})
}

// addSupply adds a supply level with its lanes and returns the height of its
// highest container.
func (d *designer) addSupply(p *Proposal, s shelving, g int, usable units.Length) (high units.Length) {
	level := len(p.Type.Levels) + 1
	at := units.Length(0)
	for n, of := range s.group {
		if of != g {
			continue
		}
		it := d.items[n]
		high = max(high, it.box.Height)
		left := d.needs[n].Containers
		for range it.lanes {
			p.Lanes = append(p.Lanes, Lane{Level: level, Offset: at, Width: it.laneWidth, Box: it.box, Capacity: it.capacity, Containers: min(left, it.capacity)})
			p.Holds = append(p.Holds, n)
			left -= min(left, it.capacity)
			at += it.laneWidth + d.w.GuideWidth
		}
	}
	p.Type.Levels = append(p.Type.Levels, plant.Level{
		Level: level, Kind: plant.Supply, PickHeight: s.picks[g], Drop: d.drop,
		LaneLength: d.lane, UsableWidth: usable, ClearHeight: high + d.w.Hand,
	})
	return high
}
