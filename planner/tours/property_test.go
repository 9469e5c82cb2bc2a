package tours

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// scratch recomputes the value of s from its links alone.
func scratch(s *state) int64 {
	f := s.f
	var value int64
	for at := range s.routes {
		r := &s.routes[at]
		if r.size == 0 {
			continue
		}
		seq := s.sequence(r, nil)
		prev := int32(depot)
		var load, time int64
		var more goods
		for _, x := range append(seq, depot) {
			value += int64(f.leg(prev, x))
			if f.timed {
				time += f.drive(prev, x) + f.service[x]
			}
			load += f.demand[x]
			if f.rich {
				more = more.plus(s.more[x])
			}
			prev = x
		}
		value += f.Fixed + s.penalty(load, time, more) + s.wishes(int32(at), seq)
	}
	return value
}

// drawProblem makes up a small problem with any of the terms there are.
func drawProblem(t *rapid.T) *Problem {
	n := rapid.IntRange(4, 14).Draw(t, "stops")
	w := n + 1
	p := &Problem{Stops: n, Fixed: rapid.Int64Range(0, 60).Draw(t, "fixed"), MaxRoutes: rapid.IntRange(0, n).Draw(t, "routes")}
	table := func(name string) []int32 {
		m := rapid.SliceOfN(rapid.Int32Range(0, 200), w*w, w*w).Draw(t, name)
		for a := range w {
			m[a*w+a] = 0
		}
		return m
	}
	amounts := func(name string, most int64, n int) []int64 {
		return rapid.SliceOfN(rapid.Int64Range(0, most), n, n).Draw(t, name)
	}
	p.Costs = table("costs")
	if rapid.Bool().Draw(t, "timed") {
		p.MaxTime, p.Service, p.Times = 700, amounts("service", 30, w), table("times")
		p.Service[0] = 0
	}
	for i := range rapid.IntRange(0, 2).Draw(t, "loads") {
		l := Load{Mean: amounts(fmt.Sprint("mean", i), 10, w), Capacity: 25, Z: 1.3, Handling: 1.5}
		l.Mean[0] = 0
		if rapid.Bool().Draw(t, "varies") {
			l.Variance = amounts("variance", 20, w)
		}
		p.Loads = append(p.Loads, l)
	}
	if rapid.Bool().Draw(t, "sides") {
		p.Labels, p.Prices = 2, amounts("prices", 50, 3*w)
		p.Apart, p.Before = [][2]int32{{1, 2}, {3, 1}}, [][2]int32{{2, 3}, {4, 1}}
	}
	return p
}

// TestEveryDelta: what a kick and each move of the local search say they change
// is what they change, and undoing leaves nothing behind.
func TestEveryDelta(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := drawProblem(t)
		require.NoError(t, p.Check())
		f := freeze(p)
		k := &trajectory{kicks: newKicks(newState(f), newDice(rapid.Uint64().Draw(t, "seed"), "kicks"))}
		k.checked, k.prices = true, prices{3.5, 2.25, 1.75}
		k.begins(nil)
		require.Equal(t, scratch(k.state), k.value())
		for step := range 20 {
			before, copied := k.value(), picture(k.state)
			k.begin()
			k.ruin()
			k.recreate()
			require.Equal(t, scratch(k.state), k.value())
			k.polish()
			require.Equal(t, scratch(k.state), k.value())
			if !f.sided {
				k.exchangeAll()
				require.Equal(t, scratch(k.state), k.value())
			}
			if step%3 == 0 {
				k.undo()
				require.Equal(t, before, k.value())
				require.Equal(t, before, scratch(k.state))
				require.Equal(t, copied, picture(k.state))
			}
		}
	})
}

// picture is all that undoing restores of the stops, and their sums.
func picture(s *state) [4]any {
	s.refreshStale()
	nodes := slices.Clone(s.nodes)
	for i := range nodes {
		nodes[i].saved = 0
	}
	return [4]any{nodes, slices.Clone(s.along), slices.Clone(s.moreSums), slices.Clone(s.wide)}
}

// TestTheBestCut: an order is cut where no other way to cut it is cheaper, and
// the routes cost what the cut promised.
func TestTheBestCut(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := drawProblem(t)
		p.Side = Side{}
		f := freeze(p)
		s := newState(f)
		s.prices = prices{3.5, 2.25, 1.75}
		order := rapid.Permutation(numbers(p.Stops)).Draw(t, "order")
		var c splitter
		s.split(&c, order)
		require.Equal(t, c.value[p.Stops], s.value())
		require.Equal(t, scratch(s), s.value())
		least := s.value()
		from, to := rapid.IntRange(0, p.Stops-1).Draw(t, "from"), rapid.IntRange(0, p.Stops-1).Draw(t, "to")
		if from, to = min(from, to), max(from, to); heavier(f, order[from:to+1]) {
			return
		}
		s.clear()
		for at, seq := range [][]int32{order[:from], order[from : to+1], order[to+1:]} {
			if heavier(f, seq) {
				return
			}
			s.load(int32(at), seq)
		}
		require.LessOrEqual(t, least, s.value())
	})
}

// heavier reports whether seq is more than a cut looks at.
func heavier(f *frozen, seq []int32) bool {
	var load int64
	for _, x := range seq {
		load += f.demand[x]
	}
	return len(seq) > 1 && float64(load) > splitOver*float64(f.capacity)
}

// numbers are those from 1 to n.
func numbers(n int) []int32 {
	list := make([]int32, n)
	for i := range list {
		list[i] = int32(i + 1)
	}
	return list
}

// TestTheFittestSurvive: a population that grew too much keeps its cheapest and
// drops twins first.
func TestTheFittestSurvive(t *testing.T) {
	t.Parallel()
	p := &population{}
	var first *member
	for i := range fewest + generation + 1 {
		m := &member{next: []int32{0, int32(i), int32(i / 2), 7}, cost: int64(100 + i)}
		if i == 1 {
			m.next = []int32{0, 0, 0, 7}
		}
		if i == 0 {
			first = m
		}
		p.add(m, prices{})
	}
	h := p.halves[0]
	require.Len(t, h, fewest)
	require.Same(t, first, h[0])
	for i, m := range h[1:] {
		require.LessOrEqual(t, h[i].cost, m.cost)
		require.NotEqual(t, int64(101), m.cost, "the twin of the cheapest")
		require.Len(t, m.kin, fewest-1)
	}
}

// TestAChildHasAllStops: an order crossed from two is an order again and keeps a
// string of the first.
func TestAChildHasAllStops(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 12).Draw(t, "stops")
		a := &member{order: rapid.Permutation(numbers(n)).Draw(t, "a")}
		b := &member{order: rapid.Permutation(numbers(n)).Draw(t, "b")}
		p := &population{used: make([]bool, n+1)}
		child := p.cross(a, b, newDice(rapid.Uint64().Draw(t, "seed"), "cross"))
		require.ElementsMatch(t, numbers(n), child)
	})
}
