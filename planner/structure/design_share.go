package structure

import (
	"lanewright/planner/finding"
	"lanewright/planner/plant"
)

// DesignRacks shares needs out to as many racks as it takes, in their order:
// each rack is designed for as many of those still left as one can hold, so
// that neighbours in the list stay together. A need that no rack can hold on one
// level is cut in two, by its containers, until one can. Holds of each proposal
// count the needs of the whole list. Where a single container has no place ok is
// false.
func DesignRacks(needs []Need, k *plant.Kit, w Wishes) (racks []Proposal, found finding.List, ok bool) {
	left, of, found := cutToFit(needs, k, w)
	if found != nil {
		return nil, found, false
	}
	for len(left) > 0 {
		p, noticed, n := longestDesign(left, k, w)
		for i := range p.Holds {
			p.Holds[i] = of[p.Holds[i]]
		}
		racks, found = append(racks, p), append(found, noticed...)
		left, of = left[n:], of[n:]
	}
	return racks, found, true
}

// cutToFit cuts needs until each has a rack that holds it alone; of says which
// need each piece is of. found is why one container has none.
func cutToFit(needs []Need, k *plant.Kit, w Wishes) (pieces []Need, of []int, found finding.List) {
	for i, n := range needs {
		for todo := []Need{n}; len(todo) > 0; {
			_, noticed, ok := Design(todo[:1], k, w)
			switch {
			case ok:
				pieces, of, todo = append(pieces, todo[0]), append(of, i), todo[1:]
			case todo[0].Containers <= 1:
				return nil, nil, noticed
			default:
				a, b := todo[0].cut()
				todo = append([]Need{a, b}, todo[1:]...)
			}
		}
	}
	return pieces, of, nil
}

// cut halves a need and what is lifted for it.
func (n Need) cut() (a, b Need) {
	a, b = n, n
	a.Containers = (n.Containers + 1) / 2
	b.Containers = n.Containers - a.Containers
	share := float64(a.Containers) / float64(n.Containers)
	a.Picked, a.Loaded = n.Picked*share, n.Loaded*share
	b.Picked, b.Loaded = n.Picked-a.Picked, n.Loaded-a.Loaded
	return a, b
}

// longestDesign designs a rack for the longest run of needs from the first that
// one holds: the run is doubled while there is one, then halved in.
func longestDesign(needs []Need, k *plant.Kit, w Wishes) (best Proposal, found finding.List, n int) {
	fails := len(needs) + 1
	for try := 1; n+1 < fails; {
		p, noticed, ok := Design(needs[:try], k, w)
		if ok {
			best, found, n = p, noticed, try
			try = min(2*try, len(needs))
		} else {
			fails = try
		}
		if try >= fails || try == n {
			try = (n + fails) / 2
		}
	}
	return best, found, n
}
