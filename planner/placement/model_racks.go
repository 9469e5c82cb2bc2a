package placement

import (
	"fmt"

	"lanewright/planner/plant"
)

// addRacks makes a rack of each that stands and of each copy that may be added.
func (m *modeller) addRacks() error {
	for b := range m.standing {
		m.addRack(modelRack{base: b, open: -1, tag: m.tags.of("rack", string(m.bases[b].rack.Rack))})
	}
	var front []ModelTerm
	for b := m.standing; b < len(m.bases); b++ {
		n := m.copiesOf(b)
		if wide := n * int64(m.bases[b].end-m.bases[b].first) * int64(len(m.loops)); wide > mostColumns {
			return fmt.Errorf("%w: %d of type %s", ErrManyRacks, n, m.bases[b].rack.Type.RackType)
		}
		last := -1
		for k := range n {
			open := m.addCopy(b, int(k)+1)
			front = append(front, ModelTerm{open, millimetres(m.bases[b].width)})
			// Racks of one type are alike: the first are added first.
			if last >= 0 {
				m.row("order_"+m.racks[len(m.racks)-1].tag, AtMost, 0, []ModelTerm{{open, 1}, {last, -1}})
			}
			last = open
		}
	}
	if m.frontage < boundless {
		m.row("frontage", AtMost, millimetres(m.frontage), front)
	}
	return nil
}

// addCopy adds the k-th rack of a type and returns the column that opens it.
func (m *modeller) addCopy(b, k int) int {
	code := string(m.bases[b].rack.Type.RackType)
	tag := m.tags.added(code, k)
	open := m.column("o_"+tag, 1, true)
	m.addRack(modelRack{base: b, open: open, tag: tag})
	return open
}

func (m *modeller) addRack(r modelRack) {
	m.racks = append(m.racks, r)
	b := &m.bases[r.base]
	for col := b.first; col < b.end; col++ {
		m.shelves = append(m.shelves, modelShelf{
			rack: len(m.racks) - 1, col: col, places: map[int][]ModelTerm{},
			tag: fmt.Sprintf("%s_L%d", r.tag, m.cols[col].level.Level.Level),
		})
	}
}

// cost is the price of the racks added.
func (m *modeller) cost() []ModelTerm {
	var terms []ModelTerm
	for _, r := range m.racks {
		if r.open >= 0 {
			terms = append(terms, ModelTerm{r.open, m.money(m.bases[r.base].cost)})
		}
	}
	return terms
}

// hold is how many racks of a base are enough: for goals 1 and 2 those that
// hold all loops that may lie there, since any more can be swapped for these;
// for the others as many as there are containers.
func (m *modeller) hold(b int) int64 {
	all := int64(0)
	for i := range m.loops {
		if m.liesOn(i, b) {
			all += m.loops[i].k
		}
	}
	if m.goal != GoalUnplaced && m.goal != GoalCost || m.most.Splits >= 0 {
		return all
	}
	return min(all, m.filled(b))
}

func (m *modeller) liesOn(i, b int) bool {
	for col := m.bases[b].first; col < m.bases[b].end; col++ {
		if m.lay[i*len(m.cols)+col] >= 0 {
			return true
		}
	}
	return false
}

// filled counts the racks of a base that hold every container of every loop
// that may lie there, filled one after the other.
func (m *modeller) filled(b int) int64 {
	st := newState(m.cell, nil)
	st.racks, st.shelves = nil, nil
	for n := range int64(mostAdded) {
		left := false
		for _, i := range m.byWidth() {
			if m.liesOn(i, b) {
				st.spread(i)
				left = left || st.missing[i] > 0
			}
		}
		if !left {
			return n
		}
		st.open(b)
	}
	return mostAdded
}

// guestsOf lists the loops that may lie on a column.
func (c *cell) guestsOf(col int) []int {
	var list []int
	for i := range c.loops {
		if c.lay[i*len(c.cols)+col] >= 0 {
			list = append(list, i)
		}
	}
	return list
}

// mostOf is the most containers of loop i that one level can hold by mass.
func (c *cell) mostOf(i, col int) int64 {
	n, bears := c.loops[i].k, min(c.cols[col].mass, c.bases[c.cols[col].base].load)
	if g := c.loops[i].gross; g > 0 {
		n = min(n, bears/g)
	}
	return n
}

// sideName names a flow side in a column.
func sideName(s plant.FlowSide) string {
	if s == plant.WidthAlong {
		return "width"
	}
	return "length"
}
