package patterns

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Adapted never asks for more than is needed, keeps the number of pieces while
// there are as many of the same size or smaller, and changes no pattern whose
// pieces are all needed.
func TestAdapted(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		name      string
		need      []int64
		uses, get []Use
	}{
		{"all needed", []int64{2, 3}, []Use{{0, 1}, {1, 3}}, []Use{{0, 1}, {1, 3}}},
		{"one too many", []int64{1, 3}, []Use{{0, 2}}, []Use{{0, 1}, {1, 1}}},
		{"over a kind nobody needs", []int64{0, 0, 4}, []Use{{0, 2}}, []Use{{2, 2}}},
		{"none smaller", []int64{5, 1}, []Use{{1, 3}}, []Use{{1, 1}}},
		{"nothing needed", []int64{0, 0}, []Use{{0, 1}}, nil},
	} {
		assert.Equal(t, test.get, Adapted(test.need, test.uses), test.name)
	}
}

func TestRound(t *testing.T) {
	t.Parallel()
	whole, more := Round([]float64{0.2, 2.9, 1.999999, 0.6, 3}, nil)
	assert.Equal(t, []int64{0, 2, 2, 0, 3}, whole)
	assert.Equal(t, []int{1}, more, "the greatest fraction")
	shares := make([]float64, 30)
	shares[7], shares[20], shares[25], shares[29] = 0.6, 0.9, 0.5, 0.56
	_, more = Round(shares, nil)
	assert.Equal(t, []int{20, 7, 29}, more, "the greatest and others of more than half, one in twelve")
}

// The basis is worth what every least cost is worth: for two rows the best of
// all pairs of columns, by enumeration.
func TestSimplexAgainstAllBases(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(1, 1))
	for n := range 200 {
		want := []float64{1 + 9*rng.Float64(), 1 + 9*rng.Float64()}
		columns := [][2]float64{{1, 0}, {0, 1}}
		for range 6 {
			columns = append(columns, [2]float64{float64(rng.IntN(5)), float64(rng.IntN(5))})
		}
		s := NewSimplex(want, []float64{1, 1}, []float64{1, 1}, []int{0, 1})
		for improved := true; improved; {
			improved = false
			for id, c := range columns {
				if col := []Entry{{0, c[0]}, {1, c[1]}}; s.Worth(col) > 1+Tiny {
					improved = s.Pivot(col, 1, id) || improved
				}
			}
		}
		require.InDelta(t, leastOf(columns, want), s.Value(), 1e-6, "problem %d", n)
		require.InDelta(t, s.Value(), s.Price[0]*want[0]+s.Price[1]*want[1], 1e-6, "problem %d: the prices of what is wanted", n)
	}
}

// Other costs of the columns give the prices that a programme with these costs has.
func TestSimplexWithOtherCosts(t *testing.T) {
	t.Parallel()
	columns := [][]Entry{{{0, 1}}, {{1, 1}}, {{0, 2}, {1, 1}}, {{0, 1}, {1, 3}}}
	solve := func(s *Simplex, cost []float64) {
		for improved := true; improved; {
			improved = false
			for id, c := range columns {
				if s.Worth(c) > cost[id]+Tiny {
					improved = s.Pivot(c, cost[id], id) || improved
				}
			}
		}
	}
	first, then := []float64{9, 9, 2, 3}, []float64{9, 9, 40, 3}
	s := NewSimplex([]float64{4, 7}, []float64{1, 1}, []float64{9, 9}, []int{0, 1})
	solve(s, first)
	assert.InDelta(t, 8, s.Value(), 1e-9, "one of the third and two of the fourth")
	s.Recost(func(id int) float64 { return then[id] })
	assert.InDelta(t, 46, s.Value(), 1e-9)
	solve(s, then)
	assert.InDelta(t, 22, s.Value(), 1e-9, "without the third: 7/3 of the fourth and 5/3 of the first")
	assert.InDelta(t, s.Value(), s.Price[0]*4+s.Price[1]*7, 1e-9)
}

// leastOf is the least sum of two columns' shares that add up to want.
func leastOf(columns [][2]float64, want []float64) float64 {
	least := math.Inf(1)
	for _, a := range columns {
		for _, b := range columns {
			det := a[0]*b[1] - a[1]*b[0]
			if det == 0 {
				continue
			}
			x, y := (want[0]*b[1]-want[1]*b[0])/det, (a[0]*want[1]-a[1]*want[0])/det
			if x >= 0 && y >= 0 {
				least = min(least, x+y)
			}
		}
	}
	return least
}

func TestMeter(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithCancel(context.Background())
	m := NewMeter(ctx, 10*AskEvery)
	m.Within(5, func() {
		assert.True(t, m.Spend(4))
		assert.False(t, m.Spend(1))
	})
	assert.True(t, m.On(), "the rest of the operations is left")
	cancel()
	assert.True(t, m.Spend(1), "it has not asked yet")
	assert.False(t, m.Spend(AskEvery))
	assert.True(t, m.Cancelled)
}

// Rows that come and go, and an inverse made anew, leave the columns of the basis what
// they are: together just what is wanted.
func TestSimplexWithRowsThatComeAndGo(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(3, 1))
	for n := range 100 {
		rows := 3 + rng.IntN(8)
		want, one, cost, ids := make([]float64, rows), make([]float64, rows), make([]float64, rows), make([]int, rows)
		var columns [][]Entry
		for r := range rows {
			want[r], one[r], cost[r], ids[r] = 1+rng.Float64(), 1, 100, r
			columns = append(columns, []Entry{{r, 1}})
		}
		for range 3 * rows {
			col := []Entry{{rng.IntN(rows), 1}}
			if r := rng.IntN(rows); r != col[0].Row {
				col = append(col, Entry{r, float64(1 + rng.IntN(2))})
			}
			columns = append(columns, col)
		}
		column := func(id int) []Entry { return columns[id] }
		s := NewSimplex(append([]float64(nil), want...), one, cost, ids)
		for id := rows; id < len(columns); id++ {
			if s.Worth(columns[id]) > 1 {
				s.Pivot(columns[id], 1, id)
			}
		}
		require.Less(t, s.Off(column, want), 1e-9, "problem %d", n)
		value, x := s.Value(), append([]float64(nil), s.X...)
		twin := s.Clone()

		// A row of every second column, and a column of what it has left over.
		spare := len(columns)
		has := make([]float64, rows)
		for r, id := range s.IDs {
			has[r] = float64(id % 2)
		}
		for id := range columns {
			if id%2 == 1 {
				columns[id] = append(columns[id], Entry{rows, 1})
			}
		}
		columns = append(columns, []Entry{{rows, 1}})
		more := append(append([]float64(nil), want...), 0.5)
		s.Grow(has, 0.5, spare)
		require.Less(t, s.Off(column, more), 1e-9, "problem %d: grown", n)
		require.InDelta(t, value, s.Value(), 1e-9)
		require.True(t, s.Renew(column, more))
		require.Less(t, s.Off(column, more), 1e-9, "problem %d: renewed", n)
		for r, id := range s.IDs {
			require.InDelta(t, 0, s.cost[r]-s.Worth(columns[id]), 1e-9, "problem %d: a column of the basis is worth what it costs", n)
		}
		s.Drop(rows, rows)
		require.InDeltaSlice(t, x, s.X, 1e-9, "problem %d: as before", n)
		require.InDeltaSlice(t, twin.Price, s.Price, 1e-9)
	}
}
