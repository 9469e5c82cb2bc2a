package placement

import (
	"cmp"
	"math/bits"
	"slices"
)

// jam limits how many of some loops lie together whole. Shares of bundles may break it.
//
// Without a stall it is an odd number of loops: a bundle with two of them counts once,
// one with four twice, and the bundles of a layout count no more than half of the
// loops, rounded down (subset-row inequalities: Jepsen, Petersen, Spoorendonk,
// Pisinger, Subset-row inequalities applied to the vehicle-routing problem with time
// windows, Operations Research 56, 2008, from memory). On a stall it is loops that do
// not all find room on its levels: each counts there. With a sign it is a lot on a stall,
// which counts once, or −1 below nothing.
type jam struct {
	stall int // −1 is all
	loops crowd
	most  int
	sign  int
	lot   int32
}

// of is how much a bundle on a stall counts, with the loops that lie whole in it.
func (j jam) of(stall int, lots []int32, whole crowd) int {
	switch {
	case j.stall < 0:
		return whole.and(j.loops).size() / 2
	case j.stall != stall:
		return 0
	case j.sign == 0:
		return whole.and(j.loops).size()
	case slices.Contains(lots, j.lot):
		return j.sign
	default:
		return 0
	}
}

// size is the number of loops of the set.
func (w crowd) size() int { return bits.OnesCount64(w.low) + bits.OnesCount64(w.high) }

// shared is a bundle that is taken in a share, by the loops that lie whole in it.
type shared struct {
	whole crowd
	share float64
}

// jamBroken is how much shares of bundles must count beyond what they may for an odd
// set to be worth a row; jamLoop how many of the sets found at once may have one loop.
const (
	jamBroken = 0.02
	jamLoop   = 3
)

// oddSets finds sets of three loops that shares of bundles break, no more than most,
// those that they break by most first. Loops are numbered below n.
func oddJams(list []shared, n, most int) []jam {
	pair := make([]float64, n*n)
	for _, b := range list {
		members := b.whole.members()
		for p, i := range members {
			for _, j := range members[p+1:] {
				pair[i*n+j] += b.share
			}
		}
	}
	type broken struct {
		loops [3]int
		by    float64
	}
	var found []broken
	for i := range n {
		for j := i + 1; j < n; j++ {
			for k := j + 1; k < n; k++ {
				by := pair[i*n+j] + pair[i*n+k] + pair[j*n+k] - 1
				if by < jamBroken {
					continue
				}
				three := crowd{}.with(i).with(j).with(k)
				for _, b := range list {
					if three.within(b.whole) {
						by -= 2 * b.share
					}
				}
				if by >= jamBroken {
					found = append(found, broken{[3]int{i, j, k}, by})
				}
			}
		}
	}
	slices.SortStableFunc(found, func(a, b broken) int { return cmp.Compare(b.by, a.by) })
	var sets []jam
	used := make([]int, n)
	for _, f := range found {
		if len(sets) == most {
			break
		}
		if used[f.loops[0]] >= jamLoop || used[f.loops[1]] >= jamLoop || used[f.loops[2]] >= jamLoop {
			continue
		}
		set := jam{stall: -1, most: 1}
		for _, i := range f.loops {
			used[i]++
			set.loops = set.loops.with(i)
		}
		sets = append(sets, set)
	}
	return sets
}

// members lists the loops of the set, rising.
func (w crowd) members() []int {
	var list []int
	for word := w.low; word != 0; word &= word - 1 {
		list = append(list, bits.TrailingZeros64(word))
	}
	for word := w.high; word != 0; word &= word - 1 {
		list = append(list, 64+bits.TrailingZeros64(word))
	}
	return list
}
