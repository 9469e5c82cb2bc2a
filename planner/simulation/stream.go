package simulation

import (
	"math/rand/v2"

	"lanewright/planner/search"
)

func (sc *script) stream(what string, l *loopPlan, replication int) *rand.Rand {
	return search.Stream(sc.seed, streamName(what, l, replication))
}
