package packing

// simplex is the revised simplex method on the rows of a covering programme:
// as few columns as possible that hold every row's need. It keeps the inverse
// of the basis as a dense matrix. What it says guides the search; bounds never
// rest on its floating-point numbers.
type simplex struct {
	rows int
	inv  []float64
	// x are the values of the columns of the basis, ids whose they are:
	// those that need no bin are below 0.
	x   []float64
	ids []int
	// price is the dual value of each row.
	price []float64
	// enter is the entering column in terms of the basis, full the places of
	// the leaving row that are not zero, work the entries that were touched.
	enter []float64
	full  []int
	work  int64
}

// entry is what a column holds of a row.
type entry struct {
	row int
	n   float64
}

// tiny is what counts as nothing in a pivot.
const tiny = 1e-9

// newSimplex starts with one column of its own for each row: hold[r] of row r
// at a time, known as ids[r].
func newSimplex(need, hold []float64, ids []int) *simplex {
	m := len(need)
	s := &simplex{rows: m, inv: make([]float64, m*m), x: make([]float64, m), ids: ids, price: make([]float64, m), enter: make([]float64, m)}
	for r := range m {
		s.inv[r*m+r] = 1 / hold[r]
		s.x[r] = need[r] / hold[r]
		s.price[r] = 1 / hold[r]
	}
	return s
}

// value is the number of columns, in fractions, of the basis.
func (s *simplex) value() float64 {
	sum := 0.0
	for r, x := range s.x {
		if s.ids[r] >= 0 {
			sum += x
		}
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

// pivot brings a column of the given cost into the basis. It reports false
// where numbers have become too small to divide by.
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
	s.x[out], s.ids[out] = step, id
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

// leaving is the row whose column reaches zero first, of equal ones that with
// the greatest divisor.
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

// exchange brings in a column that needs no bin: it puts a piece of the next
// row, which is not larger, in the place of one of a row whose price has fallen
// below the next one's, or leaves out one of the last row (dual-optimal
// inequalities, Valério de Carvalho 2005: prices that rise with the size lose
// nothing). It reports whether there was one.
func (s *simplex) exchange() bool {
	at, most := -1, 1e-9
	for r, p := range s.price {
		next := 0.0
		if r+1 < s.rows {
			next = s.price[r+1]
		}
		if next-p > most {
			at, most = r, next-p
		}
	}
	if at < 0 {
		return false
	}
	col := []entry{{at, -1}, {at + 1, 1}}
	if at+1 == s.rows {
		col = col[:1]
	}
	return s.pivot(col, 0, -1-at)
}
