package buildlist

import (
	"slices"

	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// cover says where the pieces of a roller track or guide of so much length end:
// as few as its longest stock length allows, and among these with their ends on
// cross tubes where they can be.
func (m *maker) cover(b structure.Member, length units.Length) []units.Length {
	longest := b.Part.Longest()
	longest -= longest % max(m.f.Kit.CutStep, finest)
	if longest <= 0 {
		m.unknownLength(b)
		return []units.Length{length}
	}
	under := m.under(b)
	var ends []units.Length
	for at := units.Length(0); length-at > longest; {
		end, ok := joint(under, at, length, longest)
		if !ok {
			m.loose(b, end)
		}
		ends = append(ends, end)
		at = end
	}
	return append(ends, length)
}

// joint is the farthest place that a piece from at can end on a cross tube so that
// no more pieces are needed; ok is false where none lies so.
func joint(under []units.Length, at, length, longest units.Length) (end units.Length, ok bool) {
	left := (length - at + longest - 1) / longest
	least := max(length-(left-1)*longest, at+1)
	for _, u := range slices.Backward(under) {
		if u >= least && u <= at+longest {
			return u, true
		}
	}
	return at + longest, false
}

// under are the places along a member where cross tubes of its level carry it,
// rising.
func (m *maker) under(b structure.Member) []units.Length {
	var list []units.Length
	step := max(m.f.Kit.CutStep, finest)
	for _, c := range m.f.Members {
		if c.Role != structure.CrossTube || c.Level != b.Level || b.To.Y == b.From.Y {
			continue
		}
		along := units.Length(float64(c.From.Y-b.From.Y) / float64(b.To.Y-b.From.Y) * float64(b.Length()))
		list = append(list, along-along%step)
	}
	slices.Sort(list)
	return list
}
