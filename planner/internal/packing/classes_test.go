package packing

import (
	"fmt"
	"math/rand/v2"
)

// class is a kind of random problems of the literature, made here with the
// parameters of the named authors.
type class struct {
	name string
	make func(rng *rand.Rand) Problem
	// optimum is what the making promises, 0 where it promises nothing.
	optimum int64
}

// classes are those of Falkenauer (1996, A hybrid grouping genetic algorithm
// for bin packing, J. Heuristics 2: uniform and triplets), of Scholl, Klein and
// Jürgens (1997, BISON, Computers & OR 24: sets 1 to 3), of Schwerin and Wäscher
// (1997, ITOR 4) and, with demands, of Gau and Wäscher (1995, CUTGEN1, EJOR 84).
// All parameters are from memory; the numbers themselves are our own.
func classes() []class {
	var list []class
	for _, n := range []int{120, 250, 500, 1000} {
		list = append(list, class{fmt.Sprintf("falkenauer-u%d", n), uniform(n, 150, 20, 100), 0})
	}
	for _, n := range []int{60, 120, 249, 501} {
		list = append(list, class{fmt.Sprintf("falkenauer-t%d", n), triplets(n), int64(n / 3)})
	}
	for _, c := range []struct{ n, room, low int64 }{{100, 100, 1}, {200, 120, 20}, {500, 150, 30}, {500, 100, 1}} {
		list = append(list, class{fmt.Sprintf("scholl-1 n%d c%d w%d", c.n, c.room, c.low), uniform(int(c.n), c.room, c.low, 100), 0})
	}
	for _, c := range []struct{ n, parts, spread int64 }{{100, 3, 20}, {200, 5, 50}, {500, 7, 90}, {500, 9, 20}, {500, 3, 50}} {
		mean := 1000 / c.parts
		make := uniform(int(c.n), 1000, mean*(100-c.spread)/100, mean*(100+c.spread)/100)
		list = append(list, class{fmt.Sprintf("scholl-2 n%d of %d ±%d%%", c.n, c.parts, c.spread), make, 0})
	}
	return append(list,
		class{"scholl-3 n200", uniform(200, 100_000, 20_000, 35_000), 0},
		class{"schwerin n100", uniform(100, 1000, 150, 200), 0},
		class{"schwerin n120", uniform(120, 1000, 150, 200), 0},
		class{"wide n200", uniform(200, 1000, 1, 800), 0},
		class{"distinct n400", uniform(400, 1_000_000, 1, 500_000), 0},
		class{"distinct n1000", uniform(1000, 1_000_000_000, 20_000_000, 500_000_000), 0},
		class{"no waste n200 c1000", cut(65, 1000, 4, 20), 65},
		class{"no waste n200 c10000", cut(67, 10_000, 4, 200), 67},
		class{"no waste n600 c2500", cut(200, 2500, 4, 30), 200},
		class{"cutgen m40 small d100", demands(40, 1000, 10, 200, 100), 0},
		class{"cutgen m50 wide d10", demands(50, 1000, 10, 800, 10), 0},
	)
}

// uniform draws n whole sizes from low to high.
func uniform(n int, room, low, high int64) func(*rand.Rand) Problem {
	return func(rng *rand.Rand) Problem {
		sizes := make([]int64, n)
		for i := range sizes {
			sizes[i] = low + rng.Int64N(high-low+1)
		}
		return Of(room, sizes...)
	}
}

// triplets fills n/3 bins of 100.0 with three pieces each: one of 38.0 to 49.0,
// two that share the rest, none below 25.0.
func triplets(n int) func(*rand.Rand) Problem {
	return func(rng *rand.Rand) Problem {
		var sizes []int64
		for range n / 3 {
			a := 380 + rng.Int64N(111)
			b := 250 + rng.Int64N((1000-a)/2-250+1)
			sizes = append(sizes, a, b, 1000-a-b)
		}
		rng.Shuffle(len(sizes), func(i, j int) { sizes[i], sizes[j] = sizes[j], sizes[i] })
		return Of(1000, sizes...)
	}
}

// demands draws m sizes, each wanted mean times on average.
func demands(m int, room, low, high, mean int64) func(*rand.Rand) Problem {
	return func(rng *rand.Rand) Problem {
		p := Problem{Capacity: room}
		for range m {
			p.Pieces = append(p.Pieces, Piece{low + rng.Int64N(high-low+1), 1 + rng.Int64N(2*mean)})
		}
		return p
	}
}

// cut cuts bins at random places into 2 to most pieces none of which is below
// low, so that nothing is left over.
func cut(bins int, room int64, most int, low int64) func(*rand.Rand) Problem {
	return func(rng *rand.Rand) Problem {
		var sizes []int64
		for range bins {
			left := room
			for range 1 + rng.IntN(most-1) {
				if left >= 2*low {
					s := low + rng.Int64N(left-2*low+1)
					sizes = append(sizes, s)
					left -= s
				}
			}
			sizes = append(sizes, left)
		}
		return Of(room, sizes...)
	}
}
