package structure

import (
	"cmp"
	"math"
	"slices"

	"lanewright/planner/ergonomics"
	"lanewright/planner/units"
)

// shelving puts the items on levels.
type shelving struct {
	// group is the level of each item, picks the pick height of each group; both
	// count groups from 0 in no order.
	group  []int
	groups int
	picks  []units.Length
	width  units.Length
	effort float64
	best   bool
}

// better compares by width, then effort.
func (s shelving) better(o shelving) bool {
	return s.width < o.width || s.width == o.width && s.effort < o.effort-1e-9
}

// search finds the items' shelving; ok is false where none keeps the limits.
func (d *designer) search() (shelving, bool) {
	if len(d.items) == 0 {
		return shelving{}, false
	}
	if len(d.items) <= mostTried {
		return d.tryAll()
	}
	return d.improved(d.byHeight())
}

// tryAll tries every partition of the items into groups.
func (d *designer) tryAll() (best shelving, ok bool) {
	group := make([]int, len(d.items))
	var try func(n, groups int)
	try = func(n, groups int) {
		if n == len(group) {
			if s, fits := d.shelve(group, groups, best.width); fits && (!ok || s.better(best)) {
				best, ok = s, true
			}
			return
		}
		for g := range min(groups+1, d.w.MostLevels) {
			group[n] = g
			try(n+1, max(groups, g+1))
		}
	}
	try(0, 0)
	best.best = ok
	return best, ok
}

// shelve stacks groups with least effort; most is a width beyond which nobody
// asks, 0 is none.
func (d *designer) shelve(group []int, groups int, most units.Length) (s shelving, ok bool) {
	widths, pitches := make([]units.Length, groups), make([]units.Length, groups)
	loads, counts := make([]float64, groups), make([]int, groups)
	for n, g := range group {
		it := d.items[n]
		widths[g] += it.width
		if counts[g]++; counts[g] > 1 {
			widths[g] += d.w.GuideWidth
		}
		pitches[g] = max(pitches[g], d.pitch(it.box.Height))
		loads[g] += it.kg
	}
	s = shelving{group: slices.Clone(group), groups: groups, width: slices.Max(widths)}
	if slices.Max(loads) > d.most || most > 0 && s.width > most {
		return s, false
	}
	if widest := d.widest(); widest > 0 && up(s.width, d.k.CutStep) > widest {
		return s, false
	}
	return d.stack(s, pitches)
}

// pitch is the distance to the next level over containers of that height: they,
// the hand, and what the level takes itself.
func (d *designer) pitch(height units.Length) units.Length {
	return up(length(float64(height)*d.tilt())+d.w.Hand+d.deep+2*units.Millimetre, grid)
}

// lowest is the least pick height of the lowest supply level: over the return
// level where that lies below.
func (d *designer) lowest() units.Length {
	low := up(max(d.w.Low, d.foot+d.deep+d.side), grid)
	if d.w.Return == ReturnBelow {
		low = max(low, d.returnPick()+d.pitch(d.w.ReturnHeight))
	}
	return low
}

// stack orders the groups and lifts them as a whole, in steps of 50 mm, with
// least effort. How high the next group comes depends on which ones lie below,
// not on their order, so the best order is found set by set.
func (d *designer) stack(s shelving, pitches []units.Length) (shelving, bool) {
	s.effort = math.Inf(1)
	for base := d.lowest(); base <= d.w.High; base += 50 * units.Millimetre {
		effort, order, ok := d.order(s, pitches, base)
		if !ok || effort >= s.effort-1e-9 {
			continue
		}
		s.effort, s.picks = effort, make([]units.Length, s.groups)
		at := base
		for _, g := range order {
			s.picks[g] = at
			at += pitches[g]
		}
	}
	return s, s.picks != nil
}

