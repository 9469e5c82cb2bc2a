package tours

import "math"

// places is how many rows the tables of p have.
func (p *Problem) places() int {
	if p.Places == nil {
		return p.Stops + 1
	}
	return int(math.Sqrt(float64(len(p.Costs))))
}

// index is, by number of the stop, where its row begins in a table of so many places
// and its column.
func (p *Problem) index(places int) (row, column []int32) {
	row, column = make([]int32, p.Stops+1), p.Places
	if column == nil {
		column = make([]int32, p.Stops+1)
		for a := range column {
			column[a] = int32(a)
		}
	}
	for a, at := range column {
		row[a] = at * int32(places)
	}
	return row, column
}

// compact reports whether the search reads tables by places: where one by stops would
// not stay in the processor's cache and one by places is much smaller.
func (p *Problem) compact() bool {
	return p.Places != nil && p.Stops >= compactFrom && compactBy*p.places() <= p.Stops
}

// Measured: below so many stops, or with fewer of them at a place, a table by stops is
// quicker.
const (
	compactFrom = 600
	compactBy   = 2
)
