package tours

import (
	"math"
	"slices"
)

// grid divides the plane into squares of a few stops each, so that a stop's
// nearest are found without a look at all others.
type grid struct {
	*Problem
	// k is how many are wanted.
	k          int
	side       int
	x0, y0, by float64
	// cells are the stops by square, from starts[i] on.
	starts []int32
	cells  []int32
}

// perSquare is how many stops a square has on average.
const perSquare = 3

// newGrid has no squares where there are no coordinates.
func newGrid(p *Problem, k int) *grid {
	if p.Costs != nil || len(p.X) == 0 || p.Stops < 4*nearest {
		return &grid{Problem: p, k: k}
	}
	x0, x1 := slices.Min(p.X), slices.Max(p.X)
	y0, y1 := slices.Min(p.Y), slices.Max(p.Y)
	side := max(int(math.Sqrt(float64(p.Stops)/perSquare)), 1)
	g := &grid{Problem: p, k: k, side: side, x0: x0, y0: y0, by: max(x1-x0, y1-y0, 1e-9) / float64(side)}
	g.starts = make([]int32, side*side+1)
	for a := int32(1); int(a) <= p.Stops; a++ {
		g.starts[g.square(a)+1]++
	}
	for i := range side * side {
		g.starts[i+1] += g.starts[i]
	}
	g.cells = make([]int32, p.Stops)
	at := slices.Clone(g.starts)
	for a := int32(1); int(a) <= p.Stops; a++ {
		i := g.square(a)
		g.cells[at[i]] = a
		at[i]++
	}
	return g
}

func (g *grid) place(a int32) (x, y int) {
	x = min(int((g.X[a]-g.x0)/g.by), g.side-1)
	y = min(int((g.Y[a]-g.y0)/g.by), g.side-1)
	return x, y
}

func (g *grid) square(a int32) int {
	x, y := g.place(a)
	return y*g.side + x
}

// around appends the stops that may be among the nearest of a: all others
// without a grid, else those of a square of squares that holds twice as many
// as are wanted and one ring more.
func (g *grid) around(a int32, list []candidate) []candidate {
	if g.side == 0 {
		for b := int32(1); int(b) <= g.Stops; b++ {
			if a != b {
				list = append(list, candidate{min(g.leg(a, b), g.leg(b, a)), b})
			}
		}
		return list
	}
	x, y := g.place(a)
	for ring, more := 0, 1; more >= 0 && ring <= g.side; ring++ {
		list = g.ring(a, x, y, ring, list)
		if len(list) >= 2*g.k {
			more--
		}
	}
	return list
}

// ring appends the stops of the squares so far away from (x, y).
func (g *grid) ring(a int32, x, y, far int, list []candidate) []candidate {
	for j := max(y-far, 0); j <= min(y+far, g.side-1); j++ {
		step := 2 * far
		if j == y-far || j == y+far || far == 0 {
			step = 1
		}
		for i := x - far; i <= x+far; i += step {
			if i < 0 || i >= g.side {
				continue
			}
			at := j*g.side + i
			for _, b := range g.cells[g.starts[at]:g.starts[at+1]] {
				if a != b {
					list = append(list, candidate{g.leg(a, b), b})
				}
			}
		}
	}
	return list
}
