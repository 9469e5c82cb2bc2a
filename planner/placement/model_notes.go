package placement

import (
	"fmt"
	"strings"
)

// addNotes says what the model means: goal, columns, rules, codes.
func (m *modeller) addNotes() {
	m.note("The lanes of cell %q as a mixed-integer linear program.", string(m.code))
	m.noteGoal()
	m.noteColumns()
	m.noteRules()
	m.noteCodes()
}

func (m *modeller) note(format string, args ...any) {
	m.m.Notes = append(m.m.Notes, fmt.Sprintf(format, args...))
}

// noteGoal says what is minimised and what was settled before.
func (m *modeller) noteGoal() {
	m.note("Goal: the least %s.", m.meaning(m.goal))
	if m.most.Unplaced >= 0 {
		m.note("Among layouts with at most %d %s.", m.most.Unplaced, m.meaning(GoalUnplaced))
	}
	if m.most.Cost >= 0 {
		m.note("Among layouts with at most %s %s.", decimal(m.most.Cost), m.meaning(GoalCost))
	}
	if m.most.Splits >= 0 {
		m.note("Among layouts with at most %d %s.", m.most.Splits, m.meaning(GoalSplits))
	}
}

// meaning is a goal in words, with its unit.
func (m *modeller) meaning(g ModelGoal) string {
	switch {
	case g == GoalUnplaced:
		return "containers without a lane"
	case g == GoalCost && m.priced:
		return "cost of racks added (the plant's currency)"
	case g == GoalCost:
		return "millimetres of racks added (no type has a cost)"
	case g == GoalSplits:
		return "loops split over levels or racks"
	}
	return "effort (kg per net hour)"
}

func (m *modeller) noteColumns() {
	m.note("Columns; LOOP is PART_STATION, LEVEL is RACK_Ln, SIDE the flow side, length or width along the lane:")
	m.note("n_LOOP_LEVEL containers of a loop on a level; x_LOOP_LEVEL_SIDE its lanes; y_LOOP_LEVEL_SIDE 1 where it has any;")
	m.note("s_LOOP_LEVEL_SIDE_j.m 1 where it has the m lanes from lane j on; e_LEVEL empty lanes between others (with _j: lane j);")
	m.note("u_LOOP containers without a lane; z_LOOP 1 where it is split; o_RACK 1 where that rack is added.")
	m.note("Widths are in mm with a guide beside each lane, masses in kg.")
}

// noteRules says which rules are in the model and in what form.
func (m *modeller) noteRules() {
	m.note("In the model, exactly: stations served, walk limit, lane length and height, widths and guides, fill limit,")
	m.note("masses of levels and racks, fixed guides, lanes side by side, pins, loops kept apart, frontage, split and part loops.")
	for b := m.standing; b < len(m.bases); b++ {
		n := 0
		for _, r := range m.racks {
			if r.base == b {
				n++
			}
		}
		m.note("Racks of type %q that may be added: %d%s.", string(m.bases[b].rack.Type.RackType), n, enough(n))
	}
	m.note("Not in the model: room for empties, which is judged after the routes, and the containers moved against today's layout.")
}

// enough says whether more racks could be better.
func enough(n int) string {
	if n == mostAdded {
		return ", which is the most that is added to a cell"
	}
	return "; no layout within the limits is better for more"
}

// noteCodes lists the codes behind names.
func (m *modeller) noteCodes() {
	m.note("Codes:")
	for i := range m.loops {
		l := &m.loops[i]
		m.note("%s = part %q at station %q, %d containers of %q", m.tags.loop(i), string(l.Part), string(l.Station), l.k, string(l.Container))
	}
	for _, r := range m.racks {
		rack := &m.bases[r.base].rack
		if r.open < 0 {
			m.note("%s = rack %q of type %q", r.tag, string(rack.Rack), string(rack.Type.RackType))
		} else {
			m.note("%s = an added rack of type %q", r.tag, string(rack.Type.RackType))
		}
	}
}

// oneLine keeps a note on its line.
func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }
