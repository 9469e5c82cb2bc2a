package placement

import (
	"errors"
	"fmt"
	"math"

	"lanewright/planner/plant"
)

// Why a model can not be made.
var (
	ErrNoSuchCell = errors.New("no such cell")
	ErrNoSuchGoal = errors.New("no such goal")
	// ErrManyRacks says that without a limit on cost or frontage so many racks
	// might be added that nobody could solve the model.
	ErrManyRacks = errors.New("more racks might be added than a model can hold")
)

// ModelGoal is the goal of section 5 of the planning rules that a model
// minimises. Goals are strict: each is judged among the layouts that are best
// in those before it, which a model is told as limits.
type ModelGoal string

// The goals of a model, in their order. The fifth, containers moved, has none.
const (
	GoalUnplaced ModelGoal = "unplaced"
	GoalCost     ModelGoal = "cost"
	GoalSplits   ModelGoal = "splits"
	GoalEffort   ModelGoal = "effort"
)

// ModelGoals lists the goals in their order.
func ModelGoals() []ModelGoal { return []ModelGoal{GoalUnplaced, GoalCost, GoalSplits, GoalEffort} }

// NoLimit leaves a value of ModelLimits open.
const NoLimit = -1

// ModelLimits are what a layout of a model may reach at most in the goals
// before the model's own; NoLimit (any negative value) leaves one open.
type ModelLimits struct {
	// Unplaced counts containers without a lane, those included that fit
	// nowhere; Splits loops on more than one level.
	Unplaced, Splits int
	// Cost is that of the racks added, in the units of Bound.AddedCost.
	Cost float64
}

// Model is a mixed-integer linear program: minimise the objective subject to
// the rows.
type Model struct {
	Name string
	// Notes say in plain words what the model means and what it leaves out.
	Notes     []string
	Columns   []ModelColumn
	Rows      []ModelRow
	Objective []ModelTerm
}

// ModelColumn is an unknown between 0 and Upper; a whole number where Integer
// is set. Names have no spaces and no two are the same.
type ModelColumn struct {
	Name    string
	Upper   float64
	Integer bool
}

// ModelTerm is a column times a number.
type ModelTerm struct {
	Column int
	Value  float64
}

// ModelSense says how a row compares with its limit.
type ModelSense byte

// The three senses of a row.
const (
	AtMost  ModelSense = 'L'
	AtLeast ModelSense = 'G'
	Equal   ModelSense = 'E'
)

// ModelRow is a condition: the sum of the terms, compared with Limit.
type ModelRow struct {
	Name  string
	Sense ModelSense
	Terms []ModelTerm
	Limit float64
}

// mostColumns bounds a model; beyond it no solver would end.
const mostColumns = 2_000_000

// CellModel returns the placement of one cell as a mixed-integer linear program
// in which every layout that obeys the rules of section 5 of the planning rules
// is a solution, and every solution such a layout: its optimum is the best
// value of a goal that any layout within the limits has.
func CellModel(in Input, s Settings, code plant.CellCode, goal ModelGoal, most ModelLimits) (Model, error) {
	groups := split(in)
	for i := range groups {
		if groups[i].code == code {
			c := newCell(in, s, &groups[i], overall{today(in), heeded(in)})
			return c.model(goal, most)
		}
	}
	return Model{}, fmt.Errorf("%w: %q", ErrNoSuchCell, code)
}

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
