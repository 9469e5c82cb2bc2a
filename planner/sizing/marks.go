package sizing

import "lanewright/planner/units"

// OneInterval returns the containers that the loop would need by the rule if
// its signal were called in at once, by a button or a scan, instead of waiting
// for the round that takes the empty away. It must then live only until the
// next round has passed and the full container has come, T = max(R, L) in place
// of R + L: with exchange of empties (L = R) one interval instead of two. A
// fixed number of containers does not count here.
func OneInterval(l Loop) int {
	t := units.Minutes(max(l.Interval, l.Response))
	return ruled(covered(l.Loop, t), l.Pack)
}

// TrainSpace returns the containers of the loop that a round carries on
// average, λR/q, not rounded: a round carries many loops, and only their sum
// is rounded up (C. Roser, allaboutlean.com, milk run layout; seen). It is
// one interval's use, while the loop itself lives through R + L.
func TrainSpace(l Loop) units.Ratio { return l.Loop.Containers(l.Interval) }

// LaneMarks are what a sign at the lane says.
type LaneMarks struct {
	// Max is the containers that the full lane holds, the one in use among
	// them: those of the loop, which never has more.
	Max int
	// Min is the full containers, 1 to Max, that must stand there when the
	// handler comes by: with fewer the lane may run dry before what is
	// collected now is delivered. It covers the use over the response time L
	// alone and the container in use, ⌈D(L)/q⌉ + 1, and is at most Max.
	Min int
	// Reorder is the pieces on hand, the container in use included, at which
	// the signal for the next container must be given at the latest: it may
	// wait R for its round and comes back L later, so D over R + L, rounded
	// up. A loop sized by the rule gives it in time, with (k − 1)·q >= D.
	Reorder int64
}

// Marks returns the marks of the loop's lane. They are those of the whole loop
// where it lies in several lanes.
func Marks(l Loop) LaneMarks {
	least := Cards(covered(l.Loop, units.Minutes(l.Response)), l.Pack) + 1
	return LaneMarks{Max: l.Containers, Min: min(l.Containers, least), Reorder: l.Covered.Ceil()}
}
