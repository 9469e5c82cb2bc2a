package routing

import (
	"time"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
)

// Round is one round as the clock sees it.
type Round struct {
	Shift plant.ShiftCode
	// Loads is when loading begins at the market, Leaves the departure, Back when the
	// vehicle has returned at the planned load.
	Loads, Leaves, Back time.Time
	// Stops are the arrivals at the route's stops, in their order.
	Stops []time.Time
}

// Rounds lists the rounds of r in workings of its shifts, in the order of those. In a
// break everybody rests, also on the way: what comes after it is so much later. On a
// night on which the clocks change rounds leave every interval of work from the first
// departure, for as long as one can end in the shift: the hour that is lost or won
// costs or gives rounds and never shortens an interval.
func (r Route) Rounds(v *plant.Vehicle, shifts []plant.Shift, list []demand.Occurrence) []Round {
	var rounds []Round
	for _, o := range list {
		for _, t := range r.Timetable {
			if t.Shift != o.Shift {
				continue
			}
			for _, s := range shifts {
				if s.Shift == t.Shift {
					rounds = append(rounds, r.inShift(v, s, t, o)...)
				}
			}
		}
	}
	return rounds
}

// inShift lists the rounds in one working of a shift.
func (r Route) inShift(v *plant.Vehicle, s plant.Shift, t ShiftTimes, o demand.Occurrence) []Round {
	if len(t.Departures) == 0 || r.Interval < time.Second {
		return nil
	}
	var rounds []Round
	if o.Net() == s.Net() {
		for _, d := range t.Departures {
			rounds = append(rounds, r.round(v, o, s.Passed(d)))
		}
		return rounds
	}
	for net := s.Passed(t.Departures[0]); net+r.Round <= o.Net(); net += r.Interval {
		rounds = append(rounds, r.round(v, o, net))
	}
	return rounds
}

// round is the one that leaves when so much of a working has passed.
func (r Route) round(v *plant.Vehicle, o demand.Occurrence, net time.Duration) Round {
	loading := loadingTime(v, r.LoadPlanned)
	round := Round{Shift: o.Shift, Loads: passedAt(o, max(0, net-loading)), Leaves: passedAt(o, net), Back: passedAt(o, net+r.Round-loading)}
	for _, s := range r.Stops {
		round.Stops = append(round.Stops, passedAt(o, net+s.Arrive))
	}
	return round
}

// passedAt is the moment at which so much of a working has passed and work goes on;
// its end where no more of it is left.
func passedAt(o demand.Occurrence, net time.Duration) time.Time {
	for _, w := range o.Work {
		if net < w.End-w.Start {
			return o.Day.Add(w.Start + net)
		}
		net -= w.End - w.Start
	}
	return o.End()
}
