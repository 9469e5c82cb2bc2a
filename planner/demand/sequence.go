package demand

import (
	"cmp"
	"container/heap"
	"math/rand/v2"
)

// Levelled returns the order in which counts[i] units of each product i are
// built so that every product comes as evenly as can be: indexes into counts,
// each as often as its count; a count below 0 is 0.
//
// Unit j of product i has its ideal place at (j − ½)·N/nᵢ of N units, and units
// are built in the order of these places, ties by index (Inman, Bulfin,
// Management Science 37(7), 1991, 901-904; from memory). With one large product
// and several small ones that order can stray from the even share by more than
// a unit: a product of share r among k by as much as ½ + r(k − 2)/2. Then the
// order of deadlines takes its place (Steiner, Yeomans, Management Science 39(6),
// 1993, 728-735; from memory): unit j is built in one of the places from
// ⌊(j−1)N/nᵢ⌋ + 1 to ⌈jN/nᵢ⌉, the one with the earliest last place first, which
// always can be. So after each unit every product is less than one unit from its
// share.
func Levelled(counts []int) []int {
	order := queue(counts, false)
	if strays(counts, order) {
		order = queue(counts, true)
	}
	return order
}

// Shuffled returns counts[i] of each i in an order drawn from r, every order as
// likely as another.
func Shuffled(counts []int, r *rand.Rand) []int {
	order := make([]int, 0, total(counts))
	for i, n := range counts {
		for range n {
			order = append(order, i)
		}
	}
	r.Shuffle(len(order), func(i, j int) { order[i], order[j] = order[j], order[i] })
	return order
}

func total(counts []int) int {
	sum := 0
	for _, n := range counts {
		sum += max(0, n)
	}
	return sum
}

// strays reports whether order is somewhere a whole unit or more from the even
// share: before unit j of a product at place s it is (s−1)·n/N − (j−1) behind,
// after it j − s·n/N ahead.
func strays(counts, order []int) bool {
	built, all := make([]int, len(counts)), len(order)
	for at, i := range order {
		built[i]++
		ahead := built[i]*all - (at+1)*counts[i]
		behind := at*counts[i] - (built[i]-1)*all
		if ahead >= all || behind >= all {
			return true
		}
	}
	return false
}

// unit is the next unit of a product: its j-th of n.
type unit struct {
	product, j, n int
	// first and last are the places, from 1, between which it is built; both are
	// 0 where its ideal place alone decides.
	first, last int
}

// queue orders units by ideal place, or by deadline within their windows.
func queue(counts []int, windows bool) []int {
	all := total(counts)
	next := func(product, j int) unit {
		u := unit{product: product, j: j, n: counts[product]}
		if windows {
			u.first, u.last = (j-1)*all/u.n+1, (j*all+u.n-1)/u.n
		}
		return u
	}
	waiting, ready := &line{before: opens}, &line{before: due}
	for i, n := range counts {
		if n > 0 {
			heap.Push(waiting, next(i, 1))
		}
	}
	order := make([]int, 0, all)
	for place := 1; place <= all; place++ {
		for waiting.Len() > 0 && waiting.units[0].first <= place {
			heap.Push(ready, heap.Pop(waiting))
		}
		u := heap.Pop(ready).(unit)
		order = append(order, u.product)
		if u.j < u.n {
			heap.Push(waiting, next(u.product, u.j+1))
		}
	}
	return order
}

func opens(a, b unit) int {
	return cmp.Or(cmp.Compare(a.first, b.first), cmp.Compare(a.product, b.product))
}

// due orders units by deadline, ideal place and index.
func due(a, b unit) int {
	return cmp.Or(cmp.Compare(a.last, b.last), cmp.Compare((2*a.j-1)*b.n, (2*b.j-1)*a.n), cmp.Compare(a.product, b.product))
}

// line is a heap of units.
type line struct {
	units  []unit
	before func(a, b unit) int
}

func (l *line) Len() int           { return len(l.units) }
func (l *line) Less(i, j int) bool { return l.before(l.units[i], l.units[j]) < 0 }
func (l *line) Swap(i, j int)      { l.units[i], l.units[j] = l.units[j], l.units[i] }

// Push and Pop are heap's.
func (l *line) Push(x any) { l.units = append(l.units, x.(unit)) }

// Pop takes the last one.
func (l *line) Pop() any {
	last := len(l.units) - 1
	u := l.units[last]
	l.units = l.units[:last]
	return u
}
