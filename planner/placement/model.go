package placement

import (
	"errors"
	"fmt"

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
