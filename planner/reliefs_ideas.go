package planner

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/sizing"
	"lanewright/planner/units"
)

// Bounds on what is tried, so that the answer does not take long.
const (
	mostShort   = 4 // loops without a lane, and loops of most lanes
	mostSteps   = 4 // shorter intervals
	mostBoxes   = 4 // other containers of one loop
	mostSwapped = 6 // racks that could be of another type
)

// ideas lists the changes that are tried, in a fixed order.
func (t *trial) ideas() []idea {
	return slices.Concat(t.intervals(), t.containers(), t.pins(), t.served(), t.neighbours(), t.types(), t.levels(), t.more())
}

// short lists the loops of the cell without a lane, those first that miss most;
// where there are none, those that take most lanes.
func (t *trial) short() []sizing.Loop {
	missing := map[demand.Key]int{}
	for _, u := range t.base.layout.Unplaced {
		missing[u.Loop] = u.Containers
	}
	if len(missing) == 0 {
		for _, lane := range t.base.layout.Lanes {
			if !lane.Empty() {
				missing[lane.Loop]++
			}
		}
	}
	list := slices.DeleteFunc(slices.Clone(t.base.loops), func(l sizing.Loop) bool { return missing[l.Key] == 0 })
	slices.SortStableFunc(list, func(a, b sizing.Loop) int { return cmp.Compare(missing[b.Key], missing[a.Key]) })
	return list[:min(len(list), mostShort)]
}

// saving is what a shorter interval saves a loop.
type saving struct {
	loop  demand.Key
	lanes int
	// visits are the rounds an hour that it adds.
	visits units.Ratio
}

// intervals shortens the interval of the loops that save most lanes for each
// round more an hour: of the best one, the best three, all that save any, and
// of those without a lane.
func (t *trial) intervals() []idea {
	var list []idea
	var last time.Duration
	choices := slices.Clone(t.plan.Settings.Plant.IntervalChoices)
	slices.Reverse(choices)
	steps := 0
	for _, d := range choices {
		savings := t.savings(d)
		if len(savings) == 0 || d == last || steps == mostSteps {
			continue
		}
		last = d
		steps++
		for _, n := range []int{1, 3, len(savings)} {
			list = append(list, t.shorter(d, keysOf(savings[:min(n, len(savings))])))
		}
		var short []demand.Key
		for _, l := range t.short() {
			if len(t.base.layout.Unplaced) > 0 && l.Interval > d && l.Fixed == 0 {
				short = append(short, l.Key)
			}
		}
		if len(short) > 0 {
			list = append(list, t.shorter(d, short))
		}
	}
	return list
}

func keysOf(list []saving) []demand.Key {
	keys := make([]demand.Key, len(list))
	for i, s := range list {
		keys[i] = s.loop
	}
	slices.SortFunc(keys, demand.Key.Compare)
	return keys
}

// savings lists the loops of the cell that need fewer lanes at an interval, the
// best first.
func (t *trial) savings(d time.Duration) []saving {
	index := plant.NewIndex(t.facts)
	var list []saving
	for _, l := range t.base.loops {
		capacity := t.capacity(l.Key)
		if l.Interval <= d || l.Fixed > 0 || capacity == 0 {
			continue
		}
		shorter := l.Loop
		if l.Response == l.Interval {
			shorter.Response = d
		}
		shorter.Interval, shorter.Wait = d, 0
		now, _ := sizing.Size(index, []demand.Loop{shorter})
		if n := lanesFor(l.Containers, capacity) - lanesFor(now[0].Containers, capacity); n > 0 {
			rounds := func(d time.Duration) units.Ratio { return units.Int(60).Div(units.Minutes(d)) }
			list = append(list, saving{l.Key, n, rounds(d).Sub(rounds(l.Interval))})
		}
	}
	slices.SortStableFunc(list, func(a, b saving) int {
		return units.Int(int64(b.lanes)).Div(b.visits).Cmp(units.Int(int64(a.lanes)).Div(a.visits))
	})
	return list
}

func lanesFor(containers, capacity int) int { return (containers + capacity - 1) / capacity }

// capacity is what the first lane of a loop holds, 0 where it has none.
func (t *trial) capacity(k demand.Key) int {
	for _, lane := range t.base.layout.Lanes {
		if lane.Loop == k {
			return lane.Capacity
		}
	}
	return 0
}

func (t *trial) shorter(d time.Duration, keys []demand.Key) idea {
	edits := make([]placement.Edit, len(keys))
	for i, k := range keys {
		edits[i] = placement.ChangeInterval{Loop: k, Interval: d}
	}
	return idea{
		kind: ShorterInterval, loops: keys, edits: edits,
		text: fmt.Sprintf("Refill %s every %s.", parts(keys), wait(d)),
		note: "The visits this adds are estimated: a rack is served at the shortest interval of its loops. What the routes make of it, only a new plan tells.",
		change: func(p *plant.Plant) {
			for i := range p.Usage {
				u := &p.Usage[i]
				if slices.Contains(keys, demand.Key{Part: u.Part, Cell: u.Cell, Station: u.Station}) {
					u.Interval = d
				}
			}
		},
	}
}

