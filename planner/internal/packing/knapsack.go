package packing

import (
	"cmp"
	"math"
	"math/bits"
	"slices"

	"lanewright/planner/internal/patterns"
)

// knapsack looks for the fill of one bin with the greatest value, with at most
// so many pieces of each kind: depth first in the order of value per size, cut
// off by the value that fractions of pieces would give (Dantzig 1957).
type knapsack struct {
	list []good
	// nodes are those the walk may still visit.
	nodes int64
	// best is the greatest value found, upper what no fill exceeds.
	best, upper int64
	now, chosen []int64
	least       []int64 // smallest size from a place on
	// sizes are all sizes in order, tops the greatest value up to each.
	sizes, tops []int64
}

// good is a kind as the knapsack sees it.
type good struct {
	kind              int
	size, value, most int64
}

// effort limits one search: the places of the walk, and the cells of the table
// that steps in where the walk is too long.
type effort struct {
	nodes, cells int64
}

// quick is the effort where a good fill will do, wanted that where one better
// than a bin is looked for, thorough that where a bound rests on there being
// none.
func quick() effort    { return effort{nodes: 2_000} }
func wanted() effort   { return effort{nodes: 20_000, cells: 4_000_000} }
func thorough() effort { return effort{nodes: 200_000, cells: 400_000_000} }

// bestFill returns the fill of greatest value above the given one, nil where
// there is none, its value, and a value that no fill exceeds: the same, unless
// the search was cut short. Values are at most 2^50, and so is what a bin can
// hold of them.
func bestFill(k kinds, value []int64, above int64, e effort, m *patterns.Meter) (uses []patterns.Use, best, upper int64) {
	var list []good
	for i, v := range value {
		if most := k.most(i); v > 0 && most > 0 {
			list = append(list, good{i, k.size[i], v, most})
		}
	}
	slices.SortStableFunc(list, denser)
	s := &knapsack{list: list, nodes: e.nodes, best: above, upper: above}
	s.prepare(k.room)
	s.walk(0, k.room, 0)
	m.Spend(4*(e.nodes-s.nodes) + int64(len(list)))
	if s.nodes < 0 && e.cells > 0 && len(list) <= mostHalved && fewFit(list, k.room) {
		return halfFill(list, k.room, above, m)
	}
	if s.nodes < 0 && k.room <= e.cells/int64(len(list)) {
		return tableFill(list, k.room, above, m)
	}
	return s.uses(), s.best, max(s.best, s.upper)
}

// denser orders goods by value per size, the best first.
func denser(a, b good) int {
	ah, al := bits.Mul64(uint64(a.value), uint64(b.size))
	bh, bl := bits.Mul64(uint64(b.value), uint64(a.size))
	return cmp.Or(cmp.Compare(bh, ah), cmp.Compare(bl, al))
}

func (s *knapsack) prepare(room int64) {
	s.now, s.least = make([]int64, len(s.list)), make([]int64, len(s.list)+1)
	s.least[len(s.list)] = room + 1
	for i := len(s.list) - 1; i >= 0; i-- {
		s.least[i] = min(s.least[i+1], s.list[i].size)
	}
	order := slices.Clone(s.list)
	slices.SortFunc(order, func(a, b good) int { return cmp.Compare(a.size, b.size) })
	s.sizes, s.tops = make([]int64, len(order)), make([]int64, len(order))
	top := int64(0)
	for i, g := range order {
		top = max(top, g.value)
		s.sizes[i], s.tops[i] = g.size, top
	}
}

// few is what the last one to three pieces of a bin can be worth: of n of them
// each leaves room for n-1 of the smallest. It is without limit for more.
func (s *knapsack) few(i int, room int64) int64 {
	least := s.least[i]
	if room/least > 3 {
		return math.MaxInt64
	}
	most := int64(0)
	for n := int64(1); n*least <= room; n++ {
		at, found := slices.BinarySearch(s.sizes, room-(n-1)*least)
		if !found {
			at--
		}
		most = max(most, n*s.tops[at])
	}
	return most
}

// walk tries the goods from place i on in what room is left. It reports whether
// fewer of the goods before them might do better: they would not where even
// fractions do no better, since the goods before are worth more for their size.
func (s *knapsack) walk(i int, room, value int64) bool {
	if value > s.best {
		s.best = value
		s.chosen = append(s.chosen[:0], s.now...)
	}
	if room < s.least[i] {
		return true
	}
	most := value + s.fraction(i, room)
	if most <= s.best {
		return false
	}
	if s.few(i, room) <= s.best-value {
		return true
	}
	if s.nodes--; s.nodes < 0 {
		s.upper = max(s.upper, most)
		return false
	}
	g := s.list[i]
	for n := min(g.most, room/g.size); n >= 0; n-- {
		s.now[i] = n
		if more := s.walk(i+1, room-n*g.size, value+n*g.value); !more || i+1 == len(s.list) {
			break
		}
	}
	s.now[i] = 0
	return true
}

// fraction is the value of the goods from place i on, the last of them in
// part, rounded down.
func (s *knapsack) fraction(i int, room int64) int64 {
	sum := int64(0)
	for _, g := range s.list[i:] {
		n := min(g.most, room/g.size)
		sum += n * g.value
		if room -= n * g.size; n < g.most {
			hi, lo := bits.Mul64(uint64(room), uint64(g.value))
			part, _ := bits.Div64(hi, lo, uint64(g.size))
			return sum + int64(part)
		}
	}
	return sum
}

// uses is the best fill, the largest kind first.
func (s *knapsack) uses() []patterns.Use {
	var list []patterns.Use
	for i, n := range s.chosen {
		if n > 0 {
			list = append(list, patterns.Use{Kind: s.list[i].kind, N: n})
		}
	}
	return byKind(list)
}

func byKind(list []patterns.Use) []patterns.Use {
	slices.SortFunc(list, func(a, b patterns.Use) int { return cmp.Compare(a.Kind, b.Kind) })
	return list
}

// tableFill is the same by the table of the greatest value for every room
// (Bellman 1957), each kind in bundles of 1, 2, 4 and so on.
func tableFill(list []good, room, above int64, m *patterns.Meter) (uses []patterns.Use, best, upper int64) {
	packs := bundles(list)
	width := int(room)/64 + 1
	value, taken := make([]int64, room+1), make([]uint64, width*len(packs))
	m.Spend(int64(len(packs)) * room)
	for p, b := range packs {
		row := taken[p*width:]
		for r := room; r >= b.size; r-- {
			if v := value[r-b.size] + b.value; v > value[r] {
				value[r] = v
				row[r/64] |= 1 << (r % 64)
			}
		}
	}
	if value[room] <= above {
		return nil, above, above
	}
	count := map[int]int64{}
	r := room
	for p := len(packs) - 1; p >= 0; p-- {
		if b := packs[p]; taken[p*width+int(r)/64]&(1<<(r%64)) != 0 {
			count[b.kind] += b.most
			r -= b.size
		}
	}
	for _, g := range list {
		if n := count[g.kind]; n > 0 {
			uses = append(uses, patterns.Use{Kind: g.kind, N: n})
		}
	}
	return byKind(uses), value[room], value[room]
}

// bundles splits the pieces of every kind so that each number of them is a sum
// of bundles; most is then the number of pieces in one.
func bundles(list []good) []good {
	var packs []good
	for _, g := range list {
		for n, left := int64(1), g.most; left > 0; n *= 2 {
			n = min(n, left)
			packs = append(packs, good{g.kind, n * g.size, n * g.value, n})
			left -= n
		}
	}
	return packs
}
