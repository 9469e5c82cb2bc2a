package tours

import "math"

// splitter cuts one order of all stops into routes at the least value (Beasley,
// Route first - cluster second methods for vehicle routing, Omega 11, 1983,
// 403-408), with breaches at their prices.
type splitter struct {
	// value is the least of the first i stops, from the number of those that
	// come before the route that ends with them.
	value []int64
	from  []int32
}

// splitOver is how many times a vehicle's load a route has at most when it is cut.
const splitOver = 1.5

// split loads the routes of order, and as few as are allowed.
func (s *state) split(c *splitter, order []int32) {
	n := len(order)
	if c.value == nil {
		c.value, c.from = make([]int64, n+1), make([]int32, n+1)
	}
	for i := range c.value {
		c.value[i] = math.MaxInt64
	}
	c.value[0] = 0
	for i := range n {
		s.splitFrom(c, order, i)
	}
	s.clear()
	at := int32(s.f.Labels)
	for end := n; end > 0; end = int(c.from[end]) {
		s.load(at, order[c.from[end]:end])
		at++
	}
}

// splitFrom tries all routes that begin after the first i stops.
func (s *state) splitFrom(c *splitter, order []int32, i int) {
	f := s.f
	var load, time, legs int64
	var more goods
	most := int64(splitOver * float64(min(f.capacity, 1<<60)))
	at := int32(depot)
	for j := i; j < len(order); j++ {
		x := order[j]
		if load += f.demand[x]; load > most && j > i {
			break
		}
		legs += int64(f.leg(at, x))
		total := legs + int64(f.leg(x, depot)) + f.Fixed
		if f.rich {
			more = more.plus(s.more[x])
		}
		var home int64
		if f.timed {
			time += f.drive(at, x) + f.service[x]
			home = f.drive(x, depot)
		}
		total += s.penalty(load, time+home, more)
		if v := c.value[i] + total; v < c.value[j+1] {
			c.value[j+1], c.from[j+1] = v, int32(i)
		}
		at = x
	}
}
