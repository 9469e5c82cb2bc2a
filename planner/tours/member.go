package tours

import (
	"cmp"
	"slices"
)

// member is one set of routes of a population.
type member struct {
	// order is all stops, routes one after the other; next is what follows each
	// stop.
	order, next []int32
	// cost is that of legs and routes, excess what breaches the limits: load,
	// the other load, time.
	cost   int64
	excess [3]int64
	// kin are the others of its half with what they differ in, nearest first.
	kin []kinship
	// value at today's prices, fitness by rank in value and in difference.
	value, fitness float64
}

type kinship struct {
	differ int
	of     *member
}

func (m *member) feasible() bool { return m.excess == [3]int64{} }

// member copies the routes of s.
func (p *population) member(s *state) *member {
	m := &member{order: s.ring(p.plane, nil), next: make([]int32, s.f.w), cost: s.total(), excess: s.excess()}
	for x := 1; x < s.f.w; x++ {
		m.next[x] = s.nodes[x].link[0]
	}
	return m
}

// excess is what all routes breach the limits by.
func (s *state) excess() (sum [3]int64) {
	f := s.f
	for i := range s.routes {
		r := &s.routes[i]
		if r.over == 0 {
			continue
		}
		load, time := r.load, r.time
		if f.rich {
			spread := f.Loads[0].spread(r.more.variance)
			load += spread
			time += f.Loads[0].slow(spread)
		}
		if f.rich && len(f.Loads) > 1 {
			spread := f.Loads[1].spread(r.more.loadVariance)
			sum[1] += max(r.more.load+spread-f.Loads[1].Capacity, 0)
			time += f.Loads[1].slow(spread)
		}
		sum[0] += max(load-f.capacity, 0)
		if f.timed {
			sum[2] += max(time-f.maxTime, 0)
		}
	}
	return sum
}

// differ counts the stops of m that another one follows in o.
func (m *member) differ(o *member) int {
	n := 0
	for x := 1; x < len(m.next); x++ {
		if m.next[x] != o.next[x] {
			n++
		}
	}
	return n
}

// weigh sets what m is worth.
func (m *member) weigh(p prices) {
	m.value = float64(m.cost) + float64(m.excess[0])*p.load + float64(m.excess[1])*p.other + float64(m.excess[2])*p.time
}

// relate files one more of kin.
func (m *member) relate(k kinship) {
	at, _ := slices.BinarySearchFunc(m.kin, k.differ+1, func(o kinship, d int) int { return cmp.Compare(o.differ, d) })
	m.kin = slices.Insert(m.kin, at, k)
}

// apart is the mean share in which m differs from its nearest kin.
func (m *member) apart() float64 {
	n := min(nearKin, len(m.kin))
	sum := 0
	for _, k := range m.kin[:n] {
		sum += k.differ
	}
	return float64(sum) / float64(max(n, 1))
}
