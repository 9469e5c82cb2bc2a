package packing

import (
	"math"
	"math/rand/v2"

	"lanewright/planner/internal/patterns"
)

// filler chooses the pieces of the next bin out of what is needed.
type filler func(k kinds) []patterns.Use

// pack fills bin after bin until nothing is needed; a fill is repeated while
// the needs ask for it.
func (k kinds) pack(next filler) bins {
	var b bins
	rest, at := k.narrow()
	for len(at) > 0 {
		local := next(rest)
		uses := make([]patterns.Use, len(local))
		for i, u := range local {
			uses[i] = patterns.Use{Kind: at[u.Kind], N: u.N}
		}
		n := repeats(rest.need, local)
		patterns.Take(rest.need, n, local)
		b.add(n, uses)
		for _, u := range local {
			if rest.need[u.Kind] == 0 {
				rest, at = shrink(rest, at)
				break
			}
		}
	}
	return b
}

// shrink leaves out the kinds that are no more needed.
func shrink(k kinds, at []int) (kinds, []int) {
	sub, where := k.narrow()
	for i, w := range where {
		where[i] = at[w]
	}
	return sub, where
}

// firstFit takes the largest piece that fits, again and again: bin by bin it
// gives what first-fit-decreasing gives.
func firstFit(k kinds) []patterns.Use {
	var uses []patterns.Use
	room := k.room
	for i, s := range k.size {
		if n := min(k.need[i], room/s); n > 0 {
			uses = append(uses, patterns.Use{Kind: i, N: n})
			room -= n * s
		}
	}
	return uses
}

// leastSlack fills a bin as full as it can with the largest piece in it:
// minimum bin slack of Gupta and Ho (1999) in the form MBS' of Fleszar and
// Hindi (2002).
func leastSlack(m *patterns.Meter) filler {
	return func(k kinds) []patterns.Use {
		rest := kinds{room: k.room - k.size[0], size: k.size, need: k.need}
		rest.need[0]--
		uses, _, _ := bestFill(rest, rest.size, 0, quick(), m)
		rest.need[0]++
		if len(uses) > 0 && uses[0].Kind == 0 {
			uses[0].N++
			return uses
		}
		return append([]patterns.Use{{Kind: 0, N: 1}}, uses...)
	}
}

// corrected fills bins by the values of pieces, which rise with the waste of
// the bins they came to lie in and are used again for the next packing:
// sequential value correction (Belov and Scheithauer 2007). Values are shares
// of a bin.
type corrected struct {
	value []float64
	rng   *rand.Rand
	m     *patterns.Meter
}

// power makes large pieces worth more than their share of a bin.
const power = 1.04

func newCorrected(k kinds, rng *rand.Rand, m *patterns.Meter) *corrected {
	c := &corrected{value: make([]float64, len(k.size)), rng: rng, m: m}
	for i := range k.size {
		c.value[i] = k.worth(i)
	}
	return c
}

func (k kinds) worth(i int) float64 {
	return math.Pow(float64(k.size[i])/float64(k.room), power)
}

// pack packs everything once and corrects the values on the way.
func (c *corrected) pack(k kinds) bins {
	var b bins
	need := append([]int64(nil), k.need...)
	rest, at := k.with(need).narrow()
	whole := make([]int64, len(k.size))
	for len(at) > 0 {
		value := whole[:len(at)]
		for i, kind := range at {
			value[i] = int64(min(1, c.value[kind])*float64(priceUnit)) + 1
		}
		local, _, _ := bestFill(rest, value, 0, quick(), c.m)
		uses := make([]patterns.Use, len(local))
		load := int64(0)
		for i, u := range local {
			uses[i] = patterns.Use{Kind: at[u.Kind], N: u.N}
			load += u.N * rest.size[u.Kind]
		}
		n := repeats(rest.need, local)
		patterns.Take(rest.need, n, local)
		b.add(n, uses)
		c.correct(k, uses, float64(k.room)/float64(load))
		rest, at = shrink(rest, at)
	}
	return b
}

// correct moves the values of pieces that lie together towards what they cost
// there: their worth times the capacity over what of it is used.
func (c *corrected) correct(k kinds, uses []patterns.Use, waste float64) {
	for _, u := range uses {
		keep := 0.4 + 0.5*c.rng.Float64()
		c.value[u.Kind] = keep*c.value[u.Kind] + (1-keep)*k.worth(u.Kind)*waste
	}
}
