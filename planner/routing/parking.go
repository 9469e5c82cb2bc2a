package routing

import (
	"fmt"
	"time"

	"lanewright/planner/finding"
)

// parking is the way of a vehicle to its market at the start of a shift, and back
// at its end: 0 for one that stands at the market.
type parking struct{ out, back time.Duration }

// parking measures the ways of v; ok is false where one of them is not there.
func (v *vehicle) parking() parking {
	p, _ := v.parkingWays()
	return p
}

func (v *vehicle) parkingWays() (p parking, ok bool) {
	if v.Parking == "" {
		return p, true
	}
	out, okOut := v.table.Between(v.Parking, v.market)
	back, okBack := v.table.Between(v.market, v.Parking)
	if !okOut || !okBack {
		return p, false
	}
	return parking{out.Time, back.Time}, true
}

// within is the working time of a shift between coming from the parking and going
// back to it. Rounds leave at whole minutes, so the way out is rounded up.
func (p parking) within(net time.Duration) time.Duration { return net - slot(p.out) - p.back }

// noteParking reports the vehicles that do not get from their parking to their
// market and back.
func (w *work) noteParking() {
	for _, v := range w.fleet {
		if _, ok := v.parkingWays(); ok {
			continue
		}
		w.plan.Findings = append(w.plan.Findings, finding.Finding{
			Severity: finding.Warning, Code: CodeParking, Origin: w.in.Index.Plant.At(v.Origin, "Parking"),
			Subject: finding.Subject{Vehicle: string(v.code()), Point: string(v.Parking)},
			Summary: fmt.Sprintf("Vehicle type %s does not get from its parking %s to market %s and back", v.code(), v.Parking, v.market),
			Detail:  "It was planned as if it stood at its market at the start and the end of a shift.",
			Remedy:  "Add the missing aisle, correct a one-way aisle, or name another point.",
		})
	}
}