// order finds the order of the groups from base upwards with least effort.
func (d *designer) order(s shelving, pitches []units.Length, base units.Length) (effort float64, order []int, ok bool) {
	sets := 1 << s.groups
	best, last := make([]float64, sets), make([]int, sets)
	for set := 1; set < sets; set++ {
		best[set] = math.Inf(1)
		for g := range s.groups {
			below := set &^ (1 << g)
			if below == set || math.IsInf(best[below], 1) {
				continue
			}
			pick := base
			for o := range s.groups {
				if below&(1<<o) != 0 {
					pick += pitches[o]
				}
			}
			if pick > d.w.High {
				continue
			}
			if e := best[below] + d.effortOf(s, g, pick); e < best[set]-1e-9 {
				best[set], last[set] = e, g
			}
		}
	}
	if math.IsInf(best[sets-1], 1) {
		return 0, nil, false
	}
	for set := sets - 1; set > 0; set &^= 1 << last[set] {
		order = append(order, last[set])
	}
	slices.Reverse(order)
	return best[sets-1], order, true
}

// effortOf is the effort of a group with that pick height, by planning rule 5.
func (d *designer) effortOf(s shelving, g int, pick units.Length) (effort float64) {
	for n, of := range s.group {
		if of == g {
			half, need := d.items[n].box.Height/2, d.needs[n]
			effort += need.Picked*(1/ergonomics.VM(pick+half)-1) + need.Loaded*(1/ergonomics.VM(pick+d.drop+half)-1)
		}
	}
	return effort
}

// byHeight fills levels with the highest items first, each with what still fits
// a width, the least width that keeps the limits.
func (d *designer) byHeight() (best shelving, ok bool) {
	order := make([]int, len(d.items))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(d.items[b].box.Height, d.items[a].box.Height), cmp.Compare(d.items[b].width, d.items[a].width))
	})
	low, high := units.Length(0), units.Length(0)
	for _, it := range d.items {
		low, high = max(low, it.width), high+it.width+d.w.GuideWidth
	}
	for low <= high {
		width := (low + high) / 2
		s, fits := d.fill(order, width)
		if !fits {
			low = width + units.Millimetre
			continue
		}
		best, ok = s, true
		high = width - units.Millimetre
	}
	return best, ok
}

// fill puts the items in order on the first level that has room.
func (d *designer) fill(order []int, width units.Length) (shelving, bool) {
	group := make([]int, len(d.items))
	var used []units.Length
	for _, n := range order {
		w := d.items[n].width
		g := slices.IndexFunc(used, func(u units.Length) bool { return u+d.w.GuideWidth+w <= width })
		if g < 0 {
			g = len(used)
			used = append(used, -d.w.GuideWidth)
		}
		used[g] += d.w.GuideWidth + w
		group[n] = g
	}
	if len(used) > d.w.MostLevels {
		return shelving{}, false
	}
	return d.shelve(group, len(used), 0)
}

// improved moves single items and exchanges pairs while that helps.
func (d *designer) improved(s shelving, ok bool) (shelving, bool) {
	for better := ok; better; {
		better = false
		for n := range s.group {
			for g := range min(s.groups+1, d.w.MostLevels) {
				better = d.change(&s, func(group []int) { group[n] = g }) || better
			}
			for o := range n {
				better = d.change(&s, func(group []int) { group[n], group[o] = group[o], group[n] }) || better
			}
		}
	}
	return s, ok
}

// change keeps a changed grouping where it is better.
func (d *designer) change(s *shelving, how func([]int)) bool {
	group := slices.Clone(s.group)
	how(group)
	if slices.Equal(group, s.group) {
		return false
	}
	groups := compact(group)
	t, fits := d.shelve(group, groups, s.width)
	if fits && t.better(*s) {
		*s = t
		return true
	}
	return false
}

// compact numbers the groups that are used from 0 and returns how many.
func compact(group []int) int {
	names := slices.Compact(slices.Sorted(slices.Values(group)))
	for i, g := range group {
		group[i], _ = slices.BinarySearch(names, g)
	}
	return len(names)
}
