package placement

import (
	"maps"
	"math"
	"slices"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// books are the widths and masses on each tier while loops are shifted about on
// paper.
type books struct {
	b    *board
	used map[*tier]units.Length
	mass map[*tier]units.Mass
	rack map[plant.RackCode]units.Mass
	// gone are loops that were lifted, full the fixed tiers on which one was laid.
	gone map[demand.Key]bool
	full map[*tier]bool
}

func newBooks(b *board) *books {
	k := &books{b, map[*tier]units.Length{}, map[*tier]units.Mass{}, map[plant.RackCode]units.Mass{}, map[demand.Key]bool{}, map[*tier]bool{}}
	for _, r := range b.tiers {
		for _, h := range r.berths {
			if !h.empty() {
				k.book(r, h, 1)
			} else if len(h.closed) > 0 {
				k.used[r] += h.width + b.in.Plant.GuideWidth
			}
		}
	}
	return k
}

func (k *books) clone() *books {
	return &books{k.b, maps.Clone(k.used), maps.Clone(k.mass), maps.Clone(k.rack), maps.Clone(k.gone), maps.Clone(k.full)}
}

// book adds what a berth takes so many times.
func (k *books) book(r *tier, h berth, times int) {
	k.used[r] += units.Length(times) * k.b.of(r, h).takes(h.n, k.b.in.Plant.GuideWidth)
	mass := units.Mass(times*h.n) * k.b.loops[h.loop].Gross
	k.mass[r] += mass
	k.rack[r.rack.Rack] += mass
}

// lift takes a loop off all its tiers.
func (k *books) lift(loop demand.Key) {
	for _, p := range k.b.places(loop) {
		k.book(p.tier, *p.berth(), -1)
	}
	k.gone[loop] = true
}

// lay puts a berth on a tier.
func (k *books) lay(r *tier, h berth) {
	k.book(r, h, 1)
	k.full[r] = k.full[r] || r.fixed()
}

// left is the width and the mass that stay when h lies on r too; without a mass
// limit the mass is below 0.
func (k *books) left(r *tier, h berth) (units.Length, units.Mass) {
	width := r.usable + k.b.in.Plant.GuideWidth - k.used[r] - k.b.of(r, h).takes(h.n, k.b.in.Plant.GuideWidth)
	more := units.Mass(h.n) * k.b.loops[h.loop].Gross
	mass := units.Mass(math.MaxInt64)
	if r.level.MassLimit > 0 {
		mass = r.level.MassLimit - k.mass[r] - more
	}
	if t := r.rack.Type; t.MassLimit > 0 {
		mass = min(mass, t.MassLimit-t.OwnMass-k.rack[r.rack.Rack]-more)
	}
	return width, mass
}

// room reports whether h fits on r beside what is booked there.
func (k *books) room(r *tier, h berth) bool {
	width, mass := k.left(r, h)
	if mass < 0 {
		return false
	}
	if !r.fixed() {
		return width >= 0
	}
	return !k.full[r] && k.run(r, h)
}

// run reports whether fixed lanes side by side, free and wide enough, hold h.
func (k *books) run(r *tier, h berth) bool {
	y := k.b.of(r, h)
	taken, _ := k.b.seatFixed(r)
	run, right := 0, units.Length(0)
	for i, width := range r.level.Fixed {
		right += width
		free := taken[i] < 0 || k.gone[r.berths[taken[i]].loop]
		if run++; !free || slices.Contains(r.shut, i+1) || width < y.width || right > r.usable {
			run = 0
		}
		if run == y.lanes(h.n) {
			return true
		}
		right += k.b.in.Plant.GuideWidth
	}
	return false
}
