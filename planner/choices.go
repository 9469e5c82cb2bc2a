package planner

import (
	"context"
	"fmt"
	"slices"
	"time"

	"lanewright/planner/costing"
	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/sizing"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// Grid is what Choices tries: every interval with every service level.
type Grid struct {
	// Intervals are refill intervals above 0; empty is the plant's interval
	// choices.
	Intervals []time.Duration
	// ServiceLevels are shares, 0 < s < 1; empty is the settings' own.
	ServiceLevels []units.Ratio
}

// Choice is what a plan comes to at one refill interval and service level.
type Choice struct {
	Interval     time.Duration
	ServiceLevel units.Ratio
	// Containers are those of all loops, Unplaced those without a lane.
	Containers, Unplaced int
	// LanesUsed are supply lanes with a part.
	LanesUsed            int
	Racks, RacksProposed int
	// Frontage is the width of all racks together.
	Frontage         units.Length
	Routes, Handlers int
	// RoundsWeek counts the departures of a week, RoundsDay those of a day on which
	// any shift starts, in the mean.
	RoundsWeek int
	RoundsDay  units.Ratio
	// Pieces are on hand at the line in the mean (costing.OnHand).
	Pieces units.Ratio
	// Unvalued counts loops whose part has no unit cost.
	Unvalued int
	Cost     costing.Cost
	// OwnIntervals counts loops all of whose rows give an interval, so that the
	// choice does not touch it; OwnServiceLevels the same for service levels.
	OwnIntervals, OwnServiceLevels int
	// Undominated says that no other choice is as good or better in everything that
	// counts and better in something; see Choices.
	Undominated bool
}

// StockValue is the value of the pieces on hand whose part has a unit cost, in the
// plant's currency.
func (c Choice) StockValue() units.Ratio { return c.Cost.Line(costing.Stock).Quantity }

// Choices makes a whole plan for every interval of grid with every service level
// and measures each, ordered by service level, then interval. The interval and the
// level are those of the plant; a row that gives its own keeps it.
//
// A choice is marked as undominated by comparing unplaced containers, frontage,
// value of stock (containers, where any part of the plant lacks a unit cost),
// handlers, yearly cost (where every price is known in every choice), all the
// fewer the better, and the service level, the higher the better. What is equal in
// all of them is marked together.
//
// The plans are made one after the other, each with o.Threads. A context that
// ends, by hand or by its deadline, gives its error and no choices: plans whose
// search was cut short compare nothing.
func Choices(ctx context.Context, in Input, base Settings, grid Grid, o Options) ([]Choice, error) {
	grid, err := grid.full(base.Plant)
	if err != nil {
		return nil, err
	}
	x := plant.NewIndex(in.Plant)
	own := ownRows(in.Plant)
	choices := make([]Choice, 0, len(grid.ServiceLevels)*len(grid.Intervals))
	for _, level := range grid.ServiceLevels {
		for _, interval := range grid.Intervals {
			o.Progress.Report("choices", len(choices), cap(choices))
			s := base
			s.Prove = false
			s.Placement.ProofSteps = min(s.Placement.ProofSteps, comparedProof)
			s.Plant.Interval, s.Plant.ServiceLevel = interval, level
			plan, err := Run(ctx, in, s, Options{Threads: o.Threads})
			if err == nil {
				err = ctx.Err()
			}
			if err != nil {
				return nil, fmt.Errorf("choice of %s min: %w", units.Minutes(interval), err)
			}
			choices = append(choices, measure(x, plan, own))
		}
	}
	mark(choices)
	o.Progress.Report("choices", len(choices), len(choices))
	return choices, nil
}

// comparedProof bounds the proofs of plans that are only compared with each other.
const comparedProof = 480_000

// full fills g from the plant's settings, in rising order and each value once.
func (g Grid) full(s plant.Settings) (Grid, error) {
	if len(g.Intervals) == 0 {
		g.Intervals = s.IntervalChoices
	}
	if len(g.ServiceLevels) == 0 {
		g.ServiceLevels = []units.Ratio{s.ServiceLevel}
	}
	g.Intervals = slices.Compact(slices.Sorted(slices.Values(g.Intervals)))
	g.ServiceLevels = slices.CompactFunc(slices.SortedFunc(slices.Values(g.ServiceLevels), units.Ratio.Cmp), units.Ratio.Equal)
	for _, d := range g.Intervals {
		if d <= 0 {
			return g, fmt.Errorf("%w %q: expected a refill interval above 0", ErrBadSetting, d)
		}
	}
	for _, p := range g.ServiceLevels {
		if p.Sign() <= 0 || p.Cmp(units.Int(1)) >= 0 {
			return g, fmt.Errorf("%w %q: expected a service level between 0 and 1", ErrBadSetting, p)
		}
	}
	return g, nil
}

// own says which values the rows of a loop all give themselves.
type own struct{ interval, level bool }

func ownRows(p *plant.Plant) map[demand.Key]own {
	rows := map[demand.Key]own{}
	for _, u := range p.Usage {
		k := demand.Key{Part: u.Part, Cell: u.Cell, Station: u.Station}
		o, seen := rows[k]
		gives := own{u.Interval > 0, u.ServiceLevel.Sign() > 0}
		if seen {
			gives = own{o.interval && gives.interval, o.level && gives.level}
		}
		rows[k] = gives
	}
	return rows
}

// measure takes what people compare from a plan.
func measure(x *plant.Index, p *Plan, rows map[demand.Key]own) Choice {
	s := p.Summary()
	c := Choice{
		Interval: p.Settings.Plant.Interval, ServiceLevel: p.Settings.Plant.ServiceLevel,
		Containers: s.Containers, Unplaced: s.ContainersUnplaced, LanesUsed: s.LanesUsed,
		Racks: s.Racks, RacksProposed: s.RacksProposed, Frontage: frontage(p.Racks),
		Routes: s.Routes, Handlers: s.Handlers, RoundsWeek: roundsWeek(x, p),
		Cost: cost(x, p),
	}
	if days := workdays(x); days > 0 {
		c.RoundsDay = units.R(int64(c.RoundsWeek), int64(days))
	}
	c.Pieces = costing.Pieces(sized(p))
	for _, l := range p.Loops {
		if x.Parts[l.Part].UnitCost == 0 {
			c.Unvalued++
		}
		if rows[l.Key].interval {
			c.OwnIntervals++
		}
		if rows[l.Key].level {
			c.OwnServiceLevels++
		}
	}
	return c
}

// Cost prices a plan for a year.
func Cost(facts *plant.Plant, p *Plan) costing.Cost { return cost(plant.NewIndex(facts), p) }

func cost(x *plant.Index, p *Plan) costing.Cost {
	return costing.Year(costing.Input{Plant: p.Settings.Plant, Index: x, Loops: sized(p), Racks: p.Racks, Routes: p.Routes})
}

// sized returns the loops of a plan without their lanes.
func sized(p *Plan) []sizing.Loop {
	loops := make([]sizing.Loop, len(p.Loops))
	for i, l := range p.Loops {
		loops[i] = l.Loop
	}
	return loops
}

func frontage(racks []structure.Rack) units.Length {
	var sum units.Length
	for _, r := range racks {
		sum += r.Type.Width
	}
	return sum
}

// roundsWeek counts the departures of all routes in a week.
func roundsWeek(x *plant.Index, p *Plan) int {
	n := 0
	for _, r := range p.Routes {
		for _, t := range r.Timetable {
			if s := x.Shifts[t.Shift]; s != nil {
				n += len(t.Departures) * days(s.Days)
			}
		}
	}
	return n
}

// workdays is the number of weekdays on which any shift starts.
func workdays(x *plant.Index) int {
	var any [7]bool
	for _, s := range x.Plant.Shifts {
		for d, on := range s.Days {
			any[d] = any[d] || on
		}
	}
	return days(any)
}

func days(week [7]bool) int {
	n := 0
	for _, on := range week {
		if on {
			n++
		}
	}
	return n
}
