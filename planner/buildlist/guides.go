package buildlist

import (
	"fmt"

	"lanewright/planner/finding"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// guides asks whether the guides leave each container its way and stand clear of
// the uprights that they pass.
func (m *maker) guides() {
	for i := range m.f.Decks {
		d := &m.f.Decks[i]
		m.narrow(d)
		m.struck(d)
	}
}

// guidesOf are the guides of a level from the left.
func (m *maker) guidesOf(level int) (list []structure.Member) {
	for _, b := range m.f.Members {
		if b.Role == structure.Guide && b.Level == level {
			list = append(list, b)
		}
	}
	return list
}

// narrow reports the lane of a level whose guides leave its container least.
func (m *maker) narrow(d *structure.Deck) {
	var worst structure.Lane
	least := units.Length(0)
	for _, l := range d.Lanes {
		if l.Box.IsZero() {
			continue
		}
		if over := l.Box.Across - m.between(d, l); over > least {
			worst, least = l, over
		}
	}
	if least == 0 {
		return
	}
	f := m.about(CodeNarrow, finding.Warning)
	f.Origin, f.Subject.Level, f.Subject.Container = m.f.Type.Origin, d.Level, string(worst.Box.Container)
	f.Summary = fmt.Sprintf("Level %d of rack %s: container %s is %s wide in its lane, the guides of kit %s leave %s", d.Level, m.l.Rack, worst.Box.Container, round(worst.Box.Across), m.f.Kit.Kit, round(worst.Box.Across-least))
	f.Detail = "The lanes stand so far apart as the plant's guide width says; the guides of the kit are wider than that and its side clearance together."
	f.Remedy = fmt.Sprintf("Take guides narrower by %s, or set the plant's guide width to that of the kit and plan anew.", round(least))
	f.Measure = &finding.Measure{Value: worst.Box.Across.MM(), Limit: (worst.Box.Across - least).MM(), Unit: "mm"}
	m.found = append(m.found, f)
}

// between is the free width between the guides left and right of a lane.
func (m *maker) between(d *structure.Deck, l structure.Lane) units.Length {
	middle := d.Left + l.Offset + l.Width/2
	left, right := units.Length(0), m.f.Width
	for _, g := range m.guidesOf(d.Level) {
		if half := g.Part.Width / 2; g.From.X < middle {
			left = max(left, g.From.X+half)
		} else {
			right = min(right, g.From.X-half)
		}
	}
	return right - left
}

// struck reports a level whose outer guides run into the uprights of the rows
// between the first and the last.
func (m *maker) struck(d *structure.Deck) {
	guides := m.guidesOf(d.Level)
	if len(m.f.Rows) < 3 || len(guides) == 0 {
		return
	}
	upright := m.f.Members[0]
	room := guides[0].From.X - guides[0].Part.Width/2 - upright.From.X - max(upright.Part.Width, upright.Part.Height)/2
	if room >= 0 {
		return
	}
	f := m.about(CodeStruck, finding.Warning)
	f.Origin, f.Subject.Level = m.f.Type.Origin, d.Level
	f.Summary = fmt.Sprintf("Level %d of rack %s: the outer guides reach %s into the uprights of the rows between", d.Level, m.l.Rack, round(-room))
	f.Detail = "Guides run along the whole lane beside its usable width. Between the uprights there is no room for that width and a guide on each side."
	f.Remedy = fmt.Sprintf("Make the usable width smaller or the rack wider by %s, cut the guides out at the uprights, or take narrower ones.", round(-2*room))
	f.Measure = &finding.Measure{Value: -room.MM(), Limit: 0, Unit: "mm"}
	m.found = append(m.found, f)
}
