package placement

import (
	"slices"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
)

// heeded lists the pins that count. Those that plant.Check calls errors because
// their place does not exist, or because an earlier row says otherwise, count
// as left out: an unknown rack, a level that is unknown or for returns, a lane
// beyond the fixed ones, and the later of two that contradict each other.
func heeded(in Input) []plant.Pin {
	h := pinBook{byLoop: map[demand.Key]plant.Pin{}, byLane: map[Spot]demand.Key{}}
	var list []plant.Pin
	for _, p := range in.Index.Plant.Pins {
		if r := in.Index.Racks[p.Rack]; r != nil && exists(in.Index, p, r) && h.agrees(p, meantBy(in, p, r)) {
			list = append(list, p)
		}
	}
	return list
}

// exists reports whether the rack has the pin's level and lane.
func exists(x *plant.Index, p plant.Pin, r *plant.Rack) bool {
	t := x.RackTypes[r.RackType]
	if t == nil || p.Level == 0 {
		return true
	}
	if !hasSupply(t, p.Level) {
		return false
	}
	return !slices.ContainsFunc(r.FixedLanes, func(f plant.FixedLanes) bool { return f.Level == p.Level && p.Lane > len(f.Widths) })
}

// hasSupply reports whether racks of a type have that supply level.
func hasSupply(t *plant.RackType, level int) bool {
	return slices.ContainsFunc(t.Levels, func(l plant.Level) bool { return l.Level == level && l.Kind == plant.Supply })
}

// meantBy lists the loops that a pin means, by station.
func meantBy(in Input, p plant.Pin, r *plant.Rack) []demand.Key {
	var keys []demand.Key
	for i := range in.Loops {
		if k := in.Loops[i].Key; k.Part == p.Part && k.Cell == r.Cell && (p.Station == "" || p.Station == k.Station) {
			keys = append(keys, k)
		}
	}
	slices.SortFunc(keys, demand.Key.Compare)
	return keys
}

// pinBook holds what the rows so far have pinned.
type pinBook struct {
	byLoop map[demand.Key]plant.Pin
	byLane map[Spot]demand.Key
}

// agrees notes a pin for each of its loops and reports whether no earlier row
// contradicts it for any.
func (h *pinBook) agrees(p plant.Pin, keys []demand.Key) bool {
	good := true
	for _, k := range keys {
		other, known := h.byLoop[k]
		if known && (other.Rack != p.Rack || (other.Level > 0 && p.Level > 0 && other.Level != p.Level)) {
			good = false
			continue
		}
		if other.Level == 0 {
			h.byLoop[k] = p
		}
		if p.Level == 0 || p.Lane == 0 {
			continue
		}
		at := Spot{p.Rack, p.Level, p.Lane}
		if owner, taken := h.byLane[at]; taken && owner != k {
			good = false
			continue
		}
		h.byLane[at] = k
	}
	return good
}

// addPins joins each loop with the pins on racks of the cell that mean it.
func (c *cell) addPins(pins []plant.Pin) {
	for _, p := range pins {
		if c.index.Racks[p.Rack].Cell != c.code {
			continue
		}
		for i := range c.loops {
			l := &c.loops[i]
			if l.Part != p.Part || (p.Station != "" && p.Station != l.Station) {
				continue
			}
			l.pins = append(l.pins, p)
			c.lanePins = c.lanePins || p.Lane > 0
			if p.Lane > 0 && !slices.Contains(l.lanes, p.Lane) {
				l.lanes = append(l.lanes, p.Lane)
			}
		}
	}
}
