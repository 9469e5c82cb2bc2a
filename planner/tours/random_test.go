package tours_test

import (
	"math/rand/v2"

	"lanewright/planner/tours"
)

// shape says which terms a made-up problem has.
type shape struct{ directed, timed, second, variance, sides bool }

// random makes up a problem.
func random(n int, seed uint64, has shape) *tours.Problem {
	rnd := rand.New(rand.NewPCG(seed, 1))
	w := n + 1
	p := &tours.Problem{Stops: n, Costs: table(rnd, w, has.directed), Fixed: 50}
	load := func(most int) tours.Load {
		l := tours.Load{Mean: make([]int64, w), Capacity: int64(4 * most)}
		for a := 1; a < w; a++ {
			l.Mean[a] = int64(1 + rnd.IntN(most))
		}
		return l
	}
	p.Loads = []tours.Load{load(10)}
	if has.second {
		p.Loads = append(p.Loads, load(20))
	}
	if has.timed {
		p.MaxTime, p.Service, p.Times = 900, make([]int64, w), table(rnd, w, has.directed)
		for a := 1; a < w; a++ {
			p.Service[a] = int64(rnd.IntN(30))
		}
	}
	if has.variance {
		l := &p.Loads[0]
		l.Z, l.Handling, l.Variance = 1.3, 2, make([]int64, w)
		for a := 1; a < w; a++ {
			l.Variance[a] = int64(rnd.IntN(20))
		}
	}
	if has.sides {
		addSides(rnd, p)
	}
	return p
}

func table(rnd *rand.Rand, w int, directed bool) []int32 {
	m := make([]int32, w*w)
	for a := range w {
		for b := range a {
			m[a*w+b] = int32(1 + rnd.IntN(200))
			m[b*w+a] = m[a*w+b]
			if directed {
				m[b*w+a] = int32(1 + rnd.IntN(200))
			}
		}
	}
	return m
}

func addSides(rnd *rand.Rand, p *tours.Problem) {
	p.Labels = 2
	p.Prices = make([]int64, (p.Stops+1)*3)
	for i := range p.Prices {
		p.Prices[i] = int64(rnd.IntN(60))
	}
	fixed := 1 + rnd.IntN(p.Stops)
	p.Prices[fixed*3], p.Prices[fixed*3+1] = tours.Never, tours.Never
	for range p.Stops / 3 {
		if a, b := int32(1+rnd.IntN(p.Stops)), int32(1+rnd.IntN(p.Stops)); a != b {
			p.Apart = append(p.Apart, [2]int32{a, b})
		}
		if a, b := int32(1+rnd.IntN(p.Stops)), int32(1+rnd.IntN(p.Stops)); a < b {
			p.Before = append(p.Before, [2]int32{a, b})
		}
	}
}

// roads makes up stops on a grid of streets, two of three of them one-way in
// turn: what the legs cost are the shortest ways, driven at two speeds.
func roads(n int, seed uint64) *tours.Problem {
	rnd := rand.New(rand.NewPCG(seed, 3))
	side := 1
	for side*side < 2*(n+1) {
		side++
	}
	places := rnd.Perm(side * side)[:n+1]
	p := random(n, seed, shape{})
	p.Fixed = 0
	for a, from := range places {
		costs := shortest(side, from)
		for b, to := range places {
			p.Costs[a*(n+1)+b] = costs[to]
		}
	}
	return p
}

// shortest are the costs of the ways from one crossing of the grid to all, by
// relaxing until nothing changes.
func shortest(side, from int) []int32 {
	costs := make([]int32, side*side)
	for i := range costs {
		costs[i] = 1 << 29
	}
	costs[from] = 0
	for changed := true; changed; {
		changed = false
		relax := func(a, b int, by int32) {
			if costs[a]+by < costs[b] {
				costs[b], changed = costs[a]+by, true
			}
		}
		for a := range costs {
			x, y := a%side, a/side
			street := func(number, b int, forth bool) {
				if number == 0 || number == side-1 || number%3 == 0 || (number%3 == 1) == forth {
					relax(a, b, int32(7+number%2*4))
				}
			}
			if x+1 < side {
				street(y, a+1, true)
			}
			if x > 0 {
				street(y, a-1, false)
			}
			if y+1 < side {
				street(x, a+side, true)
			}
			if y > 0 {
				street(x, a-side, false)
			}
		}
	}
	return costs
}

// crammed puts the stops of a made-up problem at few places, between which they have
// the ways of the first of them.
func crammed(p *tours.Problem, places int) (compact, full *tours.Problem) {
	w := p.Stops + 1
	c, f := *p, *p
	c.Places = make([]int32, w)
	for a := range w {
		c.Places[a] = int32(a * 7 % places)
	}
	spread := func(m []int32) (small, large []int32) {
		if m == nil {
			return nil, nil
		}
		for a := range places {
			small = append(small, m[a*w:a*w+places]...)
		}
		for a := range w {
			for b := range w {
				large = append(large, small[int(c.Places[a])*places+int(c.Places[b])])
			}
		}
		return small, large
	}
	c.Costs, f.Costs = spread(p.Costs)
	c.Times, f.Times = spread(p.Times)
	return &c, &f
}
