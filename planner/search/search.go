// Package search holds what every searching stage shares: seeded streams of
// random numbers, progress, and the reasons for stopping.
package search

import (
	"hash/fnv"
	"math/rand/v2"
)

// Stop says why a search ended.
type Stop string

// The reasons a search ends.
const (
	// Proved: the bound was reached, nothing better exists.
	Proved Stop = "proved"
	// Limit: the number of steps set for it was used up.
	Limit Stop = "limit"
	// Exhausted: no step the search knows improves the result.
	Exhausted Stop = "exhausted"
	// Cancelled: the caller asked to stop or the time limit ran out; the best
	// result so far was kept.
	Cancelled Stop = "cancelled"
	// ByHand: somebody changed the result by hand after the search.
	ByHand Stop = "by-hand"
)

// Progress is told, from any goroutine, that a stage has done so many of its
// steps. A nil Progress is never called.
type Progress func(stage string, done, total int)

// Report calls p unless it is nil.
func (p Progress) Report(stage string, done, total int) {
	if p != nil {
		p(stage, done, total)
	}
}

// Stream returns the random stream of one task: it depends on the seed and
// the task's name only, never on which worker runs it.
func Stream(seed uint64, name string) *rand.Rand {
	h := fnv.New64a()
	h.Write([]byte(name))
	return rand.New(rand.NewPCG(seed, h.Sum64()))
}
