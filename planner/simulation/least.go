package simulation

import (
	"time"

	"lanewright/planner/plant"
	"lanewright/planner/search"
	"lanewright/planner/sizing"
)

// LeastContainers returns the least number of containers with which a steady
// loop never runs dry, found by playing it with more and more of them: with a
// round every refill interval, what it collects coming the response time later,
// and the first container emptied at different times between two rounds, the
// worst among them being the moment after one has left. It is 0 for a loop from
// which nothing is taken, and most where even that many are too few.
func LeastContainers(l sizing.Loop, most int) int {
	if l.Rate.Sign() <= 0 || l.Interval <= 0 {
		return 0
	}
	low, high := 0, 1
	for high < most && RunsDry(l, high) {
		low, high = high, 2*high
	}
	for high = min(high, most); high-low > 1; {
		if k := (low + high) / 2; RunsDry(l, k) {
			low = k
		} else {
			high = k
		}
	}
	return high
}

// RunsDry reports whether a loop with so many containers runs short in any of
// the phases that are played.
func RunsDry(l sizing.Loop, containers int) bool {
	const phases = 8
	random := search.Stream(1, "simulation/phase")
	for i := range phases {
		phase := int64(1)
		if i > 0 {
			phase = 1 + random.Int64N(int64(l.Interval))
		}
		if runsDry(&l, containers, phase) {
			return true
		}
	}
	return false
}

// runsDry plays one phase: a round comes at 0, the first container is emptied at
// phase.
func runsDry(l *sizing.Loop, containers int, phase int64) bool {
	use := newSteady(l)
	use.begin(phase)
	length := 8*int64(l.Interval+l.Response) + int64(2*containers+4)*use.step
	p := &loopPlan{
		Loop: l, pack: float64(l.Pack), interval: int64(l.Interval), response: int64(l.Response),
		calendar:   newCalendar([]*duty{{work: []plant.Span{{End: time.Duration(length)}}}}),
		containers: containers, homes: []homePlan{{containers: containers, exchange: l.Response == l.Interval}},
	}
	play := newLoopPlay(p, use)
	for at := int64(0); at < length && play.tally.shortages == 0; at += p.interval {
		play.serve(0, &visit{clock: at, containers: never >> 1, mass: -1})
	}
	return play.tally.shortages > 0
}
