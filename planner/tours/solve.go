package tours

import "lanewright/planner/search"

// Settings are what a search may be told.
type Settings struct {
	Seed uint64
}

// Result is what a search found.
type Result struct {
	Routes   [][]int32
	Cost     int64
	Feasible bool
	Steps    int
	Stop     search.Stop
}

// Solve searches routes.
func Solve(p *Problem, l Limits, set Settings) (Result, error) {
	if err := p.Check(); err != nil {
		return Result{}, err
	}
	f := freeze(p)
	t := &trajectory{kicks: kicks{state: newState(f), dice: newDice(set.Seed, "tours"), tuning: defaultTuning()}}
	t.prices = prices{1e6, 1e6, 1e6}
	tune(&t.tuning)
	t.nextBlink()
	t.savings()
	if t.feasible() {
		t.best.record(t.state)
	}
	stop := t.anneal(l)
	r := Result{Cost: t.best.total, Feasible: t.best.found, Steps: t.steps, Stop: stop}
	for _, seq := range t.best.routes {
		if len(seq) > 0 {
			r.Routes = append(r.Routes, seq)
		}
	}
	return r, nil
}
