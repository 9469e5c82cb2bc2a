package placement

import (
	"cmp"
	"maps"
	"slices"
	"time"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
)

// StepKind says what a step of a move list does.
type StepKind string

// Kinds of step, in the order in which a cell's list begins with them.
const (
	// StepOut takes containers back to the market: the plan has no lane for them.
	StepOut StepKind = "out"
	// StepMove takes containers from the lane they lie in today to a lane of the
	// plan.
	StepMove StepKind = "move"
	// StepAside takes containers out of the way, to a free lane or to the floor:
	// every part of a ring waits for another's lane.
	StepAside StepKind = "aside"
	// StepBack takes them on, from there to their lane of the plan.
	StepBack StepKind = "back"
	// StepBring brings containers that are missing from the market.
	StepBring StepKind = "bring"
)

// Step is one errand of a move list: take so many containers of one part from
// one lane to another.
type Step struct {
	Cell plant.CellCode
	// Day counts from 1, the first day on which the list is worked on; Shift is
	// the shift of that day, empty where the cell has none.
	Day   int
	Shift plant.ShiftCode
	// Step counts from 1 in each cell.
	Step    int
	Kind    StepKind
	Part    plant.PartCode
	Station plant.StationCode
	// Containers are taken in this step, 1 or more.
	Containers int
	// From and To are lanes. Level 0 is the floor beside the rack; nil is the
	// market.
	From, To *Spot
	// Time is what the step takes: Containers · Moving.Container, and the walk
	// there and back at Moving.Speed.
	Time time.Duration
}

// Steps lists the errands that turn today's layout into l, in an order that one
// person can work down: a lane is free of other parts before something comes
// into it. In each cell what leaves goes first, then every container moves as
// soon as its lane is free; where parts wait for each other in a ring, the one
// of fewest containers is put aside, into a free lane that holds it, else on the
// floor. What is missing comes from the market last. Lanes are known by rack,
// level and number: the guides of a level are set as the plan has them before
// its first container comes.
//
// Cells are worked on side by side, each in the shifts it works, as long as
// Moving.Shift allows; nothing stays aside over a shift's end unless it takes
// longer than that. A plant without a current layout has no steps.
func Steps(in Input, l Layout, s Moving) []Step {
	if len(in.Index.Plant.Current) == 0 {
		return nil
	}
	return stepsFrom(in, laneStocks(in, l), l, s)
}

// StepsFrom lists the errands that turn another layout into l, in the same order and
// under the same rules as Steps turns today's: was are its lanes, for a floor that
// works to a plan already.
func StepsFrom(in Input, was []Lane, l Layout, s Moving) []Step {
	var stocks []laneStock
	for _, lane := range was {
		if !lane.Empty() {
			stocks = append(stocks, laneStock{lane.Loop, stock{Spot{lane.Rack, lane.Level, lane.Lane}, lane.Containers}})
		}
	}
	sortStocks(stocks)
	return stepsFrom(in, stocks, l, s)
}

func stepsFrom(in Input, stocks []laneStock, l Layout, s Moving) []Step {
	floor := newStepFloor(in, stocks, l)
	var list []Step
	for _, e := range errands(stocks, l) {
		m := mover{stepFloor: floor, errands: e.list, s: s, cell: e.cell}
		m.work()
		list = append(list, inShifts(m.steps, in.Index.CellShifts(e.cell), s.Shift)...)
	}
	return list
}

// errand is containers of a loop that must go from one lane to another; from or
// to is nil for the market.
type errand struct {
	loop     demand.Key
	n        int
	from, to *Spot
	// aside is true where they were put out of the way.
	aside bool
}

// cellErrands are the errands of a cell.
type cellErrands struct {
	cell plant.CellCode
	list []errand
}

