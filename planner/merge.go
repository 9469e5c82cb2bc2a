package planner

import (
	"slices"

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
	theirs := append(touches(kept, gone), touches(kept, came)...)
	var held []placement.Touch
	for i, t := range touches(base, mine) {
		c, clash := Clash{Mine: i, Theirs: -1}, false
		for n, o := range theirs {
			if c.On, clash = t.Meets(o); clash {
				c.Theirs = n
				break
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
