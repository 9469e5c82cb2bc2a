package placement

import (
	"cmp"
	"slices"
)

// deal deals loops out to the levels of their stalls, where the programme lays each
// whole on one stall. It reports whether that was worth it: a better layout was found,
// or loops that do not find room together are a jam from now on.
func (p *shortlist) deal() bool {
	a := p.b.a
	shares, n := p.g.shares(), len(a.stalls)
	on := make([][]int, n)
	for _, i := range a.loops {
		s := slices.IndexFunc(shares[i*n:(i+1)*n], func(share float64) bool { return share > 1-1e-4 })
		if s < 0 {
			return false
		}
		on[s] = append(on[s], i)
	}
	var path []chosen
	jammed := false
	for s, loops := range on {
		d := dealing{t: &a.stalls[s], left: dealNodes}
		if len(loops) == 0 {
			continue
		}
		if d.t.fixed != nil || !d.take(loops) {
			return false
		}
		switch {
		case d.try(0):
			for _, lots := range d.on {
				path = append(path, chosen{s, slices.Clone(lots)})
			}
		case d.left < 0:
			return false
		case len(p.g.jams) >= 2*mostJams:
			return false
		default:
			jammed = true
			p.g.keep(d.least(s))
		}
		p.spend(dealNodes - d.left)
	}
	if jammed {
		return true
	}
	st, _ := a.layout(path, p.b.set)
	return st != nil && p.b.take(st)
}

// dealNodes bounds the search for room for the loops of one stall.
const dealNodes = 50_000

// dealing seeks room for lots on the levels of a stall, the widest first.
type dealing struct {
	t    *stall
	lots []int32
	// on are the lots of each level, room and mass what is left there.
	on         [][]int32
	room, mass []int64
	left       int
}

// take takes the lots of loops that lie there whole; false where one has none.
func (d *dealing) take(loops []int) bool {
	for _, i := range loops {
		k := slices.IndexFunc(d.t.lots, func(l lot) bool { return l.loop == i && l.share == 1 })
		if k < 0 {
			return false
		}
		d.lots = append(d.lots, int32(k))
	}
	slices.SortStableFunc(d.lots, func(x, y int32) int { return cmp.Compare(d.t.lots[y].width, d.t.lots[x].width) })
	d.clear()
	return true
}

func (d *dealing) clear() {
	d.on, d.room, d.mass = make([][]int32, d.t.times), nil, nil
	for range d.t.times {
		d.room, d.mass = append(d.room, d.t.room), append(d.mass, d.t.mass)
	}
}

// try finds room for the lots from place at on.
func (d *dealing) try(at int) bool {
	if at == len(d.lots) {
		return true
	}
	if d.left--; d.left < 0 {
		return false
	}
	l := &d.t.lots[d.lots[at]]
	for k := range d.on {
		if l.width > d.room[k] || l.mass > d.mass[k] || d.alike(k) {
			continue
		}
		d.on[k] = append(d.on[k], d.lots[at])
		d.room[k], d.mass[k] = d.room[k]-l.width, d.mass[k]-l.mass
		if d.try(at + 1) {
			return true
		}
		d.on[k] = d.on[k][:len(d.on[k])-1]
		d.room[k], d.mass[k] = d.room[k]+l.width, d.mass[k]+l.mass
	}
	return false
}

// alike reports whether a level before has as much left.
func (d *dealing) alike(k int) bool {
	for j := range k {
		if d.room[j] == d.room[k] && d.mass[j] == d.mass[k] {
			return true
		}
	}
	return false
}

// least is the jam of as few of the lots as still find no room, the narrowest left
// out first.
func (d *dealing) least(s int) jam {
	for k := len(d.lots) - 1; k >= 0; k-- {
		all := d.lots
		d.lots = slices.Delete(slices.Clone(all), k, k+1)
		d.clear()
		if d.left = dealNodes; d.try(0) || d.left < 0 {
			d.lots = all
		}
	}
	j := jam{stall: s, most: len(d.lots) - 1}
	for _, k := range d.lots {
		j.loops = j.loops.with(d.t.lots[k].loop)
	}
	return j
}
