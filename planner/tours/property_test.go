package tours

import (
	"fmt"
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
	numbers := func(name string, most int64, n int) []int64 {
		return rapid.SliceOfN(rapid.Int64Range(0, most), n, n).Draw(t, name)
	}
	p.Costs = table("costs")
	if rapid.Bool().Draw(t, "timed") {
		p.MaxTime, p.Service, p.Times = 700, numbers("service", 30, w), table("times")
		p.Service[0] = 0
	}
	for i := range rapid.IntRange(0, 2).Draw(t, "loads") {
		l := Load{Mean: numbers(fmt.Sprint("mean", i), 10, w), Capacity: 25, Z: 1.3, Handling: 1.5}
		l.Mean[0] = 0
		if rapid.Bool().Draw(t, "varies") {
			l.Variance = numbers("variance", 20, w)
		}
		p.Loads = append(p.Loads, l)
	}
	if rapid.Bool().Draw(t, "sides") {
		p.Labels, p.Prices = 2, numbers("prices", 50, 3*w)
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
			before := k.value()
			k.begin()
			k.ruin()
			k.recreate()
			require.Equal(t, scratch(k.state), k.value())
			k.polish()
			require.Equal(t, scratch(k.state), k.value())
			if step%3 == 0 {
				k.undo()
				require.Equal(t, before, k.value())
				require.Equal(t, before, scratch(k.state))
			}
		}
	})
}
