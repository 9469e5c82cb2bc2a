package placement

// countShelf writes a level whose guides can be moved and where no lane has a
// number: lanes only need the width, and of each group of loops that must be
// kept apart no more than others, or empty lanes, can stand between.
func (m *modeller) countShelf(s int) {
	guests := m.guestsOf(m.shelves[s].col)
	groups := m.cliques(guests)
	for _, i := range guests {
		m.countLoop(s, i, len(groups) > 0)
	}
	m.partShelf(s, guests, groups)
}

// countLoop writes how loop i may lie on a level: n containers in x lanes of
// one flow side.
func (m *modeller) countLoop(s, i int, parted bool) {
	sh := &m.shelves[s]
	name := m.tags.loop(i) + "_" + sh.tag
	most := m.mostOf(i, sh.col)
	ways := m.worthwhile(i, sh.col, most)
	n := m.containersOn(s, i, name, most)
	holds := []ModelTerm{{n, 1}}
	place := parted || len(ways) > 1 || m.countsSplits()
	for _, w := range ways {
		count := min(lanes(most, w.capacity), m.cols[sh.col].width/w.width)
		side := name + "_" + sideName(w.side)
		x := m.column("x_"+side, float64(count), true)
		holds = append(holds, ModelTerm{x, -float64(w.capacity)})
		sh.width = append(sh.width, ModelTerm{x, millimetres(w.width)})
		if !place {
			continue
		}
		y := x
		if count > 1 {
			y = m.column("y_"+side, 1, true)
			m.row("lanes_"+side, AtMost, 0, []ModelTerm{{x, 1}, {y, -float64(count)}})
		}
		sh.places[i] = append(sh.places[i], ModelTerm{y, 1})
	}
	m.row("hold_"+name, AtMost, 0, holds)
	if len(ways) > 1 {
		m.row("side_"+name, AtMost, 1, sh.places[i])
	}
	if open := m.racks[sh.rack].open; open >= 0 {
		m.row("open_"+name, AtMost, 0, []ModelTerm{{n, 1}, {open, -float64(most)}})
	}
	if parted {
		// Who parts others lies there with a container at least.
		m.row("there_"+name, AtMost, 0, append([]ModelTerm{{n, -1}}, sh.places[i]...))
	}
	m.places[i] = append(m.places[i], sh.places[i]...)
}

// containersOn adds the column of containers of loop i on a level and enters it
// wherever containers count.
func (m *modeller) containersOn(s, i int, name string, most int64) int {
	sh := &m.shelves[s]
	l := &m.loops[i]
	n := m.column("n_"+name, float64(most), true)
	gross := ModelTerm{n, kilograms(l.gross)}
	sh.mass = append(sh.mass, gross)
	m.racks[sh.rack].load = append(m.racks[sh.rack].load, gross)
	m.containers[i] = append(m.containers[i], ModelTerm{n, 1})
	m.efforts = append(m.efforts, ModelTerm{n, m.effort[i*len(m.cols)+sh.col] / float64(max(1, l.k))})
	return n
}

// worthwhile lists the flow sides of loop i on a level but those that never
// take less width than the other.
func (m *modeller) worthwhile(i, col int, most int64) []way {
	y := &m.lays[m.lay[i*len(m.cols)+col]]
	if y.n < 2 {
		return y.ways[:y.n]
	}
	better := [2]bool{}
	for n := int64(1); n <= most; n++ {
		a, b := lanes(n, y.ways[0].capacity)*y.ways[0].width, lanes(n, y.ways[1].capacity)*y.ways[1].width
		better[0], better[1] = better[0] || a < b, better[1] || b < a
	}
	switch {
	case !better[1]:
		return y.ways[:1]
	case !better[0]:
		return y.ways[1:]
	}
	return y.ways[:]
}

// cliques groups loops that must be kept apart: each pair of a group, and none
// of two groups. It answers nil where the loops do not fall into such groups
// (which asks for the order of lanes) and where no two must be kept apart.
func (c *cell) cliques(guests []int) [][]int {
	var groups [][]int
	seen := map[int]bool{}
	for _, i := range guests {
		if seen[i] || !c.loops[i].touchy {
			continue
		}
		group := []int{i}
		for _, j := range guests {
			if j != i && c.foe(i, j) {
				group = append(group, j)
			}
		}
		for _, j := range group {
			seen[j] = true
		}
		if len(group) > 1 {
			groups = append(groups, group)
		}
	}
	return groups
}

// mixed reports whether the loops that must be kept apart do not fall into
// groups of which each pair is meant.
func (c *cell) mixed(guests []int) bool {
	count := func(i int) int {
		n := 0
		for _, j := range guests {
			if c.foe(i, j) {
				n++
			}
		}
		return n
	}
	for _, group := range c.cliques(guests) {
		for _, i := range group {
			if count(i) != len(group)-1 {
				return true
			}
			for _, j := range group {
				if i != j && !c.foe(i, j) {
					return true
				}
			}
		}
	}
	return false
}

// partShelf keeps groups apart: p loops of a group and q others, empty lanes
// included, can be put in a row without two of the group side by side exactly
// when p ≤ q + 1.
func (m *modeller) partShelf(s int, guests []int, groups [][]int) {
	if len(groups) == 0 {
		return
	}
	sh := &m.shelves[s]
	spacer := m.cols[sh.col].spacer
	e := m.column("e_"+sh.tag, float64(m.cols[sh.col].width/spacer), true)
	sh.width = append(sh.width, ModelTerm{e, millimetres(spacer)})
	for g, group := range groups {
		in := map[int]bool{}
		for _, i := range group {
			in[i] = true
		}
		terms := []ModelTerm{{e, -1}}
		for _, i := range guests {
			for _, t := range sh.places[i] {
				v := -1.0
				if in[i] {
					v = 1
				}
				terms = append(terms, ModelTerm{t.Column, v})
			}
		}
		m.row(numbered("apart_"+sh.tag, g+1), AtMost, 1, terms)
	}
}
