package placement

import (
	"math"
	"slices"
)

// cover searches for sets of racks to add that meet every cut: a depth-first
// walk over multisets of types in the order of their codes, cut off where even
// fractions of racks would cost too much.
type cover struct {
	r *relaxed
	// left is what each cut still asks for; now counts the racks by base.
	left []float64
	now  []int
	// limit is the cost that sets must stay below.
	limit int64
	// most is the number of racks up to which sets that meet every cut are
	// made larger still; 0 looks for smallest sets only.
	most  int
	nodes int
	// keep is called with each set found and its cost; it returns the new
	// limit.
	keep func(set []int, cost int64) int64
}

// coverNodes bounds the walk.
const coverNodes = 20_000

// try adds racks of base b and those after it.
func (v *cover) try(b int, cost, front int64) {
	if v.nodes--; v.nodes < 0 || cost+v.atLeast(b) >= v.limit {
		return
	}
	met := v.met()
	if met {
		v.limit = v.keep(v.now, cost)
		if v.most == 0 || v.racks() >= v.most {
			return
		}
	}
	for k := b; k < len(v.now) && v.nodes >= 0; k++ {
		base := &v.r.c.bases[k]
		if base.width > front || cost+base.cost >= v.limit || !(met || v.helps(k)) {
			continue
		}
		v.add(k, 1)
		v.try(k, cost+base.cost, front-base.width)
		v.add(k, -1)
	}
}

func (v *cover) add(b, n int) {
	v.now[b] += n
	for i := range v.left {
		v.left[i] -= float64(n) * v.r.cuts[i].each[b-v.r.c.standing]
	}
}

// slack is the part of a need that rounding may leave.
const slack = 1e-3

func (v *cover) met() bool {
	return !slices.ContainsFunc(v.left, func(need float64) bool { return need > slack })
}

// helps reports whether a rack of base b gives what a cut still asks for.
func (v *cover) helps(b int) bool {
	for i, need := range v.left {
		if need > slack && v.r.cuts[i].each[b-v.r.c.standing] > 0 {
			return true
		}
	}
	return false
}

func (v *cover) racks() int {
	sum := 0
	for _, n := range v.now {
		sum += n
	}
	return sum
}

// atLeast is the least cost, in fractions of racks, of what is left to cover
// with types from base b on; boundless where they can not cover it.
func (v *cover) atLeast(b int) int64 {
	most := 0.0
	for i, need := range v.left {
		if need <= slack {
			continue
		}
		each := math.Inf(1)
		for k := b; k < len(v.now); k++ {
			if e := v.r.cuts[i].each[k-v.r.c.standing]; e > 0 {
				each = min(each, float64(v.r.c.bases[k].cost)/e)
			}
		}
		most = max(most, need*each)
	}
	if most > float64(boundless) {
		return boundless
	}
	return int64(math.Ceil(most*(1-1e-9) - slack))
}
