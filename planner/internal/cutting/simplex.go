package cutting

// simplex is the revised simplex method with the inverse of the basis as a dense
// matrix: the least cost of columns whose rows add up to what is wanted. What it
// says guides the search; bounds never rest on its floating-point numbers.
type simplex struct {
	rows int
	inv  []float64
	// x are the values of the columns of the basis, ids whose they are, cost
	// what they cost, price the dual value of each row.
	x, cost, price []float64
	ids            []int
	enter          []float64
	full           []int
	work           int64
}

// entry is what a column holds of a row.
type entry struct {
	row int
	n   float64
}

// tiny is what counts as nothing in a pivot, small in a price.
const (
	tiny  = 1e-9
	small = 1e-8
)

// newSimplex starts with one column of its own for each row: hold[r] of row r, at
// cost[r], known as ids[r].
func newSimplex(want, hold, cost []float64, ids []int) *simplex {
	m := len(want)
	s := &simplex{rows: m, inv: make([]float64, m*m), x: make([]float64, m), cost: cost, ids: ids, price: make([]float64, m), enter: make([]float64, m)}
	for r := range m {
		s.inv[r*m+r] = 1 / hold[r]
		s.x[r] = want[r] / hold[r]
		s.price[r] = cost[r] / hold[r]
	}
	return s
}

// value is the cost of the basis.
func (s *simplex) value() float64 {
	sum := 0.0
	for r, x := range s.x {
		sum += x * s.cost[r]
	}
	return sum
}

// worth is what a column holds at the prices of the rows.
func (s *simplex) worth(col []entry) float64 {
	sum := 0.0
	for _, e := range col {
		sum += s.price[e.row] * e.n
	}
	return sum
}

// pivot brings a column of the given cost into the basis. It reports false where
// numbers have become too small to divide by.
func (s *simplex) pivot(col []entry, cost float64, id int) bool {
	m := s.rows
	for r := range m {
		sum := 0.0
		for _, e := range col {
			sum += s.inv[r*m+e.row] * e.n
		}
		s.enter[r] = sum
	}
	out := s.leaving()
	if out < 0 {
		return false
	}
	gain := (cost - s.worth(col)) / s.enter[out]
	row := s.inv[out*m : out*m+m]
	s.full = s.full[:0]
	for c, v := range row {
		if v != 0 {
			s.price[c] += gain * v
			row[c] = v / s.enter[out]
			s.full = append(s.full, c)
		}
	}
	step := max(0, s.x[out]) / s.enter[out]
	for r := range m {
		if f := s.enter[r]; r != out && f != 0 {
			s.x[r] -= f * step
			s.subtract(s.inv[r*m:r*m+m], row, f)
		}
	}
	s.work += int64(m * (2 + len(col)))
	s.x[out], s.ids[out], s.cost[out] = step, id, cost
	return true
}

// subtract takes a multiple of the leaving row from another.
func (s *simplex) subtract(other, row []float64, f float64) {
	s.work += int64(len(s.full))
	for _, c := range s.full {
		v := other[c] - f*row[c]
		if v < tiny*tiny && v > -tiny*tiny {
			v = 0
		}
		other[c] = v
	}
}

// leaving is the row whose column reaches zero first, of equal ones that with the
// greatest divisor.
func (s *simplex) leaving() int {
	out, least := -1, 0.0
	for r, f := range s.enter {
		if f <= tiny {
			continue
		}
		q := max(0, s.x[r]) / f
		if out < 0 || q < least-tiny || (q < least+tiny && f > s.enter[out]) {
			out, least = r, q
		}
	}
	return out
}