// errands pairs, for every loop, the lanes it leaves with those it reaches: on
// the same level first, then on the same rack, then anywhere.
func errands(stocks []laneStock, l Layout) []cellErrands {
	goals := map[demand.Key]*goal{}
	at := func(k demand.Key) *goal {
		if goals[k] == nil {
			goals[k] = &goal{loop: k}
		}
		return goals[k]
	}
	for _, t := range stocks {
		at(t.loop).left = append(at(t.loop).left, t.stock)
	}
	for _, lane := range l.Lanes {
		if !lane.Empty() {
			at(lane.Loop).wanted = append(at(lane.Loop).wanted, stock{Spot{lane.Rack, lane.Level, lane.Lane}, lane.Containers})
		}
	}
	byCell := map[plant.CellCode][]errand{}
	for _, k := range slices.SortedFunc(maps.Keys(goals), demand.Key.Compare) {
		byCell[k.Cell] = append(byCell[k.Cell], goals[k].errands()...)
	}
	list := make([]cellErrands, 0, len(byCell))
	for c, e := range byCell {
		list = append(list, cellErrands{c, e})
	}
	slices.SortFunc(list, func(a, b cellErrands) int { return cmp.Compare(a.cell, b.cell) })
	return list
}

// stock is containers in a lane.
type stock struct {
	at Spot
	n  int
}

// goal is what a loop has today and what the plan gives it, by lane.
type goal struct {
	loop         demand.Key
	left, wanted []stock
}

// errands empties both lists against each other. What lies in its lane already
// stays.
func (g *goal) errands() []errand {
	var list []errand
	for _, near := range []func(a, b Spot) bool{
		func(a, b Spot) bool { return a == b },
		func(a, b Spot) bool { return a.Rack == b.Rack && a.Level == b.Level },
		func(a, b Spot) bool { return a.Rack == b.Rack },
		func(Spot, Spot) bool { return true },
	} {
		for i := range g.left {
			for j := range g.wanted {
				from, to := &g.left[i], &g.wanted[j]
				n := min(from.n, to.n)
				if n == 0 || !near(from.at, to.at) {
					continue
				}
				from.n, to.n = from.n-n, to.n-n
				if from.at != to.at {
					list = append(list, errand{loop: g.loop, n: n, from: &from.at, to: &to.at})
				}
			}
		}
	}
	for i := range g.left {
		if g.left[i].n > 0 {
			list = append(list, errand{loop: g.loop, n: g.left[i].n, from: &g.left[i].at})
		}
	}
	for i := range g.wanted {
		if g.wanted[i].n > 0 {
			list = append(list, errand{loop: g.loop, n: g.wanted[i].n, to: &g.wanted[i].at})
		}
	}
	return list
}

// laneStock is what of a loop lies in a lane today.
type laneStock struct {
	loop demand.Key
	stock
}

// laneStocks reads today's layout lane by lane, ordered by rack, level, lane
// and loop. A row without a number of containers counts as its share of the
// loop's containers, at least 1.
func laneStocks(in Input, l Layout) []laneStock {
	rows := owned(in, l)
	lanesOf := map[demand.Key]int{}
	for _, o := range rows {
		lanesOf[o.loop]++
	}
	loops := byKey(in.Loops)
	var list []laneStock
	for _, o := range rows {
		n := o.row.Containers
		if n == 0 {
			n = 1
			if loop := loops[o.loop]; loop != nil {
				n = max(1, loop.Containers/lanesOf[o.loop])
			}
		}
		at := Spot{o.row.Rack, o.row.Level, o.row.Lane}
		if i := slices.IndexFunc(list, func(t laneStock) bool { return t.loop == o.loop && t.at == at }); i >= 0 {
			list[i].n += n
			continue
		}
		list = append(list, laneStock{o.loop, stock{at, n}})
	}
	sortStocks(list)
	return list
}

func sortStocks(list []laneStock) {
	slices.SortFunc(list, func(a, b laneStock) int { return cmp.Or(compareSpots(a.at, b.at), a.loop.Compare(b.loop)) })
}

// compareSpots orders lanes by rack, level and number.
func compareSpots(a, b Spot) int {
	return cmp.Or(cmp.Compare(a.Rack, b.Rack), cmp.Compare(a.Level, b.Level), cmp.Compare(a.Lane, b.Lane))
}
