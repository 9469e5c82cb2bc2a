package routing

import (
	"time"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Load is what one round carries and takes.
type Load struct {
	// Mean and Planned are containers: the mean, and mean + z·sd at the plant's
	// service level. Mass is planned like containers.
	Mean, Planned float64
	Mass          units.Mass
	// Round is the time of a round at the planned load.
	Round time.Duration
}

// Checked compares a route with what other demands would make of it.
type Checked struct {
	Before, After Load
	// Most is what a round may carry and take: Planned and Mass are the vehicle's
	// capacity within the load limit, Mass 0 where it has none; Round is the
	// interval within the busy limit.
	Most Load
}

// Overfull and TooLong report whether other demands make a round pass a limit, and
// pass it by more than before.
func (c Checked) Overfull() bool {
	return passes(c.Before.Planned, c.After.Planned, c.Most.Planned)
}

// TooHeavy is Overfull for the mass.
func (c Checked) TooHeavy() bool {
	return c.Most.Mass > 0 && passes(c.Before.Mass.KG(), c.After.Mass.KG(), c.Most.Mass.KG())
}

// TooLong is Overfull for the time of a round.
func (c Checked) TooLong() bool {
	return passes(float64(c.Before.Round), float64(c.After.Round), float64(c.Most.Round))
}

func passes(before, after, most float64) bool {
	return after > most*(1+tolerance) && after > before*(1+tolerance)
}

// Check recomputes the load, the mass and the time of a route's round for other
// demands, by the rules that made it (planning rules, section 6). Its stops and
// its way stay as they are, also at racks that hold nothing any more; was are the
// demands that it serves now, now those it would serve. It is false where the
// vehicle of the route is not known.
func Check(x *plant.Index, s plant.Settings, r Route, was, now []Demand) (Checked, bool) {
	v := x.Vehicles[r.Vehicle]
	if v == nil {
		return Checked{}, false
	}
	l := newLimit(s, v)
	before, after := total(was, r.Interval), total(now, r.Interval)
	fixed := r.Round - roundTime(v, 0, 0, before.planned(l.z), before.empties)
	c := Checked{Before: l.load(v, before, fixed), After: l.load(v, after, fixed)}
	c.Most = Load{Planned: l.containers, Round: busy(s, r.Interval)}
	if v.MassLimit > 0 {
		c.Most.Mass = kilograms(l.mass)
	}
	return c, true
}

// load is what a need makes of a round whose driving and stops take a fixed time.
func (l limit) load(v *plant.Vehicle, n need, fixed time.Duration) Load {
	return Load{
		Mean: n.mean, Planned: n.planned(l.z), Mass: kilograms(n.plannedMass(l.z)),
		Round: fixed + roundTime(v, 0, 0, n.planned(l.z), n.empties),
	}
}

func kilograms(kg float64) units.Mass { return units.Mass(whole(kg * float64(units.Kilogram))) }
