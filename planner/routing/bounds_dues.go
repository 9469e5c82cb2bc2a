package routing

import (
	"cmp"
	"math"
	"slices"
)

// dues are what racks are charged of the driving of the rounds that serve them, so that
// no round's racks are charged more than it drives: then all of them together are a
// bound on what any rounds drive. They begin with each rack's part of its own trip,
// which a round that fills up at one point just pays. Where a point has less than a
// round takes, the rest of the round comes from nearer or from aside, and its racks can
// be charged more. A charge that is too high is paid back by the most that rounds to one
// farthest point are charged too much, times the racks at that point, which are no fewer
// than those rounds: so whatever the dues are, the bound holds. (Lagrangian relaxation
// with subgradients: Held, Karp, The traveling-salesman problem and minimum spanning
// trees: part II, Mathematical Programming 1, 1971, 6-25.)
type dues struct {
	// trip is the time of a round to each point, tour to each two: the shorter way round.
	trip, tour []float64
	// aside lists, for each point, those that are no farther, itself too, the least
	// detour first.
	aside [][]int32
	racks []charged
	// at are the racks of each point.
	at [][]int32
	// rank orders racks by what they are charged for their part, ranked the other way.
	rank, ranked []int32
	// outward are the points, the nearest first, top the highest rate to each and nearer.
	outward []int32
	top     []float64
	// chosen are the racks of the round that is looked at.
	chosen, best []int32
	// list are the racks that may be among them.
	list []int32
	// looked is how many rounds were looked at.
	looked int
	// back is what each rack at a point pays back.
	back []float64
}

// charged is a rack: where it is, its part of a round, what it takes up beside driving,
// what it is charged, and the most that it may be because of other vehicle types.
type charged struct {
	point                 int32
	part, base, due, most float64
}

// rate is what is charged for a whole round.
func (c charged) rate() float64 {
	if c.part <= 0 {
		return 0
	}
	return c.due / c.part
}

// owed is what the racks are charged and what must be paid back: by rounds to each point.
func (d *dues) owed(slope []float64) (sum float64) {
	for i := range d.racks {
		sum += d.racks[i].due
		slope[i] = 1
	}
	d.order()
	for p := range d.at {
		too := d.worst(int32(p))
		if d.back[p] = too; too > 0 {
			n := float64(len(d.at[p]))
			sum -= n * too
			for _, i := range d.best {
				slope[i] -= n
			}
		}
	}
	return sum
}

// order ranks the racks anew.
func (d *dues) order() {
	slices.SortFunc(d.ranked, func(a, b int32) int {
		return cmp.Or(cmp.Compare(d.racks[b].rate(), d.racks[a].rate()), cmp.Compare(a, b))
	})
	for k, i := range d.ranked {
		d.rank[i] = int32(k)
	}
	top := 0.0
	for _, p := range d.outward {
		for _, i := range d.at[p] {
			top = max(top, d.racks[i].rate())
		}
		d.top[p] = top
	}
}

// worst is the most that a round whose farthest point is p is charged too much; best
// are its racks.
func (d *dues) worst(p int32) float64 {
	d.best, d.chosen, d.looked = d.best[:0], d.chosen[:0], 0
	more := d.gather(p)
	if more <= 0 {
		return 0
	}
	w := walk{farthest: p, left: 1, drive: d.trip[p]}
	if most := d.search(w, 0, 0); d.looked <= mostLooked {
		return most
	}
	return more
}

// mostLooked is after how many rounds the search for the worst is given up, and what
// they can be charged at most counts.
const mostLooked = 3000

