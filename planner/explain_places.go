package planner

import (
	"fmt"

	"lanewright/planner/placement"
)

// places tells where else the loop could lie, and what would give a lane to what
// has none. Each place and change that is called possible was tried.
func (x *explainer) places() Section {
	s := Section{Title: "Other places"}
	w, _ := x.Places(x.loop.Key)
	if w.Pinned && len(w.Here) > 0 {
		s.say("It is pinned to where it lies; the places below count as if the pin were taken off.")
	}
	for _, p := range w.Places {
		s.say(p.String())
	}
	if len(w.Here) > 0 && len(w.Places) == 0 {
		s.say(fmt.Sprintf("No other level of its cell's racks would hold %s side by side, even empty.", counted(x.loop.Containers, "container")))
	}
	if w.Missing.Containers == 0 {
		return s
	}
	s.say(wouldHelp(w))
	for _, c := range w.Changes {
		s.say(c.String())
	}
	return s
}

// wouldHelp leads over to the changes.
func wouldHelp(w placement.Whys) string {
	without := counted(w.Missing.Containers, "container") + " without a lane"
	switch {
	case len(w.Changes) == 0:
		return "Nothing that was tried would help the " + without + ": no move of other loops, shorter interval or other container of the plant, no higher level, longer lane or further rack."
	case w.Changes[0].Left > 0:
		return "Nothing that was tried would help all of the " + without + "; what follows helps most."
	case len(w.Changes) == 1:
		return "One change would help the " + without + "; it was tried."
	default:
		return "Each of these would help the " + without + "; all were tried, and the least to do comes first."
	}
}
