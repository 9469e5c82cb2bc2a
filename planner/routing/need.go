package routing

import (
	"math"
	"time"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// need is what a loop, a stop or a whole route asks of one round: means and
// variances of independent loops add up.
type need struct {
	// mean is in containers, variance in containers².
	mean, variance float64
	// mass is in kg, massVariance in kg².
	mass, massVariance float64
	// empties is the mean number of empties taken back.
	empties float64
}

// need returns what the loop asks of one round when its rack is served every
// interval (planning rules, section 6): e = share·λR/q containers in the mean,
// with variance e_f(1 − e_f) + share²·σ²(R)/q², e_f the fractional part of e.
// The first term is the variance of a steady use of e containers seen at
// intervals: e rounded down or up.
func (d Demand) need(interval time.Duration) need {
	minutes := interval.Minutes()
	share := d.Share.Float64()
	e := share * d.Rate * minutes
	part := e - math.Floor(e)
	n := need{mean: e, variance: part*(1-part) + share*share*d.Variance*minutes}
	n.mass = e * d.Gross.KG()
	n.massVariance = n.variance * d.Gross.KG() * d.Gross.KG()
	if d.Returnable {
		n.empties = e
	}
	return n
}

// total returns what several loops ask of one round together.
func total(demands []Demand, interval time.Duration) need {
	var n need
	for _, d := range demands {
		n = n.plus(d.need(interval))
	}
	return n
}

func (n need) plus(o need) need {
	return need{
		n.mean + o.mean, n.variance + o.variance,
		n.mass + o.mass, n.massVariance + o.massVariance,
		n.empties + o.empties,
	}
}

// planned returns the containers to plan for: mean + z·sd.
func (n need) planned(z float64) float64 { return n.mean + z*math.Sqrt(n.variance) }

// plannedMass returns the kilograms to plan for: mean + z·sd.
func (n need) plannedMass(z float64) float64 { return n.mass + z*math.Sqrt(n.massVariance) }

// quantile returns z, the standard normal quantile of a service level p,
// 0 < p < 1: p = (1 + erf(z/√2))/2.
func quantile(p units.Ratio) float64 { return math.Sqrt2 * math.Erfinv(2*p.Float64()-1) }

// limit is what one round of a vehicle may carry and take at an interval.
type limit struct {
	z float64
	// containers and mass (kg) are the vehicle's capacity times the load
	// limit; mass is +Inf where the vehicle has none.
	containers, mass float64
	// round is the interval times the busy limit.
	round time.Duration
}

// tolerance is the relative error that sums of float64 may carry: a load of
// exactly the limit must not fail by it.
const tolerance = 1e-9

// newLimit returns the limits of a vehicle type, for no interval yet.
func newLimit(s plant.Settings, v *plant.Vehicle) limit {
	l := limit{
		z:          quantile(s.ServiceLevel),
		containers: s.LoadLimit.Mul(units.Int(int64(v.Containers))).Float64(),
		mass:       math.Inf(1),
	}
	if v.MassLimit > 0 {
		l.mass = s.LoadLimit.Float64() * v.MassLimit.KG()
	}
	return l
}

// busy returns how much of an interval rounds may fill.
func busy(s plant.Settings, interval time.Duration) time.Duration {
	return time.Duration(s.BusyLimit.Mul(units.Int(int64(interval))).Floor())
}

// roundTime returns the time of one round: its driving, its stops, loading and
// unloading the planned load, taking back the mean empties.
func roundTime(v *plant.Vehicle, drive time.Duration, stops int, planned, empties float64) time.Duration {
	handling := planned*float64(v.LoadTime+v.UnloadTime) + empties*float64(v.EmptyTime)
	return drive + time.Duration(stops)*v.StopTime + whole(handling)
}

// loadingTime is the part of a round that it stands at its market before it leaves.
func loadingTime(v *plant.Vehicle, planned float64) time.Duration {
	return whole(max(planned, 0) * float64(v.LoadTime))
}

// whole rounds nanoseconds to the nearest; beyond the range of a duration it
// stays at a length that fits no interval.
func whole(nanoseconds float64) time.Duration {
	const most = 1 << 60
	if nanoseconds >= most {
		return most
	}
	return time.Duration(math.Round(nanoseconds))
}

// excess is by how much a round passes one limit.
type excess struct {
	value, limit float64
	// unit is "containers", "kg" or "min".
	unit string
}

func (e excess) ratio() float64 {
	if e.limit <= 0 {
		return math.Inf(1)
	}
	return e.value / e.limit
}

// worst returns the constraint that a round comes nearest to, or passes by
// most, and whether all of them are kept.
func (l limit) worst(n need, round time.Duration) (excess, bool) {
	worst := excess{n.planned(l.z), l.containers, "containers"}
	for _, e := range []excess{
		{n.plannedMass(l.z), l.mass, "kg"},
		{round.Minutes(), l.round.Minutes(), "min"},
	} {
		if e.ratio() > worst.ratio() {
			worst = e
		}
	}
	return worst, worst.ratio() <= 1+tolerance
}