// gather lists the racks of rounds to p that can be charged too much, and returns a
// bound on how much: what is farther aside than that can not be among them.
func (d *dues) gather(p int32) float64 {
	more := d.top[p] - d.trip[p]
	for last := math.Inf(1); more > 0 && more < nearly*last; {
		d.list = d.list[:0]
		for _, q := range d.aside[p] {
			if d.detour(p, q) >= more {
				break
			}
			for _, i := range d.at[q] {
				if d.racks[i].due > 0 {
					d.list = append(d.list, d.rank[i])
				}
			}
		}
		slices.Sort(d.list)
		for k, r := range d.list {
			d.list[k] = d.ranked[r]
		}
		last, more = more, min(more, d.fill(0, 1)-d.trip[p])
	}
	return more
}

// nearly: a bound that falls by less is not looked for again.
const nearly = 0.999

func (d *dues) detour(p, q int32) float64 { return d.tour[int(p)*len(d.at)+int(q)] - d.trip[p] }

// fill is the most that so much of a round can be charged, from a place in the list on.
func (d *dues) fill(from int, left float64) (sum float64) {
	for _, i := range d.list[from:] {
		r := &d.racks[i]
		if r.part >= left {
			return sum + r.due*left/r.part
		}
		sum, left = sum+r.due, left-r.part
	}
	return sum
}

// walk is a round to a farthest point as far as it is chosen: what of it is left, what
// its racks are charged, what it drives at least, and whether it gets to that point.
type walk struct {
	farthest         int32
	left, due, drive float64
	there            bool
}

// search tries all rounds of what is listed from a place on, and returns what the worst
// is charged too much where that is more than was found.
func (d *dues) search(w walk, from int, found float64) float64 {
	for k := from; k < len(d.list); k++ {
		if w.due+d.fill(k, w.left)-w.drive <= found || d.looked > mostLooked {
			return found
		}
		i := d.list[k]
		if d.racks[i].part > w.left {
			continue
		}
		d.looked++
		with := d.with(w, i)
		d.chosen = append(d.chosen, i)
		if with.there && with.due-with.drive > found {
			found = with.due - with.drive
			d.best = append(d.best[:0], d.chosen...)
		}
		found = d.search(with, k+1, found)
		d.chosen = d.chosen[:len(d.chosen)-1]
	}
	return found
}

// with adds a rack to a round, which then drives at least to it and any other.
func (d *dues) with(w walk, i int32) walk {
	r := &d.racks[i]
	row := d.tour[int(r.point)*len(d.at):]
	w.drive = max(w.drive, row[w.farthest])
	for _, j := range d.chosen {
		w.drive = max(w.drive, row[d.racks[j].point])
	}
	w.left, w.due, w.there = w.left-r.part, w.due+r.due, w.there || r.point == w.farthest
	return w
}

// raise looks for dues that come to more, until they come to enough or for so many
// rounds, and returns them paid back: what is left keeps every round's racks within what
// it drives.
func (d *dues) raise(enough float64, rounds int) []float64 {
	slope, kept := make([]float64, len(d.racks)), make([]float64, len(d.racks))
	best, hope := math.Inf(-1), hoped*d.sum()
	bold, since := 1.0, 0
	for range rounds {
		now := d.owed(slope)
		if now > best {
			best, since = now, 0
			for i := range d.racks {
				kept[i] = d.racks[i].due - d.back[d.racks[i].point]
			}
		} else if since++; since == patient {
			bold, since = bold/2, 0
		}
		if best >= enough {
			break
		}
		d.step(slope, bold*(best+hope-now))
	}
	return kept
}

// Dues are hoped to rise by such a share at a time; where they do not for so many rounds, the steps are
// halved.
const (
	hoped   = 0.005
	patient = 10
)

func (d *dues) sum() (all float64) {
	for _, r := range d.racks {
		all += r.due
	}
	return all
}

// step changes the dues along a slope as if the bound would rise by so much.
func (d *dues) step(slope []float64, rise float64) {
	norm := 0.0
	for i, x := range slope {
		norm += x * x * d.racks[i].part
	}
	for i := range d.racks {
		if r := &d.racks[i]; norm > 0 {
			r.due = min(max(r.due+rise/norm*slope[i]*r.part, 0), r.most)
		}
	}
}
