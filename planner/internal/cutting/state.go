package cutting

import (
	"slices"

	"lanewright/planner/internal/patterns"
)

// cut is how so many stocks of a source are cut alike; a source below 0 stands
// for pieces that are not cut.
type cut struct {
	source int
	times  int64
	uses   []patterns.Use
}

// uncut is the source of pieces that are not cut.
const uncut = -1

// state is what is still to be cut and to cut from, and what was spent.
type state struct {
	need, have []int64
	cuts       []cut
	value      int64
}

func (k *kinds) begin() state { return state{need: slices.Clone(k.need), have: slices.Clone(k.have)} }

func (s *state) clone() state {
	return state{need: slices.Clone(s.need), have: slices.Clone(s.have), cuts: slices.Clone(s.cuts), value: s.value}
}

// cost is that of one stock of a source, or of a piece that is not cut.
func (k *kinds) cost(source int) int64 {
	if source == uncut {
		return dear * k.dearest
	}
	return k.sources[source].cost
}

// cut makes a cut in s.
func (k *kinds) cut(s *state, c cut) {
	patterns.Take(s.need, c.times, c.uses)
	if c.source != uncut {
		s.give(c.source, -c.times)
	}
	s.cuts = append(s.cuts, c)
	s.value += c.times * k.cost(c.source)
}

// give puts so many stocks of a source back.
func (s *state) give(source int, n int64) {
	if limited(s.have[source]) {
		s.have[source] += n
	}
}

// repeats is how often s asks for such a cut and can make it.
func (s *state) repeats(source int, uses []patterns.Use) int64 {
	return patterns.Repeats(s.need, uses, s.have[source])
}

// giveUp leaves uncut what is still wanted.
func (k *kinds) giveUp(s *state) {
	for i, n := range s.need {
		if n > 0 {
			k.cut(s, cut{uncut, n, []patterns.Use{{Kind: i, N: 1}}})
		}
	}
}
