package patterns

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
	cost []float64
	inv  []float64
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
	m := len(s.X)
	for r := range m {
		sum := 0.0
		for _, e := range col {
			sum += s.inv[r*m+e.Row] * e.N
		}
		s.enter[r] = sum
	}
	out := s.leaving()
	if out < 0 {
		return false
	}
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
	step := max(0, s.X[out]) / s.enter[out]
	for r := range m {
		if f := s.enter[r]; r != out && f != 0 {
			s.X[r] -= f * step
			s.subtract(s.inv[r*m:r*m+m], row, f)
		}
	}
	s.Work += int64(m * (2 + len(col)))
	s.X[out], s.IDs[out], s.cost[out] = step, id, cost
	return true
}

// subtract takes a multiple of the leaving row from another.
func (s *Simplex) subtract(other, row []float64, f float64) {
	s.Work += int64(len(s.full))
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
