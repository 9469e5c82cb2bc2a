package placement

import "slices"

// fork is two lists of places of a loop, in one of which it has to be.
type fork struct {
	loop  int
	sides [2][]int
	// worth says how much is hoped of it.
	worth float64
}

// forks are the ways to divide the places of each loop that a programme parts between
// places, by effort where that parts it most evenly and the efforts differ most, the
// most hopeful first. Places are those of the lots that are open.
func (b *branching) forks(g *programme, open func(stall int, l *lot) bool) []fork {
	shares, n := g.shares(), len(b.a.stalls)
	var list []fork
	for _, i := range b.a.loops {
		places := b.places(i, shares[i*n:(i+1)*n], open)
		at, worth := divide(places)
		if worth <= 0 {
			continue
		}
		f := fork{loop: i, sides: [2][]int{placesAt(places[:at]), placesAt(places[at:])}, worth: worth}
		if sumOf(places[:at]) < 0.5 {
			slices.Reverse(f.sides[:])
		}
		list = append(list, f)
	}
	slices.SortStableFunc(list, func(x, y fork) int { return compareFloats(y.worth, x.worth) })
	return list
}

// divide says before which place to divide a list, and what that is worth: the more
// evenly it parts the loop and the more the efforts on both sides differ. It is
// worth nothing where all of the loop is on one side.
func divide(list []place) (at int, worth float64) {
	const least = 1e-3
	all, below, sum := 0.0, 0.0, 0.0
	for _, p := range list {
		all += p.share * p.effort
	}
	for k, p := range list {
		sum += p.share
		below += p.share * p.effort
		if sum < least || sum > 1-least {
			continue
		}
		apart := (all-below)/(1-sum) - below/sum
		if v := sum * (1 - sum) * (apart + least); v > worth {
			at, worth = k+1, v
		}
	}
	return at, worth
}

func placesAt(list []place) []int {
	at := make([]int, len(list))
	for k, p := range list {
		at[k] = p.at
	}
	return at
}

func sumOf(list []place) float64 {
	sum := 0.0
	for _, p := range list {
		sum += p.share
	}
	return sum
}

// place is a place of a loop with how much of the loop is there.
type place struct {
	at            int
	share, effort float64
}

// places are those of loop i that are open, by effort.
func (b *branching) places(i int, shares []float64, open func(stall int, l *lot) bool) []place {
	var list []place
	parts := place{at: inParts, share: 1}
	for s := range b.a.stalls {
		for k := range b.a.stalls[s].lots {
			l := &b.a.stalls[s].lots[k]
			if l.loop != i || !open(s, l) {
				continue
			}
			if l.share == 1 {
				list = append(list, place{s, shares[s], l.effort})
				parts.share -= shares[s]
			} else {
				parts.effort = max(parts.effort, l.effort/l.share)
			}
		}
	}
	if parts.effort > 0 {
		list = append(list, parts)
	}
	slices.SortStableFunc(list, func(x, y place) int { return compareFloats(x.effort, y.effort) })
	return list
}
