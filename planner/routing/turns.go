package routing

import (
	"fmt"

	"lanewright/planner/finding"
)

// noteTurns reports stops that a vehicle leaves by a turn which the turning rules
// forbid to vehicles that drive by. Ways are quickest from stop to stop; a vehicle
// that stands may have to be turned by hand there.
func (w *work) noteTurns() {
	o := newOccupier(w.in)
	for _, r := range w.plan.Routes {
		v := w.in.Index.Vehicles[r.Vehicle]
		if v.OnFoot {
			continue
		}
		guide := o.guide((&vehicle{Vehicle: v}).ride())
		var bad []string
		at, before := r.Market, r.Market
		for i, s := range r.Stops {
			into, _ := guide.Way(at, s.Point)
			if len(into) > 0 {
				before = into[len(into)-1].From
			}
			next := r.Market
			if i+1 < len(r.Stops) {
				next = r.Stops[i+1].Point
			}
			away, _ := guide.Way(s.Point, next)
			if len(away) > 0 && before != s.Point && !w.in.Network.MayTurn(before, s.Point, away[0].To) {
				bad = append(bad, string(s.Rack))
			}
			at = s.Point
		}
		if len(bad) > 0 {
			w.plan.Findings = append(w.plan.Findings, turnAtStop(r, bad))
		}
	}
}

func turnAtStop(r Route, racks []string) finding.Finding {
	return finding.Finding{
		Severity: finding.Note, Code: CodeTurnAtStop, Subject: finding.Subject{Route: r.Route, Vehicle: string(r.Vehicle)},
		Summary: fmt.Sprintf("Route %s turns after stopping at %s, where the turning rules forbid that turn in driving", r.Route, list(racks)),
		Detail:  "The ways between stops keep the turning rules at every point that is passed. At a stop the vehicle stands, and the way to the next one is reckoned as if it could leave by any aisle.",
		Remedy:  "See on the floor whether the vehicle can be turned there; if not, let the aisle be one way, or give the rack an aisle point where it need not turn.",
	}
}
