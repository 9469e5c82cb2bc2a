package planner

import (
	"slices"

	"lanewright/planner/demand"
	"lanewright/planner/placement"
)

// Clash is an edit that touches the same loop, lane or rack as one that somebody
// else made meanwhile.
type Clash struct {
	// Mine is the number of the edit in the list that was to be merged, from 0.
	Mine int
	// Theirs is the number of the other edit among those made meanwhile; -1 where
	// the edit builds on one before it in its own list that clashes.
	Theirs int
	// On is what both touch.
	On placement.Common
}

// Merge sorts edits that were made on a plan after base, while others took back and
// made some too. Those that touch no loop, lane or rack of these can be made after
// them and mean the same, whatever the order; the others clash and are left to the
// person. An edit that builds on one that clashes is held back with it.
//
// Gone are the edits of base that were taken back meanwhile: its last ones. Came are
// those that were made then. Theirs of a clash counts through gone, then came.
func (d *Desk) Merge(base, gone, came, mine []placement.Edit) (free []placement.Edit, clashes []Clash) {
	touches := func(done, edits []placement.Edit) []placement.Touch {
		return placement.Touches(d.in, d.plan.Settings.Placement, d.layout, slices.Concat(d.plan.Held, done), edits)
	}
	kept := base[:len(base)-len(gone)]
	return sift(mine, touches(base, mine), append(touches(kept, gone), touches(kept, came)...))
}

// Carry sorts edits of this plan that shall be made of another one to which no edits
// lead, such as one of other facts or settings: those that touch no loop that differs
// between the two, nor a rack on which one of these lies, can be made of it and mean the
// same. Theirs of a clash numbers the loops that differ, as Compare lists them.
func (d *Desk) Carry(other *Plan, mine []placement.Edit) (free []placement.Edit, clashes []Clash, differ []LoopDifference) {
	differ = loopDifferences(d.plan, other)
	theirs := make([]placement.Touch, len(differ))
	for i, l := range differ {
		theirs[i].Loops = []demand.Key{l.Loop}
		for _, lane := range slices.Concat(l.Lanes[0], l.Lanes[1]) {
			theirs[i].Racks = append(theirs[i].Racks, lane.Rack)
		}
	}
	touched := placement.Touches(d.in, d.plan.Settings.Placement, d.layout, d.plan.Held, mine)
	free, clashes = sift(mine, touched, theirs)
	return free, clashes, differ
}

// Story tells of each edit what it did, where they are made one after the other.
func (d *Desk) Story(edits []placement.Edit) []placement.Deed {
	return placement.Deeds(d.in, d.plan.Settings.Placement, d.layout, d.plan.Held, edits)
}

// sift parts edits into those that meet nothing of theirs, or of an edit held back
// before, and the others.
func sift(mine []placement.Edit, touched, theirs []placement.Touch) (free []placement.Edit, clashes []Clash) {
	var held []placement.Touch
	for i, t := range touched {
		c, clash := Clash{Mine: i, Theirs: -1}, false
		for n, o := range theirs {
			// The first of theirs on the same loop says more than one on the same rack.
			if on, meet := t.Meets(o); meet && (!clash || on.Loop != demand.Key{} && c.On.Loop == demand.Key{}) {
				c.On, c.Theirs, clash = on, n, true
			}
		}
		for n := 0; n < len(held) && !clash; n++ {
			c.On, clash = t.Meets(held[n])
		}
		if clash {
			held, clashes = append(held, t), append(clashes, c)
			continue
		}
		free = append(free, mine[i])
	}
	return free, clashes
}
