package planner

import (
	"time"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
)

// coverPasses bounds how often a plan is made again because its timetable lets
// signals wait longer than its loops were sized for.
const coverPasses = 3

// cover lengthens the waits of loops to what the timetable of their routes asks:
// the longest time between two rounds or, where containers are exchanged, that
// between a round and the next but one less the response time. It reports
// whether any loop must live through more than it was sized for.
func cover(x *plant.Index, loops []demand.Loop, r routing.Plan) bool {
	at := make(map[demand.Key]int, len(loops))
	for i := range loops {
		at[loops[i].Key] = i
	}
	longer := false
	for _, route := range r.Routes {
		for _, stop := range route.Stops {
			for _, key := range stop.Loops {
				l := &loops[at[key]]
				if wait := waitOf(x, l, route); wait > max(l.Interval, l.Wait) {
					l.Wait, longer = wait, true
				}
			}
		}
	}
	return longer
}

// waitOf is the longest wait for a round of a route.
func waitOf(x *plant.Index, l *demand.Loop, r routing.Route) time.Duration {
	shifts := x.CellShifts(l.Cell)
	if len(shifts) == 0 {
		shifts = []plant.Shift{plant.DefaultShift()}
	}
	one, two := r.Waits(shifts)
	if l.Response == r.Interval {
		return max(one, two-l.Response)
	}
	return one
}
