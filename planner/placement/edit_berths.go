package placement

import (
	"slices"

	"lanewright/planner/demand"
	"lanewright/planner/units"
)

// lay puts a loop on a tier where nothing of it lies, before the lane of that
// number; empty lanes there make way for it.
func (b *board) lay(r *tier, lane int, h berth) {
	if r.fixed() {
		h.at = lane
		if lane == 0 {
			h.at = b.freeRun(r, h)
		}
		r.berths = append(r.berths, h)
		return
	}
	need := b.of(r, h).takes(h.n, b.in.Plant.GuideWidth)
	at := b.indexOf(r, lane)
	if lane == 0 {
		at = b.gapFor(r, need)
	}
	r.berths = slices.Insert(r.berths, at, h)
	b.yield(r, at+1, need)
}

// renew changes what lies in a berth: lanes more take the empty ones beside it,
// lanes fewer leave empty ones.
func (b *board) renew(r *tier, at int, h berth) {
	was := r.berths[at]
	lanes := b.count(r, was)
	if h.n == was.n && h.wish == was.wish {
		return
	}
	h.at, h.closed = was.at, was.closed
	r.berths[at] = h
	if more := b.count(r, h) - lanes; more > 0 && !r.fixed() {
		b.yield(r, at+1, units.Length(more)*(b.of(r, h).width+b.in.Plant.GuideWidth))
	} else if more < 0 {
		b.free(r, at, -more)
	}
}

// vacate takes a loop off a tier and leaves its lanes empty.
func (b *board) vacate(r *tier, at int) { b.shrink(r, at, 0) }

// shrink leaves n containers in a berth; the lanes they do not need are empty.
func (b *board) shrink(r *tier, at, n int) {
	lanes := b.count(r, r.berths[at])
	if n == 0 {
		b.wish[r.berths[at].loop] = r.berths[at].wish
	}
	h := r.berths[at]
	r.berths[at].n = n
	b.freeOf(r, at, lanes-b.of(r, h).lanes(n), h)
}

// free makes empty lanes of so many that a berth has no longer.
func (b *board) free(r *tier, at, lanes int) { b.freeOf(r, at, lanes, r.berths[at]) }

func (b *board) freeOf(r *tier, at, lanes int, was berth) {
	h := r.berths[at]
	keep := b.of(r, was).lanes(h.n)
	if r.fixed() {
		if h.n == 0 {
			r.berths = slices.Delete(r.berths, at, at+1)
		}
		return
	}
	width := b.of(r, was).width
	var left []berth
	for i := range lanes {
		e := berth{width: width}
		if slices.Contains(h.closed, keep+i) {
			e.closed = []int{0}
		}
		left = append(left, e)
	}
	r.berths[at].closed = slices.DeleteFunc(slices.Clone(h.closed), func(i int) bool { return i >= keep })
	r.berths = slices.Insert(r.berths, at+1, left...)
	if h.n == 0 {
		r.berths = slices.Delete(r.berths, at, at+1)
	}
}

// yield takes out the empty lanes from a berth on, until they have given so much
// width or a lane in use or closed follows.
func (b *board) yield(r *tier, at int, need units.Length) {
	for at < len(r.berths) && need > 0 && r.berths[at].open() {
		need -= r.berths[at].width + b.in.Plant.GuideWidth
		r.berths = slices.Delete(r.berths, at, at+1)
	}
}

// open reports whether a berth is an empty lane that a loop may take.
func (h berth) open() bool { return h.empty() && len(h.closed) == 0 }

// find is the number of the berth in which a loop lies, -1 for none.
func (r *tier) find(k demand.Key) int {
	return slices.IndexFunc(r.berths, func(h berth) bool { return h.loop == k })
}

// berth is what lies there.
func (p berthAt) berth() *berth { return &p.tier.berths[p.at] }

// names reports whether a spot names the rack and level of the berth.
func (p berthAt) names(s Spot) bool {
	return s.Rack == p.tier.rack.Rack && s.Level == p.tier.level.Level.Level
}

// numberOf is the number of a berth's first lane, from 1.
func (b *board) numberOf(r *tier, at int) int {
	if r.fixed() {
		return r.berths[at].at
	}
	lane := 1
	for _, h := range r.berths[:at] {
		lane += b.count(r, h)
	}
	return lane
}

// indexOf is the berth before which lane of that number begins; a number inside a
// loop's lanes means before them, one beyond the last behind it.
func (b *board) indexOf(r *tier, lane int) int {
	next := 1
	for i, h := range r.berths {
		if next += b.count(r, h); lane < next {
			return i
		}
	}
	return len(r.berths)
}

// gapFor is the berth where empty lanes side by side first give so much width,
// else the one behind the last lane that is in use or closed.
func (b *board) gapFor(r *tier, need units.Length) int {
	start, width, after := 0, units.Length(0), 0
	for i, h := range r.berths {
		if !h.open() {
			start, width, after = i+1, 0, i+1
			continue
		}
		if width += h.width + b.in.Plant.GuideWidth; width >= need {
			return start
		}
	}
	return after
}

// freeRun is the first of the fixed lanes, free and wide enough, that would hold
// all of a loop side by side; where there are none it is one beyond the last.
func (b *board) freeRun(r *tier, h berth) int {
	y := b.of(r, h)
	taken, _ := b.seatFixed(r)
	run, right := 0, units.Length(0)
	for i, width := range r.level.Fixed {
		right += width
		if taken[i] >= 0 || slices.Contains(r.shut, i+1) || width < y.width || right > r.usable {
			run = 0
		} else if run++; run == y.lanes(h.n) {
			return i + 2 - run
		}
		right += b.in.Plant.GuideWidth
	}
	return len(r.level.Fixed) + 1
}

// replace lets a loop without a lane take the place of another: all its containers
// or, where a swap took its place before, those that had one.
func (b *board) replace(p berthAt, k demand.Key) {
	h := p.berth()
	n := b.loops[k].Containers
	if had, known := b.had[k]; known {
		n = min(n, had)
	}
	b.wish[h.loop], b.had[h.loop] = h.wish, h.n
	h.loop, h.n, h.wish, h.moved = k, n, b.wish[k], true
}

// stands reports whether a spot's rack, and its level where it names one, is there.
func (b *board) stands(s Spot) bool {
	return slices.ContainsFunc(b.tiers, func(r *tier) bool {
		return r.rack.Rack == s.Rack && (s.Level == 0 || r.level.Level.Level == s.Level)
	})
}
