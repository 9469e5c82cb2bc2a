package planner

import (
	"math"
	"slices"

	"lanewright/planner/demand"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
)

// Bounds on pairs: of so many single reliefs, and of one kind no more than so many.
const (
	mostPaired   = 6
	pairedOfKind = 2
	mostPairs    = 4 // that are shown
)

// pairs joins the best of the ideas that relieve a cell but leave something
// without a lane, in twos. Where one alone is enough there are none.
func (t *trial) pairs(ideas []idea, judged []Relief) []idea {
	var order []int
	for i, r := range judged {
		if t.base.unplaced > 0 && r.relieves() {
			order = append(order, i)
		}
		if r.relieves() && r.Unplaced == 0 {
			return nil
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return judged[a].compare(judged[b]) })
	var chosen []idea
	of := map[ReliefKind]int{}
	for _, i := range order {
		if k := ideas[i].kind; of[k] < pairedOfKind && len(chosen) < mostPaired {
			of[k]++
			chosen = append(chosen, ideas[i])
		}
	}
	var list []idea
	for i, a := range chosen {
		for _, b := range chosen[i:] {
			if a.joins(b) {
				list = append(list, a.with(b))
			}
		}
	}
	return list
}

// joins reports whether two ideas make sense together: not two of one rack, nor
// two of one kind for one part. Only racks can be added twice.
func (i idea) joins(o idea) bool {
	if i.kind == OneRackMore && o.kind == OneRackMore {
		return true
	}
	if i.rack != "" && i.rack == o.rack || i.text == o.text {
		return false
	}
	same := func(k demand.Key) bool {
		return slices.ContainsFunc(o.loops, func(l demand.Key) bool { return l.Part == k.Part })
	}
	return i.kind != o.kind || i.kind == OtherRack || !slices.ContainsFunc(i.loops, same)
}

// with is both ideas as one.
func (i idea) with(o idea) idea {
	note := i.note
	if o.note != i.note {
		note = joined(i.note, o.note)
	}
	keys := append(slices.Clone(i.loops), o.loops...)
	slices.SortFunc(keys, demand.Key.Compare)
	var edits []placement.Edit
	if i.edits != nil && o.edits != nil {
		edits = slices.Concat(i.edits, o.edits)
	}
	return idea{
		kind: TwoTogether, edits: edits, text: joined(i.text, o.text), note: note, loops: slices.Compact(keys),
		bought: slices.Concat(i.bought, o.bought), adds: i.adds + o.adds,
		change: func(p *plant.Plant) {
			i.change(p)
			o.change(p)
			widen(p)
		},
	}
}

// betterPairs are the best of the pairs that place more than any single relief.
func betterPairs(pairs, single []Relief) []Relief {
	least := math.MaxInt
	for _, r := range single {
		if r.relieves() {
			least = min(least, r.Unplaced)
		}
	}
	pairs = best(slices.DeleteFunc(pairs, func(r Relief) bool { return r.Unplaced >= least }))
	return pairs[:min(len(pairs), mostPairs)]
}
