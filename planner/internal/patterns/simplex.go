package patterns

import (
	"math"
	"slices"
)

// Simplex is the revised simplex method with the inverse of the basis as a
// dense matrix: the least cost of columns whose rows add up to what is wanted.
// What it says guides a search; bounds never rest on its floating-point
// numbers.
type Simplex struct {
	// X are the values of the columns of the basis, IDs whose they are, Price
	// the dual value of each row.
	X     []float64
	IDs   []int
	Price []float64
	// Work counts the entries of the matrix that were touched; who reads it
	// sets it back.
	Work int64
	// Barred tells of columns that may leave the basis but not grow in it; nil is
	// none.
	Barred func(id int) bool
	cost   []float64
	inv    []float64
	// enter is the entering column in terms of the basis, full the places of
	// the leaving row that are not zero.
	enter []float64
	full  []int
}

// Entry is what a column holds of a row.
type Entry struct {
	Row int
	N   float64
}

// Tiny is what counts as nothing in a pivot.
const Tiny = 1e-9

// NewSimplex starts with one column of its own for each row: hold[r] of row r,
// at cost[r], known as ids[r]. It keeps cost and ids.
func NewSimplex(want, hold, cost []float64, ids []int) *Simplex {
	m := len(want)
	s := &Simplex{X: make([]float64, m), IDs: ids, Price: make([]float64, m), cost: cost, inv: make([]float64, m*m), enter: make([]float64, m)}
	for r := range m {
		s.inv[r*m+r] = 1 / hold[r]
		s.X[r] = want[r] / hold[r]
		s.Price[r] = cost[r] / hold[r]
	}
	return s
}

// Drop takes a row out and the column of the basis in place out, which holds of no
// other row.
func (s *Simplex) Drop(row, out int) {
	m := len(s.X)
	inv := s.inv[:0]
	for r := range m {
		for c, v := range s.inv[r*m : r*m+m] {
			if r != out && c != row {
				inv = append(inv, v)
			}
		}
	}
	s.inv, s.enter = inv, s.enter[:m-1]
	s.Price = slices.Delete(s.Price, row, row+1)
	s.X, s.IDs, s.cost = slices.Delete(s.X, out, out+1), slices.Delete(s.IDs, out, out+1), slices.Delete(s.cost, out, out+1)
	s.Work += int64(m)
}

// Clone is a copy that can go its own way.
func (s *Simplex) Clone() *Simplex {
	c := *s
	c.X, c.IDs, c.Price = slices.Clone(s.X), slices.Clone(s.IDs), slices.Clone(s.Price)
	c.cost, c.inv, c.enter, c.full = slices.Clone(s.cost), slices.Clone(s.inv), make([]float64, len(s.X)), nil
	return &c
}

// Off is by how much the columns of the basis miss what is wanted at most.
func (s *Simplex) Off(column func(id int) []Entry, want []float64) float64 {
	rest := slices.Clone(want)
	for r, id := range s.IDs {
		for _, e := range column(id) {
			rest[e.Row] -= e.N * s.X[r]
		}
	}
	most := 0.0
	for _, v := range rest {
		if math.IsNaN(v) {
			return math.Inf(1)
		}
		most = max(most, math.Abs(v))
	}
	return most
}

// Renew inverts the basis anew (Gauss and Jordan); false where it has no inverse.
func (s *Simplex) Renew(column func(id int) []Entry, want []float64) bool {
	m := len(s.X)
	// rows are the basis and, behind it, what becomes its inverse.
	rows := make([][]float64, m)
	for r := range rows {
		rows[r] = make([]float64, 2*m)
		rows[r][m+r] = 1
	}
	for r, id := range s.IDs {
		for _, e := range column(id) {
			rows[e.Row][r] = e.N
		}
	}
	for c := range rows {
		out := c
		for r := c + 1; r < m; r++ {
			if math.Abs(rows[r][c]) > math.Abs(rows[out][c]) {
				out = r
			}
		}
		if math.Abs(rows[out][c]) < Tiny {
			return false
		}
		rows[c], rows[out] = rows[out], rows[c]
		by := 1 / rows[c][c]
		for k := c; k < 2*m; k++ {
			rows[c][k] *= by
		}
		for r := range rows {
			if f := rows[r][c]; r != c && f != 0 {
				s.Work += int64(2*m - c)
				for k := c; k < 2*m; k++ {
					rows[r][k] -= f * rows[c][k]
				}
			}
		}
	}
	clear(s.Price)
	for r := range rows {
		copy(s.inv[r*m:r*m+m], rows[r][m:])
		s.X[r] = 0
		for c, v := range rows[r][m:] {
			s.X[r] += v * want[c]
			s.Price[c] += v * s.cost[r]
		}
	}
	return true
}

// Value is the cost of the basis.
func (s *Simplex) Value() float64 {
	sum := 0.0
	for r, x := range s.X {
		sum += x * s.cost[r]
	}
	return sum
}

// Recost gives the columns of the basis other costs, by their IDs.
func (s *Simplex) Recost(cost func(id int) float64) {
	m := len(s.X)
	clear(s.Price)
	for r, id := range s.IDs {
		s.cost[r] = cost(id)
		for c, v := range s.inv[r*m : r*m+m] {
			s.Price[c] += s.cost[r] * v
		}
	}
	s.Work += int64(m * m)
}

