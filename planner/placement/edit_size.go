package placement

import (
	"fmt"
	"slices"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/sizing"
	"lanewright/planner/units"
)

func (e ChangeContainer) do(b *board) {
	if !b.knows(e.Loop) {
		return
	}
	l := *b.loops[e.Loop]
	box := b.in.Index.Containers[e.Container]
	if box == nil || e.Pack < 0 {
		b.refuse(e.Loop, Spot{}, fmt.Sprintf("the plant has no container %s, or the pack is below 0", e.Container))
		return
	}
	if b.in.Index.Parts[l.Part] == nil {
		b.refuse(e.Loop, Spot{}, "the facts have no such part")
		return
	}
	part := *b.in.Index.Parts[l.Part]
	pack := e.Pack
	if pack == 0 {
		pack = packIn(part, b.box(e.Loop), *box, l.Pack)
	}
	l.Container, l.Pack = e.Container, pack
	b.resize(l.Loop)
}

// packIn is how many pieces another container holds: as many per outside volume,
// rounded down, at least 1 and no more than its gross limit allows.
func packIn(part plant.Part, now, box plant.Container, pack int64) int64 {
	if now.Container == box.Container {
		return pack
	}
	n := byVolume(now, box, pack)
	if box.GrossLimit > 0 && part.PieceMass > 0 {
		n = min(n, int64(max(0, box.GrossLimit-box.EmptyMass)/part.PieceMass))
	}
	return max(1, n)
}

// byVolume is how many pieces another container holds at as many per outside volume,
// rounded down.
func byVolume(now, box plant.Container, pack int64) int64 {
	volume := func(c plant.Container) units.Ratio {
		return c.Length.Ratio().Mul(c.Width.Ratio()).Mul(c.Height.Ratio())
	}
	of := volume(now)
	if of.Sign() <= 0 {
		return pack
	}
	return units.Int(pack).Mul(volume(box)).Div(of).Floor()
}

func (e ChangeInterval) do(b *board) {
	if !b.knows(e.Loop) {
		return
	}
	if l := b.loops[e.Loop]; e.Interval <= 0 || b.in.Index.Parts[l.Part] == nil || b.in.Index.Containers[l.Container] == nil {
		b.refuse(e.Loop, Spot{}, "a refill interval is above 0, and the facts must have the part and its container")
		return
	}
	b.resize(b.asked(e))
}

// asked is what the loop's rows ask for when they give that interval: a response
// time that follows it and a service level that is counted from it change too.
// How fast the part is used does not.
func (b *board) asked(e ChangeInterval) demand.Loop {
	l := b.loops[e.Loop].Loop
	p, x := *b.in.Index.Plant, *b.in.Index
	p.Usage = nil
	for _, u := range b.in.Index.Plant.Usage {
		if (demand.Key{Part: u.Part, Cell: u.Cell, Station: u.Station}) == e.Loop {
			u.Interval = e.Interval
			p.Usage = append(p.Usage, u)
		}
	}
	x.Plant = &p
	loops, _ := demand.Loops(&x, b.in.Plant)
	if len(loops) == 1 {
		l.Response, l.ServiceLevel = loops[0].Response, loops[0].ServiceLevel
	}
	l.Interval = e.Interval
	return l
}

// resize gives a loop the containers that its new container or interval needs.
// They lie in the lanes it has: surplus lanes become empty from the end, and what
// finds no room in them has no lane.
func (b *board) resize(l demand.Loop) {
	part := *b.in.Index.Parts[l.Part]
	part.Pack = l.Pack
	x := &plant.Index{
		Parts:      map[plant.PartCode]*plant.Part{l.Part: &part},
		Containers: map[plant.ContainerCode]*plant.Container{l.Container: b.in.Index.Containers[l.Container]},
	}
	sized, _ := sizing.Size(x, []demand.Loop{l})
	places := b.places(l.Key)
	lanes := make([]int, len(places))
	for i, p := range places {
		lanes[i] = b.count(p.tier, *p.berth())
		if !slices.Contains(b.in.Index.Containers[l.Container].Sides(), p.berth().wish) {
			p.berth().wish = ""
		}
	}
	b.loops[l.Key], b.resized[l.Key] = &sized[0], true
	b.refill(places, lanes, sized[0].Containers)
}

// refill shares n containers out over the lanes that a loop has: what lay there
// stays as far as it fits, what is left over fills up from the first lane, and
// what is too much leaves from the last.
func (b *board) refill(places []berthAt, lanes []int, n int) {
	holds := make([]int, len(places))
	kept := make([]int, len(places))
	left := n
	for i, p := range places {
		holds[i] = lanes[i] * b.of(p.tier, *p.berth()).capacity
		kept[i] = min(p.berth().n, holds[i], left)
		left -= kept[i]
	}
	for i := range places {
		more := min(left, holds[i]-kept[i])
		kept[i], left = kept[i]+more, left-more
	}
	// Behind a berth that shrinks the others of its tier move on, those before do not.
	for i := len(places) - 1; i >= 0; i-- {
		p := places[i]
		h := p.berth()
		h.n = kept[i]
		if h.n == 0 {
			b.wish[h.loop] = h.wish
		}
		if fewer := lanes[i] - b.of(p.tier, *h).lanes(h.n); fewer > 0 {
			b.free(p.tier, p.at, fewer)
		}
	}
}
