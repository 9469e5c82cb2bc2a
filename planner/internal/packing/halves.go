package packing

import (
	"cmp"
	"math/bits"
	"slices"

	"lanewright/planner/internal/patterns"
)

// halves looks for the fill of greatest value where a bin holds four pieces at
// most: every fill is two halves of one or two pieces (Horowitz and Sahni 1974).
// The second half is first taken from all that fit, whether or not the pieces are
// needed twice then; only what could be better is looked at closer.
type halves struct {
	list []good
	// ones and twos are halves by size.
	ones, twos []half
	best       int64
	chosen     [4]int
	m          *patterns.Meter
}

// half is one or two goods, the second -1 where there is one; top is the greatest
// value up to its size.
type half struct {
	a, b             int
	size, value, top int64
}

// mostHalved bounds the goods whose pairs are listed.
const mostHalved = 1_500

// fewFit reports whether no bin holds more than four of the goods.
func fewFit(list []good, room int64) bool {
	sizes := make([]int64, 0, 5*len(list))
	for _, g := range list {
		for range min(5, g.most) {
			sizes = append(sizes, g.size)
		}
	}
	slices.Sort(sizes)
	sum := int64(0)
	for _, s := range sizes[:min(5, len(sizes))] {
		sum += s
	}
	return len(sizes) < 5 || sum > room
}

// halfFill is bestFill, always exact, for bins of four pieces at most.
func halfFill(list []good, room, above int64, m *patterns.Meter) (uses []patterns.Use, best, upper int64) {
	h := &halves{list: list, best: above, chosen: [4]int{-1, -1, -1, -1}, m: m}
	h.pair(room)
	for _, p := range h.twos {
		if most := p.value + top(h.twos, room-p.size); most > h.best {
			h.closer(p, room-p.size)
		}
	}
	m.Spend(int64(len(h.twos) * bits.Len(uint(len(h.twos)))))
	return h.uses(), h.best, h.best
}

// pair lists the halves that fit.
func (h *halves) pair(room int64) {
	for i, a := range h.list {
		h.ones = append(h.ones, half{a: i, b: -1, size: a.size, value: a.value})
		for j, b := range h.list[:i+1] {
			if a.size+b.size <= room && (i != j || a.most > 1) {
				h.twos = append(h.twos, half{a: i, b: j, size: a.size + b.size, value: a.value + b.value})
			}
		}
	}
	h.twos = append(h.twos, h.ones...)
	for _, list := range [][]half{h.ones, h.twos} {
		slices.SortFunc(list, func(x, y half) int {
			return cmp.Or(cmp.Compare(x.size, y.size), cmp.Compare(x.a, y.a), cmp.Compare(x.b, y.b))
		})
		most := int64(0)
		for i := range list {
			most = max(most, list[i].value)
			list[i].top = most
		}
	}
	h.m.Spend(int64(len(h.twos) * bits.Len(uint(len(h.twos)))))
}

// top is the greatest value of a half that fits, 0 where none does.
func top(list []half, room int64) int64 {
	at, _ := slices.BinarySearchFunc(list, room+1, func(x half, r int64) int { return cmp.Compare(x.size, r) })
	if at == 0 {
		return 0
	}
	return list[at-1].top
}

// closer looks for the best second half beside one, piece by piece.
func (h *halves) closer(p half, room int64) {
	h.keep(p.value, p.a, p.b, -1, -1)
	for _, c := range h.ones {
		if c.size > room {
			break
		}
		value := p.value + c.value
		if value+top(h.ones, room-c.size) <= h.best || !h.needed(c.a, p.a, p.b, -1) {
			continue
		}
		h.keep(value, p.a, p.b, c.a, -1)
		for _, d := range h.ones {
			if d.size > room-c.size {
				break
			}
			if value+d.value > h.best && h.needed(d.a, p.a, p.b, c.a) {
				h.keep(value+d.value, p.a, p.b, c.a, d.a)
			}
		}
		h.m.Spend(int64(len(h.ones)))
	}
	h.m.Spend(int64(len(h.ones)))
}

// needed reports whether one more of a good is needed beside three.
func (h *halves) needed(i, a, b, c int) bool {
	n := int64(1)
	for _, o := range [...]int{a, b, c} {
		if o == i {
			n++
		}
	}
	return n <= h.list[i].most
}

func (h *halves) keep(value int64, a, b, c, d int) {
	if value > h.best {
		h.best, h.chosen = value, [4]int{a, b, c, d}
	}
}

// uses is the best fill, nil where none is above.
func (h *halves) uses() []patterns.Use {
	count := map[int]int64{}
	for _, i := range h.chosen {
		if i >= 0 {
			count[h.list[i].kind]++
		}
	}
	var list []patterns.Use
	for _, g := range h.list {
		if n := count[g.kind]; n > 0 {
			list = append(list, patterns.Use{Kind: g.kind, N: n})
		}
	}
	return byKind(list)
}
