package ergonomics

import (
	"lanewright/planner/finding"
	"lanewright/planner/units"
)

// reachKind is one way in which a lane may ask too much of a reaching hand.
type reachKind struct {
	code, what, detail, remedy, source string
	// measure returns the number that counts, its limit, and by how much it
	// breaks it: 0 or less where it does not.
	measure func(t *Task) (value, limit, excess units.Length)
}

// severity is a note, and a warning where small people do not get there at all.
func (k reachKind) severity(r *reached) finding.Severity {
	if k.code == CodeHigh && r.value > Overhead {
		return finding.Warning
	}
	return finding.Note
}

func reachKinds() []reachKind {
	return []reachKind{
		{
			code: CodeLow, what: "hands go below the knuckles", measure: low, source: body,
			detail: "Whoever takes or gives something below hanging hands bends the back or the knees.",
			remedy: "Keep low levels for empties, light and slow parts, or raise the lowest level.",
		},
		{
			code: CodeHigh, what: "hands go above the shoulders", measure: high, source: body,
			detail: "Arms above the shoulders tire, and what falls, falls on the head. Above 1815 mm a small person does not get there at all.",
			remedy: "Place the loops lower, use lower containers, or lower the highest level.",
		},
		{
			code: CodeDeep, what: "the far wall of the first container is out of reach", measure: deep, source: body,
			detail: "The reach over the pick edge is that of a straight arm at this height with a lean of up to 20°; beyond it the back bends.",
			remedy: "Let the short side run along the lane, use a smaller container, tilt the level's end, or place the loop nearer to the height of the shoulders.",
		},
		{
			code: CodeHand, what: "no hand gets between the container and the level above", measure: hand,
			detail: "A hand wants 50 mm above the rim to reach into a container.",
			remedy: "Use a lower container or raise the level above.",
			source: "Applications Manual for the Revised NIOSH Lifting Equation, 1994, p. 17: hand clearance of 2 in",
		},
	}
}

func low(t *Task) (value, limit, excess units.Length) {
	value = t.hands(min(t.PickSurface, t.LoadSurface))
	return value, Knuckle, Knuckle - value
}

func high(t *Task) (value, limit, excess units.Length) {
	value = t.hands(max(t.PickSurface, t.LoadSurface))
	return value, Shoulder, value - Shoulder
}

// deep judges heights between the knuckles and the reach above the head; what lies
// beyond has a finding of its own.
func deep(t *Task) (value, limit, excess units.Length) {
	value, _ = t.Container.Along(t.Side)
	at := t.hands(t.PickSurface)
	if limit = ReachOver(at); at < Knuckle || at > Overhead || limit == 0 {
		return value, limit, 0
	}
	return value, limit, value - limit
}

func hand(t *Task) (value, limit, excess units.Length) {
	if t.Clear == 0 {
		return 0, 0, 0
	}
	value = max(0, t.Clear-t.Container.Height)
	return value, HandRoom, HandRoom - value
}
