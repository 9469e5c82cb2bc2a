package routing

import (
	"fmt"
	"slices"
	"time"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
)

// settle sorts out what no round can serve, and returns the sites that rounds
// can: each has a vehicle type that serves each of its loops at least alone.
func (w *work) settle(list []site) []site {
	var served []site
	for _, s := range list {
		switch {
		case !s.used():
			w.unserved(s, s.demands, nothingToRefill(w.in.Index, s))
		case !w.in.Network.Has(s.point):
			w.unserved(s, s.demands, rackWithoutPoint(w.in.Index, s))
		case !w.reached(s):
			w.unserved(s, s.demands, w.stopUnreachable(s))
		default:
			served = append(served, w.fit(s)...)
		}
	}
	return served
}

// reached reports whether any vehicle gets to s and back.
func (w *work) reached(s site) bool {
	return slices.ContainsFunc(w.fleet, func(v *vehicle) bool {
		_, ok := v.roundTrip(s.point)
		return ok
	})
}

// fit leaves out the loops of s that no round can serve, and shortens the
// interval where that lets a round serve the others.
func (w *work) fit(s site) []site {
	w.noteIntervals(s)
	var hopeless []Demand
	s.demands = slices.DeleteFunc(slices.Clone(s.demands), func(d Demand) bool {
		none := !slices.ContainsFunc(w.intervals(s.interval), func(i time.Duration) bool { return w.fits(s, d, i) })
		if none {
			hopeless = append(hopeless, d)
		}
		return none
	})
	if shorter, ok := w.commonInterval(s); ok {
		if shorter != s.interval {
			w.plan.Findings = append(w.plan.Findings, w.intervalShortened(s, shorter))
		}
		s.interval = shorter
	} else {
		s.demands = slices.DeleteFunc(s.demands, func(d Demand) bool {
			if w.fits(s, d, s.interval) {
				return false
			}
			hopeless = append(hopeless, d)
			return true
		})
	}
	for _, d := range hopeless {
		w.unserved(s, []Demand{d}, w.noRoundFits(s, d))
	}
	return w.byVehicle(s)
}

// intervals returns an interval and the plant's shorter choices, longest first.
func (w *work) intervals(from time.Duration) []time.Duration {
	list := []time.Duration{from}
	for _, choice := range w.in.Plant.IntervalChoices {
		if choice > 0 && choice < from {
			list = append(list, choice)
		}
	}
	slices.Sort(list)
	slices.Reverse(list)
	return slices.Compact(list)
}

// fits reports whether any vehicle can serve a loop alone at an interval.
func (w *work) fits(s site, d Demand, interval time.Duration) bool {
	return slices.ContainsFunc(w.fleet, func(v *vehicle) bool {
		_, ok := v.alone(s.point, []Demand{d}, interval)
		return ok
	})
}

// commonInterval returns the longest interval that lets each loop of s be
// served.
func (w *work) commonInterval(s site) (time.Duration, bool) {
	for _, interval := range w.intervals(s.interval) {
		if !slices.ContainsFunc(s.demands, func(d Demand) bool { return !w.fits(s, d, interval) }) {
			return interval, true
		}
	}
	return 0, false
}

// byVehicle splits s where no one vehicle type serves all of its loops: the
// type that serves most takes those, and so on.
func (w *work) byVehicle(s site) []site {
	var list []site
	for rest := s; len(rest.demands) > 0; {
		var most []Demand
		for _, v := range w.fleet {
			mine := slices.DeleteFunc(slices.Clone(rest.demands), func(d Demand) bool {
				_, ok := v.alone(s.point, []Demand{d}, s.interval)
				return !ok
			})
			if len(mine) > len(most) {
				most = mine
			}
		}
		part := rest
		part.demands = most
		list = append(list, part)
		rest.demands = slices.DeleteFunc(slices.Clone(rest.demands), func(d Demand) bool {
			return slices.ContainsFunc(most, func(m Demand) bool { return m.Loop == d.Loop })
		})
	}
	return list
}

// unserved records that no round serves some loops of s, and why.
func (w *work) unserved(s site, demands []Demand, f finding.Finding) {
	w.plan.Findings = append(w.plan.Findings, f)
	w.plan.Unserved = append(w.plan.Unserved, Unserved{Rack: s.rack, Loops: keys(demands), Reason: f.Code, Detail: f.Summary})
}

// noRoundFits explains by which constraint a loop fits no round of the vehicle
// that comes nearest, and which interval would let it.
func (w *work) noRoundFits(s site, d Demand) finding.Finding {
	nearest, worst := w.nearest(s, d)
	f := rackFinding(w.in.Index, s, finding.Error, CodeNoRoundFits)
	f.Subject.Part, f.Subject.Station = string(d.Loop.Part), string(d.Loop.Station)
	f.Subject.Vehicle = string(nearest.code())
	f.Measure = &finding.Measure{Value: worst.value, Limit: worst.limit, Unit: worst.unit}
	f.Summary = fmt.Sprintf("No round can serve part %s on rack %s every %s: it needs %.4g %s a round, vehicle type %s may plan %.4g",
		d.Loop.Part, s.rack, minutes(s.interval), worst.value, worst.unit, nearest.code(), worst.limit)
	f.Detail = "A round must carry what the loop uses in one interval, at the service level, within the load limit, and end within the busy limit. The loop alone on a round already passes it with every vehicle type, at its interval and at every shorter one of the plant's choices."
	f.Remedy = "Use a larger or faster vehicle, or share the loop between racks."
	if fitting, ok := w.fittingInterval(s, d); ok {
		f.Remedy = fmt.Sprintf("An interval of %s would fit: give it to the part's rows of the sheet Usage, or add it to the plant's interval choices. A larger or faster vehicle helps too.", minutes(fitting))
	}
	return f
}

// nearest returns the vehicle whose limits a round for d passes by least.
func (w *work) nearest(s site, d Demand) (*vehicle, excess) {
	var best *vehicle
	var least excess
	for _, v := range w.fleet {
		if _, ok := v.roundTrip(s.point); !ok {
			continue
		}
		e, _ := v.alone(s.point, []Demand{d}, s.interval)
		if best == nil || e.ratio() < least.ratio() {
			best, least = v, e
		}
	}
	return best, least
}

// fittingInterval looks for the longest shorter interval of whole minutes that
// would let a round serve d, then for the shortest longer one up to double.
func (w *work) fittingInterval(s site, d Demand) (time.Duration, bool) {
	start := s.interval.Truncate(time.Minute)
	for i := start; i > 0; i -= time.Minute {
		if w.fits(s, d, i) {
			return i, true
		}
	}
	for i := start + time.Minute; i <= 2*s.interval; i += time.Minute {
		if w.fits(s, d, i) {
			return i, true
		}
	}
	return 0, false
}

// minutes writes a time as people do: "20 min", "7.5 min".
func minutes(d time.Duration) string { return fmt.Sprintf("%.4g min", d.Minutes()) }

// rackFinding starts a finding about the rack of s.
func rackFinding(x *plant.Index, s site, severity finding.Severity, code string) finding.Finding {
	f := finding.Finding{Severity: severity, Code: code, Subject: finding.Subject{Rack: string(s.rack), Cell: string(s.cell), Point: string(s.point)}}
	if r := x.Racks[s.rack]; r != nil {
		f.Origin = r.Origin
	}
	return f
}