// parts names loops by part and station: "part A at station 10", "parts A and B",
// "7 parts (A, B, C, D, E...)".
func parts(keys []demand.Key) string {
	var names []string
	for _, k := range keys {
		names = append(names, string(k.Part))
	}
	names = slices.Compact(names)
	switch n := len(names); {
	case len(keys) == 1:
		return fmt.Sprintf("part %s at station %s", keys[0].Part, keys[0].Station)
	case n == 1:
		return fmt.Sprintf("part %s at %d stations", names[0], len(keys))
	case n <= 5:
		return "parts " + finding.And(names)
	default:
		return fmt.Sprintf("%d parts (%s...)", n, strings.Join(names[:5], ", "))
	}
}

// containers puts the loops without a lane, or those of most lanes, into other
// containers that are a choice on any level of the cell.
func (t *trial) containers() []idea {
	x := plant.NewIndex(t.facts)
	var list []idea
	for _, l := range t.short() {
		seen := map[plant.ContainerCode]bool{l.Container: true}
		var mine []idea
		for _, level := range t.supplyLevels() {
			choices, _ := sizing.ContainerChoices(x, l, t.plan.Settings.Plant, sizing.DefaultLimits(level))
			slices.SortStableFunc(choices, func(a, b sizing.ContainerChoice) int { return cmp.Compare(a.TotalWidth, b.TotalWidth) })
			for _, c := range choices {
				if !seen[c.Container] && c.Obstacle == sizing.Fits && len(mine) < mostBoxes {
					seen[c.Container] = true
					mine = append(mine, t.repacked(l, c))
				}
			}
		}
		list = append(list, mine...)
	}
	return list
}

func (t *trial) repacked(l sizing.Loop, c sizing.ContainerChoice) idea {
	i := idea{
		kind: OtherContainer, loops: []demand.Key{l.Key},
		text: fmt.Sprintf("Put part %s into container %s, %s in each.", l.Part, c.Container, counted(int(c.Pack), "piece")),
		note: "The standard pack is estimated by volume and mass; try one before you change the sheet.",
		change: func(p *plant.Plant) {
			for i := range p.Parts {
				if p.Parts[i].Part == l.Part {
					p.Parts[i].Container, p.Parts[i].Pack = c.Container, c.Pack
				}
			}
		},
	}
	for _, k := range t.base.loops {
		if k.Part == l.Part {
			i.edits = append(i.edits, placement.ChangeContainer{Loop: k.Key, Container: c.Container, Pack: c.Pack})
		}
	}
	for k := range t.loops {
		if k.Part == l.Part && k.Cell != t.cell {
			i.note += " The part is used in other cells too; there the container changes with it."
			break
		}
	}
	return i
}

// supplyLevels are the supply levels of the cell's racks on which containers
// lie differently: the highest clear height first.
func (t *trial) supplyLevels() []plant.Level {
	var list []plant.Level
	for _, r := range t.base.layout.Racks {
		for _, l := range r.Levels {
			known := func(o plant.Level) bool { return o.ClearHeight == l.ClearHeight && o.LaneLength == l.LaneLength }
			if l.Kind == plant.Supply && !slices.ContainsFunc(list, known) {
				list = append(list, l.Level)
			}
		}
	}
	slices.SortFunc(list, func(a, b plant.Level) int {
		return cmp.Or(cmp.Compare(b.ClearHeight, a.ClearHeight), cmp.Compare(b.LaneLength, a.LaneLength), cmp.Compare(a.Level, b.Level))
	})
	return list[:min(len(list), 3)]
}

// pins takes out the pins of loops without a lane.
func (t *trial) pins() []idea {
	if len(t.base.layout.Unplaced) == 0 {
		return nil
	}
	var list []idea
	for _, l := range t.short() {
		means := func(p plant.Pin) bool { return p.Part == l.Part && (p.Station == "" || p.Station == l.Station) }
		if !slices.ContainsFunc(t.facts.Pins, means) {
			continue
		}
		list = append(list, idea{
			kind: WithoutPin, loops: []demand.Key{l.Key}, edits: []placement.Edit{placement.UnpinLoop{Loop: l.Key}}, text: fmt.Sprintf("Take out the pin of part %s at station %s.", l.Part, l.Station),
			change: func(p *plant.Plant) { p.Pins = slices.DeleteFunc(p.Pins, means) },
		})
	}
	return list
}
