package ergonomics

import (
	"math"

	"lanewright/planner/units"
)

// Equation is a way to work the Revised NIOSH Lifting Equation,
//
//	RWL = LC·HM·VM·DM·AM·FM·CM,
//
// with the constants of one set (Waters, Putz-Anderson, Garg, DHHS (NIOSH) Pub.
// 94-110, 1994, pp. 7-18). The zero Equation is the planner's: metric, at full
// precision.
type Equation struct {
	Set Set
	// Manual rounds as the manual's worked examples do (p. 29): multipliers to
	// two places, as its tables print them, limits and indices to one, halves
	// up.
	Manual bool
}

// Multipliers are those of one end of a lift, each from 0 to 1.
type Multipliers struct{ HM, VM, DM, AM, FM, CM float64 }

// of is what they leave of the load constant.
func (m Multipliers) of(load float64) float64 { return load * m.HM * m.VM * m.DM * m.AM * m.FM * m.CM }

// Multipliers returns those of l at one of its ends. FM takes the height at the
// origin, CM the height judged (pp. 15, 46, 74).
func (q Equation) Multipliers(l Lift, at End) Multipliers {
	c := &sets[q.Set]
	far := l.Origin.Height - l.Destination.Height
	h, v, d := c.of(at.Reach), c.of(at.Height), c.of(max(far, -far))
	m := Multipliers{
		HM: c.horizontal(h), VM: c.vertical(v), DM: c.distance(d), AM: asymmetry(at.Angle),
		FM: c.frequency(l.PerMinute, l.Duration, c.of(l.Origin.Height)), CM: c.coupling(l.Handles, v),
	}
	if q.Manual {
		m = Multipliers{
			HM: printed(m.HM, h, c.printedH), VM: halfUp(m.VM, 100), DM: printed(m.DM, d, c.printedD),
			AM: halfUp(m.AM, 100), FM: halfUp(m.FM, 100), CM: m.CM,
		}
	}
	return m
}

// Limit returns the recommended weight limit at one end of l, in the set's kg or
// lb.
func (q Equation) Limit(l Lift, at End) float64 {
	limit := q.Multipliers(l, at).of(sets[q.Set].load)
	if q.Manual {
		return halfUp(limit, 10)
	}
	return limit
}

// Index returns mass over the limit of l: that of the origin, and where the load
// must be set down with control the lower one of origin and destination
// (pp. 21, 26). It is +Inf where the limit is 0.
func (q Equation) Index(l Lift, mass units.Mass) float64 {
	index := q.weight(mass) / q.lower(l)
	if q.Manual {
		return halfUp(index, 10)
	}
	return index
}

// lower is the limit that counts.
func (q Equation) lower(l Lift) float64 {
	limit := q.Limit(l, l.Origin)
	if l.Control {
		limit = min(limit, q.Limit(l, l.Destination))
	}
	return limit
}

// weight is a mass as a number of kg or lb.
func (q Equation) weight(m units.Mass) float64 { return float64(m) / float64(sets[q.Set].weight) }

// printed is a multiplier as the manual's table has it at v.
func printed(f, v float64, cells map[float64]float64) float64 {
	if cell, ok := cells[v]; ok {
		return cell
	}
	return halfUp(f, 100)
}

// halfUp rounds to a whole number of parts of 1, halves up. What floating-point
// arithmetic may have taken from a half is given back.
func halfUp(f, parts float64) float64 {
	if math.IsInf(f, 0) {
		return f
	}
	return math.Floor(f*parts+0.5+1e-9) / parts
}
