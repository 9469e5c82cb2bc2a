package tours

import (
	"context"
	"fmt"
	"math"

	"lanewright/planner/search"
)

// Limits end a search.
type Limits struct {
	// Steps is the number of kicks of all trajectories together; 0 for no limit.
	// Routes depend on nothing else where Elapsed is nil.
	Steps int
	// Elapsed is the share of the budget that is used up, from 0; at 1 the
	// search ends. It is asked now and then, from any goroutine.
	Elapsed func() float64
}

// Settings are what a search may be told.
type Settings struct {
	Seed uint64
	// Trajectories is how many searches exchange their best now and then; 0 is
	// one. Threads spread them and change nothing; 0 is one.
	Trajectories, Threads int
	// Start are routes to begin with. Feasible ones are never made worse.
	Start []Route
}

// Route is the stops of a route in their order and the label it bears, if any.
type Route struct {
	Label int
	Stops []int32
}

// Result is what a search found.
type Result struct {
	Routes []Route
	// Cost is that of legs, wishes and routes.
	Cost int64
	// Feasible: all limits are kept. Else the routes are those with the least
	// breaches that the search ended with.
	Feasible bool
	Steps    int
	Stop     search.Stop
}

// Solve searches cheap routes until the limits end it. It is an error where p or
// the start has no sense.
func Solve(ctx context.Context, p *Problem, l Limits, set Settings) (Result, error) {
	if err := p.Check(); err != nil {
		return Result{}, err
	}
	if err := p.checkStart(set.Start); err != nil {
		return Result{}, err
	}
	if p.Stops == 0 {
		return Result{Feasible: true, Stop: search.Proved}, nil
	}
	if l.Steps <= 0 && l.Elapsed == nil {
		l.Steps = 1
	}
	r := renumber(p)
	f := freeze(&r.Problem)
	set.Start = renamed(set.Start, r.now)
	list := make([]*trajectory, max(set.Trajectories, 1))
	for i := range list {
		list[i] = newTrajectory(f, set, fmt.Sprintf("tours/%d", i))
		list[i].most = max((l.Steps+i)/len(list), 1)
		if l.Steps <= 0 {
			list[i].most = math.MaxInt
		}
	}
	if p.Stops > 1 {
		runAll(ctx, list, l, max(set.Threads, 1))
	}
	found := conclude(ctx, list, l)
	found.Routes = renamed(found.Routes, r.old)
	return found, nil
}

// checkStart says what is wrong with routes to begin with.
func (p *Problem) checkStart(start []Route) error {
	seen := make([]bool, p.Stops+1)
	labels := make([]bool, p.Labels+1)
	for _, r := range start {
		if r.Label < 0 || r.Label > p.Labels || r.Label > 0 && labels[r.Label] {
			return fmt.Errorf("%w: label %d of a first route", ErrProblem, r.Label)
		}
		labels[r.Label] = true
		for _, x := range r.Stops {
			if x < 1 || int(x) > p.Stops || seen[x] {
				return fmt.Errorf("%w: stop %d of a first route", ErrProblem, x)
			}
			seen[x] = true
		}
	}
	return nil
}
