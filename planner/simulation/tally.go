package simulation

import (
	"slices"
	"time"
)

// The causes by their place in a tally.
const (
	causeNone = iota
	causeCapacity
	causeLate
	causeGap
	causeContainers
	causeUse
	causes
)

// causeNames are the causes in that order.
var causeNames = [causes]Cause{NoCause, CauseCapacity, CauseLate, CauseGap, CauseContainers, CauseUse}

// loopTally is what one play counted of a loop.
type loopTally struct {
	cycles, shortCycles           int64
	shortages, shortTime, longest int64
	wanted, opened                int64
	delivered, collected, left    int64
	// waited is the net time that collected signals had waited.
	waited int64
	// missing are pieces wanted that were not there; onHand is pieces times net
	// nanoseconds.
	missing, onHand  float64
	started, counted int64
	most             int
	causes           [causes]int64
}

// ended notes the end of a shortage: all pieces that were wanted in it came late.
func (t *loopTally) ended(s *shortage, pack float64, net, next int64) {
	length := net - s.since
	t.shortTime += length
	t.longest = max(t.longest, length)
	part := 0.0
	if next > s.last {
		part = min(1, float64(net-s.last)/float64(next-s.last))
	}
	t.missing += float64(s.wanted-1)*pack + s.lump + (pack-s.lump)*part
}

// add adds another play of the same loop. Sums of floats depend on their order:
// it is called in that of the replications.
func (t *loopTally) add(o *loopTally) {
	t.cycles += o.cycles
	t.shortCycles += o.shortCycles
	t.shortages += o.shortages
	t.shortTime += o.shortTime
	t.longest = max(t.longest, o.longest)
	t.wanted += o.wanted
	t.opened += o.opened
	t.delivered += o.delivered
	t.collected += o.collected
	t.left += o.left
	t.waited += o.waited
	t.missing += o.missing
	t.onHand += o.onHand
	t.counted += o.counted
	t.most = max(t.most, o.most)
	for i := range t.causes {
		t.causes[i] += o.causes[i]
	}
}

// cause is the one of most shortages, the first of several.
func (t *loopTally) cause() Cause {
	most := causeNone
	for i, n := range t.causes {
		if n > 0 && (most == causeNone || n > t.causes[most]) {
			most = i
		}
	}
	return causeNames[most]
}

// grain is how fine round times are counted.
const grain = 5 * time.Second

// routeTally is what was counted of a route.
type routeTally struct {
	rounds, late, dropped, full, left int64
	lateTime, lateMost                time.Duration
	roundTime, roundMost              time.Duration
	load, gap                         int64
	// times counts rounds by their time in grains, loads by their containers.
	times, loads []int64
}

func (r *routeTally) forget() { *r = routeTally{times: r.times[:0], loads: r.loads[:0]} }

func (r *routeTally) leave(late time.Duration) {
	r.rounds++
	if late >= noticed {
		r.late++
		r.lateTime += late
		r.lateMost = max(r.lateMost, late)
	}
}

func (r *routeTally) end(took time.Duration, load int, v *visit) {
	r.roundTime += took
	r.roundMost = max(r.roundMost, took)
	r.load += int64(load)
	r.gap = max(r.gap, v.gap)
	if v.left > 0 {
		r.full++
		r.left += int64(v.left)
	}
	r.times = count(r.times, int(min((took+grain-1)/grain, 1<<16)), 1)
	r.loads = count(r.loads, load, 1)
}

// count adds to the place i of a histogram, which grows as it must.
func count(list []int64, i int, n int64) []int64 {
	if i >= len(list) {
		list = append(list, make([]int64, i+1-len(list))...)
	}
	list[i] += n
	return list
}

// add adds another play of the same route; the order does not matter.
func (r *routeTally) add(o *routeTally) {
	r.rounds += o.rounds
	r.late += o.late
	r.dropped += o.dropped
	r.full += o.full
	r.left += o.left
	r.lateTime += o.lateTime
	r.lateMost = max(r.lateMost, o.lateMost)
	r.roundTime += o.roundTime
	r.roundMost = max(r.roundMost, o.roundMost)
	r.load += o.load
	r.gap = max(r.gap, o.gap)
	for i, n := range o.times {
		r.times = count(r.times, i, n)
	}
	for i, n := range o.loads {
		r.loads = count(r.loads, i, n)
	}
}

// quantile returns the place of a histogram that a share p of what it counts
// does not pass.
func quantile(list []int64, p float64) int {
	total, seen := int64(0), int64(0)
	for _, n := range list {
		total += n
	}
	return max(0, slices.IndexFunc(list, func(n int64) bool {
		seen += n
		return float64(seen) >= p*float64(total)
	}))
}

// rackTally is what was counted of the empties on a rack.
type rackTally struct {
	visits, overfull int64
	most             float64
}

func (r *rackTally) look(length, room float64) {
	r.visits++
	r.most = max(r.most, length)
	if length > room*(1+1e-12) {
		r.overfull++
	}
}

// add adds another play of the same rack.
func (r *rackTally) add(o *rackTally) {
	r.visits += o.visits
	r.overfull += o.overfull
	r.most = max(r.most, o.most)
}
