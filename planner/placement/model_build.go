package placement

import (
	"fmt"
	"math"
)

// modeller writes the model of a cell, condition by condition.
type modeller struct {
	*cell
	goal ModelGoal
	most ModelLimits
	m    Model
	tags modelTags
	// racks are those that stand and the copies that may be added, shelves
	// their levels.
	racks   []modelRack
	shelves []modelShelf
	// By loop: its containers on any shelf, and the shelves it lies on.
	containers, places [][]ModelTerm
	// covered are, by loop and lane number, the ways to have that lane.
	covered map[modelLane][]ModelTerm
	efforts []ModelTerm
}

// modelRack is a rack; open is the column that says whether it is added, -1 for
// one that stands.
type modelRack struct {
	base, open int
	tag        string
	load       []ModelTerm
}

// modelShelf is a supply level of a rack.
type modelShelf struct {
	rack, col   int
	tag         string
	width, mass []ModelTerm
	// places are, by loop, the columns that say whether it lies there.
	places map[int][]ModelTerm
}

// modelLane is a lane number to which a loop is pinned.
type modelLane struct{ loop, lane int }

// model writes the model of the cell.
func (c *cell) model(goal ModelGoal, most ModelLimits) (Model, error) {
	m := &modeller{
		cell: c, goal: goal, most: most, tags: newModelTags(c),
		containers: make([][]ModelTerm, len(c.loops)), places: make([][]ModelTerm, len(c.loops)),
		covered: map[modelLane][]ModelTerm{},
	}
	m.m.Name = fmt.Sprintf("%s_%s", m.tags.of("cell", string(c.code)), goal)
	if err := m.addRacks(); err != nil {
		return Model{}, err
	}
	for s := range m.shelves {
		m.addShelf(s)
	}
	m.addLoads()
	m.addPins()
	unplaced := m.addLoops()
	splits := m.addSplits()
	if !m.addGoals(unplaced, splits) {
		return Model{}, fmt.Errorf("%w: %q", ErrNoSuchGoal, goal)
	}
	m.addNotes()
	return m.m, nil
}

// addShelf writes the conditions of one level: lane by lane where the order of
// lanes matters, else by counting lanes.
func (m *modeller) addShelf(s int) {
	if m.ordered(m.shelves[s].col) {
		m.seatShelf(s)
	} else {
		m.countShelf(s)
	}
	sh := &m.shelves[s]
	col, r := &m.cols[sh.col], &m.racks[sh.rack]
	if col.fixed == nil {
		m.within("width_"+sh.tag, sh.width, millimetres(col.width), r.open)
	}
	if col.mass < boundless {
		m.within("mass_"+sh.tag, sh.mass, kilograms(col.mass), r.open)
	}
}

// addLoads limits what lies on each rack.
func (m *modeller) addLoads() {
	for _, r := range m.racks {
		if load := m.bases[r.base].load; load < boundless {
			m.within("load_"+r.tag, r.load, kilograms(max(0, load)), r.open)
		}
	}
}

// addLoops shares out the containers of each loop; what is left has no lane. It
// returns the terms that count those.
func (m *modeller) addLoops() []ModelTerm {
	var unplaced []ModelTerm
	for i := range m.loops {
		k := float64(m.loops[i].k)
		u := m.column("u_"+m.tags.loop(i), k, true)
		unplaced = append(unplaced, ModelTerm{u, 1})
		m.row("containers_"+m.tags.loop(i), Equal, k, append(m.containers[i], ModelTerm{u, 1}))
	}
	return unplaced
}

// addSplits counts the loops on more than one level, where that is asked.
func (m *modeller) addSplits() []ModelTerm {
	if !m.countsSplits() {
		return nil
	}
	var splits []ModelTerm
	for i := range m.loops {
		most := min(len(m.shelves), int(m.loops[i].k)) - 1
		if most < 1 || len(m.places[i]) < 2 {
			continue
		}
		z := m.column("z_"+m.tags.loop(i), 1, true)
		splits = append(splits, ModelTerm{z, 1})
		m.row("split_"+m.tags.loop(i), AtMost, 1, append(m.places[i], ModelTerm{z, -float64(most)}))
	}
	return splits
}

// countsSplits reports whether the model needs to know what is split.
func (m *modeller) countsSplits() bool { return m.goal == GoalSplits || m.most.Splits >= 0 }

// addGoals limits the goals before and sets the objective; false where there is
// no such goal.
func (m *modeller) addGoals(unplaced, splits []ModelTerm) bool {
	cost := m.cost()
	if m.most.Unplaced >= 0 {
		m.row("limit_unplaced", AtMost, float64(m.most.Unplaced), unplaced)
	}
	if m.most.Cost >= 0 {
		m.row("limit_cost", AtMost, m.most.Cost, cost)
	}
	if m.most.Splits >= 0 {
		m.row("limit_splits", AtMost, float64(m.most.Splits), splits)
	}
	switch m.goal {
	case GoalUnplaced:
		m.m.Objective = unplaced
	case GoalCost:
		m.m.Objective = cost
	case GoalSplits:
		m.m.Objective = splits
	case GoalEffort:
		m.m.Objective = m.efforts
	default:
		return false
	}
	return true
}

// column adds a column from 0 to upper.
func (m *modeller) column(name string, upper float64, integer bool) int {
	m.m.Columns = append(m.m.Columns, ModelColumn{name, upper, integer})
	return len(m.m.Columns) - 1
}

// row adds a row; one without terms says nothing and is left out.
func (m *modeller) row(name string, sense ModelSense, limit float64, terms []ModelTerm) {
	if len(terms) > 0 {
		m.m.Rows = append(m.m.Rows, ModelRow{name, sense, terms, limit})
	}
}

// within limits a sum to what a level or rack bears, to nothing where the rack
// is not added.
func (m *modeller) within(name string, terms []ModelTerm, limit float64, open int) {
	if open < 0 {
		m.row(name, AtMost, limit, terms)
	} else if len(terms) > 0 {
		m.row(name, AtMost, 0, append(terms, ModelTerm{open, -limit}))
	}
}

// millimetres and kilograms are the units of the model's rows.
func millimetres(nm int64) float64 { return float64(nm) / 1e6 }
func kilograms(ug int64) float64   { return float64(ug) / 1e9 }

// copiesOf returns how many racks of a base may be added: no fewer than some
// best layout has.
func (m *modeller) copiesOf(b int) int64 {
	base := &m.bases[b]
	n := min(mostAdded, m.hold(b))
	if base.width > 0 && m.frontage < boundless {
		n = min(n, m.frontage/base.width)
	}
	if m.most.Cost >= 0 && base.cost > 0 {
		n = min(n, int64(math.Round(m.most.Cost*1e6))/base.cost)
	}
	return n
}
