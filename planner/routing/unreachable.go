package routing

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"lanewright/planner/finding"
	"lanewright/planner/floor"
)

// stopUnreachable says which way is missing between a market and the point of s, and
// which single change would make it, with the vehicle type of which there are most.
func (w *work) stopUnreachable(s site) finding.Finding {
	v := slices.MaxFunc(w.fleet, func(a, b *vehicle) int { return cmp.Compare(a.Count, b.Count) })
	round := "No round"
	if len(w.fleet) > 1 {
		round = "No round of any vehicle type"
	}
	_, there := v.table.Between(v.market, s.point)
	_, back := v.table.Between(s.point, v.market)
	f := rackFinding(w.in.Index, s, finding.Error, CodeStopUnreachable)
	f.Subject.Vehicle = string(v.code())
	what := "gets to aisle point %s, but from there not back to its market %s"
	switch {
	case !there && !back:
		what = "gets neither to aisle point %s nor from there to its market %s"
	case !there:
		what = "does not get to aisle point %s from its market %s"
	}
	f.Summary = fmt.Sprintf("%s can serve rack %s: vehicle type %s "+what, round, s.rack, v.code(), s.point, v.market)
	f.Detail = "Rounds keep to the aisles that are open to the vehicle, with one-way aisles in their direction and the turning rules. The rack gets no refill in this plan."
	var mends []string
	if !there {
		mends = append(mends, mend("To get there: ", w.in.Network.Mends(v.market, s.point, v.ride())))
	}
	if !back {
		mends = append(mends, mend("To get back: ", w.in.Network.Mends(s.point, v.market, v.ride())))
	}
	f.Remedy = strings.Join(append(mends, "Or correct the rack's aisle point."), " ")
	return f
}

// mend tells the shortest change that helps, and how many others do.
func mend(begin string, list []floor.Mend) string {
	if len(list) == 0 {
		return begin + "add the missing aisle."
	}
	m := list[0]
	text := begin
	switch m.Obstacle {
	case floor.OneWay:
		text += fmt.Sprintf("let the aisle between %s and %s be driven from %s to %s too", m.To, m.From, m.From, m.To)
	case floor.Closed:
		text += fmt.Sprintf("open the closed aisle from %s to %s", m.From, m.To)
	case floor.NotOpen:
		text += fmt.Sprintf("open the aisle from %s to %s to this vehicle type", m.From, m.To)
	case floor.Turning:
		return text + "allow one of the turns on the way; the aisles are there."
	default:
		text += fmt.Sprintf("add an aisle from %s to %s, %.4g m", m.From, m.To, m.Length.Metres())
	}
	if len(list) > 1 {
		text += fmt.Sprintf(" (one of %d aisles that would do)", len(list))
	}
	return text + "."
}
