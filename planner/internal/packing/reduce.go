package packing

import "lanewright/planner/internal/patterns"

// reduce packs what some best packing packs so (Martello and Toth 1990,
// dominance of sets of at most two pieces): a piece that goes with no other; a
// pair that fills a bin; and, for a piece that goes with one other at most,
// the largest that fits. It lowers the needs.
func (k kinds) reduce() bins {
	var done bins
	for again := true; again; {
		again = false
		for i := range k.size {
			if k.need[i] > 0 && k.settle(i, &done) {
				again = true
			}
		}
	}
	return done
}

// settle packs pieces of kind i where it is certain with what.
func (k kinds) settle(i int, done *bins) bool {
	j := k.partner(i)
	if j < 0 {
		uses := []patterns.Use{{Kind: i, N: 1}}
		n := k.need[i]
		done.add(n, uses)
		patterns.Take(k.need, n, uses)
		return true
	}
	if free := k.room - k.size[i] - k.size[j]; free != 0 && k.two(i) <= k.room-k.size[i] {
		return false
	}
	uses := byKind([]patterns.Use{{Kind: i, N: 1}, {Kind: j, N: 1}})
	if i == j {
		uses = []patterns.Use{{Kind: i, N: 2}}
	}
	n := repeats(k.need, uses)
	done.add(n, uses)
	patterns.Take(k.need, n, uses)
	return true
}

// partner is the largest kind of which a piece goes with one of kind i.
func (k kinds) partner(i int) int {
	for j, s := range k.size {
		if s <= k.room-k.size[i] && k.need[j] > 0 && (j != i || k.need[i] > 1) {
			return j
		}
	}
	return -1
}

// two is the size of the two smallest pieces beside one of kind i; more than
// any bin has where there are no two.
func (k kinds) two(i int) int64 {
	sum, found := int64(0), int64(0)
	for j := len(k.size) - 1; j >= 0 && found < 2; j-- {
		n := k.need[j]
		if j == i {
			n--
		}
		n = min(n, 2-found)
		sum += n * k.size[j]
		found += n
	}
	if found < 2 {
		return k.room + 1
	}
	return sum
}
