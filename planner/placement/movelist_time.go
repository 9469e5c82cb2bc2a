package placement

import (
	"math"
	"time"

	"lanewright/planner/plant"
)

// time is what an errand takes: the handling of each container, and the walk
// there and back.
func (m *mover) time(e errand) time.Duration {
	walk := 0.0
	if m.s.Speed > 0 {
		walk = 2 * m.distance(e.from, e.to) / m.s.Speed
	}
	seconds := time.Duration(math.Round(walk)) * time.Second
	return time.Duration(e.n)*m.s.Container + seconds
}

// distance is the straight line between two racks, or from a rack to the
// nearest market, in metres: the setting's where a place is not known, 0 on one
// rack.
func (m *mover) distance(a, b *Spot) float64 {
	switch {
	case a == nil:
		return m.fromMarket(b)
	case b == nil:
		return m.fromMarket(a)
	case a.Rack == b.Rack:
		return 0
	}
	x, y := m.racks[a.Rack], m.racks[b.Rack]
	if x == nil || y == nil || !x.Known || !y.Known {
		return m.s.Distance
	}
	return between(x.Place, y.Place)
}

func (m *mover) fromMarket(at *Spot) float64 {
	r := m.racks[at.Rack]
	if r == nil || !r.Known {
		return m.s.Distance
	}
	least := math.Inf(1)
	for _, p := range m.index.Plant.AislePoints {
		if p.Kind == plant.Market {
			least = min(least, between(r.Place, p.Place))
		}
	}
	if math.IsInf(least, 1) {
		return m.s.Distance
	}
	return least
}

// between is the straight line between two places in metres.
func between(a, b plant.Place) float64 {
	return math.Hypot(a.X.Metres()-b.X.Metres(), a.Y.Metres()-b.Y.Metres())
}

// inShifts gives each step of a cell its day and shift. A new shift begins
// where the time of one would be passed; what happens while something is aside
// stays together.
func inShifts(steps []Step, shifts []plant.Shift, limit time.Duration) []Step {
	turn, used := 0, time.Duration(0)
	for from := 0; from < len(steps); {
		end, takes := block(steps, from)
		if used > 0 && used+takes > limit {
			turn, used = turn+1, 0
		}
		for ; from < end; from++ {
			if used > 0 && used+steps[from].Time > limit {
				turn, used = turn+1, 0
			}
			used += steps[from].Time
			steps[from].Day, steps[from].Shift = turn+1, ""
			if len(shifts) > 0 {
				steps[from].Day, steps[from].Shift = 1+turn/len(shifts), shifts[turn%len(shifts)].Shift
			}
		}
	}
	return steps
}

// block returns the end of the steps that belong together from one on, and
// what they take.
func block(steps []Step, from int) (end int, takes time.Duration) {
	aside := 0
	for end = from; end < len(steps); end++ {
		switch steps[end].Kind {
		case StepAside:
			aside += steps[end].Containers
		case StepBack:
			aside -= steps[end].Containers
		}
		if takes += steps[end].Time; aside == 0 {
			return end + 1, takes
		}
	}
	return end, takes
}

// Turn is what one shift has to do in one cell.
type Turn struct {
	Cell              plant.CellCode
	Day               int
	Shift             plant.ShiftCode
	Steps, Containers int
	Time              time.Duration
}

// Turns sums the steps of a move list by cell, day and shift.
func Turns(steps []Step) []Turn {
	var list []Turn
	for _, s := range steps {
		last := len(list) - 1
		if last < 0 || list[last].Cell != s.Cell || list[last].Day != s.Day || list[last].Shift != s.Shift {
			list = append(list, Turn{Cell: s.Cell, Day: s.Day, Shift: s.Shift})
			last++
		}
		t := &list[last]
		t.Steps, t.Containers, t.Time = t.Steps+1, t.Containers+s.Containers, t.Time+s.Time
	}
	return list
}
