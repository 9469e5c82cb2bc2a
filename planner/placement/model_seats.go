package placement

import "fmt"

// ordered reports whether the order of lanes matters on a column: guides that
// can not be moved, pinned lane numbers, or loops to be kept apart that do not
// fall into groups.
func (c *cell) ordered(col int) bool {
	guests := c.guestsOf(col)
	if c.cols[col].fixed != nil || c.mixed(guests) {
		return true
	}
	for _, i := range guests {
		if len(c.loops[i].lanes) > 0 {
			return true
		}
	}
	return false
}

// seatingPlan is a level lane by lane.
type seatingPlan struct {
	shelf int
	// taken are, by lane, the stretches that cover it; starts and ends, by loop
	// and lane, those that begin and end there.
	taken        [][]ModelTerm
	starts, ends map[modelLane][]ModelTerm
}

// seatShelf writes a level lane by lane: a column for each stretch of
// neighbouring lanes that a loop could take.
func (m *modeller) seatShelf(s int) {
	sh := &m.shelves[s]
	guests := m.guestsOf(sh.col)
	p := seatingPlan{shelf: s, taken: make([][]ModelTerm, m.lanesOn(sh.col)), starts: map[modelLane][]ModelTerm{}, ends: map[modelLane][]ModelTerm{}}
	for _, i := range guests {
		m.seatLoop(&p, i)
	}
	if m.cols[sh.col].fixed == nil {
		m.seatSpacers(&p)
	}
	for j, terms := range p.taken {
		m.row(numbered("lane_"+sh.tag, j+1), AtMost, 1, terms)
	}
	for _, i := range guests {
		m.seatApart(&p, i, guests)
	}
}

// lanesOn is the most lanes that a column can have.
func (c *cell) lanesOn(col int) int {
	k := &c.cols[col]
	switch {
	case k.fixed != nil:
		return len(k.fixed)
	case k.spacer >= boundless:
		return 0
	}
	return int(k.width / k.spacer)
}

// seatLoop writes the stretches of lanes of loop i.
func (m *modeller) seatLoop(p *seatingPlan, i int) {
	sh := &m.shelves[p.shelf]
	name := m.tags.loop(i) + "_" + sh.tag
	most := m.mostOf(i, sh.col)
	n := m.containersOn(p.shelf, i, name, most)
	holds, fills := []ModelTerm{{n, 1}}, []ModelTerm{{n, 1}}
	y := &m.lays[m.lay[i*len(m.cols)+sh.col]]
	for _, w := range y.ways[:y.n] {
		for count := 1; count <= min(len(p.taken), int(lanes(most, w.capacity))); count++ {
			for at := range len(p.taken) - count + 1 {
				if !m.wideEnough(sh.col, w, at, count) {
					continue
				}
				t := m.stretch(p, i, w, at, count, name)
				holds = append(holds, ModelTerm{t, -float64(w.capacity) * float64(count)})
				fills = append(fills, ModelTerm{t, -float64(w.capacity)*float64(count-1) - 1})
			}
		}
	}
	m.row("hold_"+name, AtMost, 0, holds)
	// No lane more than its containers need.
	m.row("fill_"+name, AtLeast, 0, fills)
	m.row("once_"+name, AtMost, 1, sh.places[i])
	m.places[i] = append(m.places[i], sh.places[i]...)
}

// wideEnough reports whether a stretch of lanes is there and wide enough.
func (c *cell) wideEnough(col int, w way, at, count int) bool {
	k := &c.cols[col]
	if k.fixed == nil {
		return int64(count)*w.width+int64(at)*k.spacer <= k.width
	}
	for _, width := range k.fixed[at : at+count] {
		if width+c.guide < w.width {
			return false
		}
	}
	return true
}

// stretch adds the column of one stretch and enters it where it counts.
func (m *modeller) stretch(p *seatingPlan, i int, w way, at, count int, name string) int {
	sh := &m.shelves[p.shelf]
	t := m.column(fmt.Sprintf("s_%s_%s_%d.%d", name, sideName(w.side), at+1, count), 1, true)
	one := ModelTerm{t, 1}
	for j := at; j < at+count; j++ {
		p.taken[j] = append(p.taken[j], one)
		m.covered[modelLane{i, j + 1}] = append(m.covered[modelLane{i, j + 1}], one)
	}
	from, to := modelLane{i, at}, modelLane{i, at + count - 1}
	p.starts[from], p.ends[to] = append(p.starts[from], one), append(p.ends[to], one)
	sh.places[i] = append(sh.places[i], one)
	sh.width = append(sh.width, ModelTerm{t, millimetres(int64(count) * w.width)})
	return t
}

// seatSpacers adds the empty lanes of a level whose guides can be moved: lanes
// are numbered from the left without a gap.
func (m *modeller) seatSpacers(p *seatingPlan) {
	sh := &m.shelves[p.shelf]
	for j := range p.taken {
		e := m.column(numbered("e_"+sh.tag, j+1), 1, true)
		p.taken[j] = append(p.taken[j], ModelTerm{e, 1})
		sh.width = append(sh.width, ModelTerm{e, millimetres(m.cols[sh.col].spacer)})
		if j > 0 {
			terms := append([]ModelTerm(nil), p.taken[j]...)
			for _, t := range p.taken[j-1] {
				terms = append(terms, ModelTerm{t.Column, -1})
			}
			m.row(numbered("gap_"+sh.tag, j+1), AtMost, 0, merged(terms))
		}
	}
}

// merged adds up the terms of each column and drops what comes to nothing.
func merged(terms []ModelTerm) []ModelTerm {
	at := map[int]int{}
	var list []ModelTerm
	for _, t := range terms {
		if k, ok := at[t.Column]; ok {
			list[k].Value += t.Value
			continue
		}
		at[t.Column] = len(list)
		list = append(list, t)
	}
	kept := list[:0]
	for _, t := range list {
		if t.Value != 0 {
			kept = append(kept, t)
		}
	}
	return kept
}

// seatApart keeps the loops away that may not begin where loop i ends.
func (m *modeller) seatApart(p *seatingPlan, i int, guests []int) {
	if !m.loops[i].touchy {
		return
	}
	name := m.tags.loop(i) + "_" + m.shelves[p.shelf].tag
	for j := range len(p.taken) - 1 {
		var next []ModelTerm
		for _, o := range guests {
			if m.foe(i, o) {
				next = append(next, p.starts[modelLane{o, j + 1}]...)
			}
		}
		if here := p.ends[modelLane{i, j}]; len(here) > 0 && len(next) > 0 {
			m.row(numbered("apart_"+name, j+1), AtMost, 1, append(next, here...))
		}
	}
}

// addPins asks that a loop which lies anywhere has the lanes it is pinned to.
func (m *modeller) addPins() {
	for i := range m.loops {
		for _, lane := range m.loops[i].lanes {
			m.addPin(i, lane)
		}
	}
}

func (m *modeller) addPin(i, lane int) {
	for s := range m.shelves {
		terms := append([]ModelTerm(nil), m.shelves[s].places[i]...)
		if len(terms) == 0 {
			continue
		}
		for _, t := range m.covered[modelLane{i, lane}] {
			terms = append(terms, ModelTerm{t.Column, -1})
		}
		m.row(numbered("pin_"+m.tags.loop(i)+"_"+m.shelves[s].tag, lane), AtMost, 0, merged(terms))
	}
}