// Worth is what a column holds at the prices of the rows.
func (s *Simplex) Worth(col []Entry) float64 {
	sum := 0.0
	for _, e := range col {
		sum += s.Price[e.Row] * e.N
	}
	return sum
}

// Pivot brings a column of the given cost into the basis. It reports false
// where numbers have become too small to divide by.
func (s *Simplex) Pivot(col []Entry, cost float64, id int) bool {
	s.express(col)
	out := s.leaving()
	if out < 0 {
		return false
	}
	s.X[out] = max(0, s.X[out])
	if s.enter[out] < 0 {
		s.X[out] = 0 // a barred column leaves as it is
	}
	s.replace(out, col, cost, id)
	return true
}

// Replace brings a column into the basis for the one in place out, of which it must
// hold something: see Along.
func (s *Simplex) Replace(out int, col []Entry, cost float64, id int) {
	s.express(col)
	s.replace(out, col, cost, id)
}

// Along is what a column holds of the one in place r of the basis.
func (s *Simplex) Along(r int, col []Entry) float64 {
	sum, row := 0.0, s.inv[r*len(s.X):]
	for _, e := range col {
		sum += row[e.Row] * e.N
	}
	return sum
}

// Norm is the square of the length of the row of the inverse in place r: what is below
// nothing by little may be far out where it is long (Forrest, Goldfarb, Steepest-edge
// simplex algorithms for linear programming, Mathematical Programming 57, 1992, from
// memory).
func (s *Simplex) Norm(r int) float64 {
	m, sum := len(s.X), 0.0
	for _, v := range s.inv[r*m : r*m+m] {
		sum += v * v
	}
	s.Work += int64(m)
	return sum
}

// express writes a column in terms of the basis.
func (s *Simplex) express(col []Entry) {
	for r := range s.X {
		s.enter[r] = s.Along(r, col)
	}
}

// replace is Replace of the column that is expressed.
func (s *Simplex) replace(out int, col []Entry, cost float64, id int) {
	m := len(s.X)
	gain := (cost - s.Worth(col)) / s.enter[out]
	row := s.inv[out*m : out*m+m]
	s.full = s.full[:0]
	for c, v := range row {
		if v != 0 {
			s.Price[c] += gain * v
			row[c] = v / s.enter[out]
			s.full = append(s.full, c)
		}
	}
	step := s.X[out] / s.enter[out]
	for r := range m {
		if f := s.enter[r]; r != out && f != 0 {
			s.X[r] -= f * step
			s.subtract(s.inv[r*m:r*m+m], row, f)
		}
	}
	s.Work += int64(m * (2 + len(col)))
	s.X[out], s.IDs[out], s.cost[out] = step, id, cost
}

// Grow adds a row that wants no more than so much, has[r] being what the column in
// place r of the basis holds of it. What the row has left over enters the basis as
// a column known as id, at no cost; it is below nothing where there is too much.
func (s *Simplex) Grow(has []float64, want float64, id int) {
	m := len(s.X)
	x, row := want, make([]float64, m+1)
	row[m] = 1
	for r, h := range has {
		if h == 0 {
			continue
		}
		x -= h * s.X[r]
		for c, v := range s.inv[r*m : r*m+m] {
			row[c] -= h * v
		}
		s.Work += int64(m)
	}
	inv := make([]float64, 0, (m+1)*(m+1))
	for r := range m {
		inv = append(append(inv, s.inv[r*m:r*m+m]...), 0)
	}
	s.inv, s.enter = append(inv, row...), make([]float64, m+1)
	s.Price, s.X, s.IDs, s.cost = append(s.Price, 0), append(s.X, x), append(s.IDs, id), append(s.cost, 0)
}

// Want changes what a row wants by so much.
func (s *Simplex) Want(row int, by float64) {
	m := len(s.X)
	for r := range m {
		s.X[r] += by * s.inv[r*m+row]
	}
	s.Work += int64(m)
}

// subtract takes a multiple of the leaving row from another.
func (s *Simplex) subtract(other, row []float64, f float64) {
	s.Work += int64(len(s.full))
	if 3*len(s.full) > len(row) {
		other = other[:len(row)]
		for c, v := range row {
			other[c] -= f * v
		}
		return
	}
	for _, c := range s.full {
		v := other[c] - f*row[c]
		if v < Tiny*Tiny && v > -Tiny*Tiny {
			v = 0
		}
		other[c] = v
	}
}

// leaving is the row whose column reaches zero first, of equal ones that with
// the greatest divisor.
func (s *Simplex) leaving() int {
	out, least := -1, 0.0
	for r, f := range s.enter {
		if f < -Tiny && s.Barred != nil && s.Barred(s.IDs[r]) {
			return r
		}
		if f <= Tiny {
			continue
		}
		q := max(0, s.X[r]) / f
		if out < 0 || q < least-Tiny || (q < least+Tiny && f > s.enter[out]) {
			out, least = r, q
		}
	}
	return out
}
