package tours

import (
	"context"
	"fmt"
	"math"
	"sync"

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

func newTrajectory(f *frozen, set Settings, name string) *trajectory {
	t := &trajectory{kicks: newKicks(newState(f), newDice(set.Seed, name))}
	t.prices = f.hardPrices()
	t.hard = true
	t.begins(set.Start)
	if f.populous() {
		t.population, t.soft = newPopulation(f), f.softPrices().times(firstPrice)
	}
	if t.note(); f.soft() {
		t.soften(takenSmall)
	}
	return t
}

// begins sets the routes to begin with: those given, or new ones.
func (t *trajectory) begins(start []Route) {
	f := t.f
	if len(start) == 0 && !f.sided {
		t.savings()
	}
	at := int32(f.Labels)
	for _, r := range start {
		if r.Label > 0 {
			t.load(int32(r.Label-1), r.Stops)
		} else if len(r.Stops) > 0 {
			t.load(at, r.Stops)
			at++
		}
	}
	t.settle()
	t.insertMissing()
	for t.open > f.maxRoutes {
		t.dissolve()
	}
}

// insertMissing puts all stops that are out where they cost least.
func (t *trajectory) insertMissing() {
	t.begin()
	t.taken = t.taken[:0]
	for x := int32(1); int(x) < t.f.w; x++ {
		if t.nodes[x].route == out {
			t.taken = append(t.taken, x)
		}
	}
	t.putBack()
}

// dissolve deals the stops of the shortest route to the others.
func (t *trajectory) dissolve() {
	least := int32(out)
	for i := range t.routes {
		if n := t.routes[i].size; n > 0 && (least == out || n < t.routes[least].size) {
			least = int32(i)
		}
	}
	t.begin()
	t.save(least)
	t.taken = t.sequence(&t.routes[least], t.taken[:0])
	for _, x := range t.taken {
		t.take(x)
	}
	t.putBack()
}

func (t *trajectory) putBack() {
	t.recreate()
	for _, at := range t.journal.slots {
		t.refresh(at)
	}
	t.keep()
}

// Breaches cost so many of the longest trip for a limit's full amount.
const hardPrice = 1000

func (f *frozen) hardPrices() prices {
	var longest int64 = 1
	for _, t := range f.trip {
		longest = max(longest, t)
	}
	p := prices{time: max(hardPrice*float64(longest)/float64(max(f.MaxTime, 1)), 1)}
	p.load = max(hardPrice*float64(longest)/float64(max(f.capacity, 1)), 1)
	p.other = p.load
	if len(f.Loads) == mostLoads {
		p.other = max(hardPrice*float64(longest)/float64(max(f.Loads[1].Capacity, 1)), 1)
	}
	return p
}

// softPrices are what self-adjusting prices begin with: a mean stop's load too
// much costs a mean leg, and time as much as the way in it.
func (f *frozen) softPrices() prices {
	mean := func(l []int64) float64 {
		var sum int64 = 1
		for _, x := range l {
			sum += x
		}
		return f.meanLeg * float64(f.Stops) / float64(sum)
	}
	p := prices{load: mean(f.demand), time: 1}
	if len(f.Loads) == mostLoads {
		p.other = mean(f.Loads[1].Mean)
	}
	return p
}

// marks is after how many equal parts of the budget trajectories exchange.
const marks = 16

// runAll lets all trajectories work through the budget. After each part of it
// the one that has the worst routes goes on from the best ones.
func runAll(ctx context.Context, list []*trajectory, l Limits, threads int) {
	parts := marks
	if len(list) == 1 {
		parts = 1
	}
	threads = min(threads, len(list))
	groups := (len(list) + threads - 1) / threads
	for i := range parts {
		for g := range groups {
			sp := span{limits: &l, from: float64(i) / float64(parts), to: float64(i+1) / float64(parts)}
			width := (sp.to - sp.from) / float64(groups)
			sp.begin = sp.from + float64(g)*width
			sp.end = sp.begin + width
			together(list[g*threads:min((g+1)*threads, len(list))], func(t *trajectory) { t.search(ctx, sp) })
		}
		if i < parts-1 {
			exchange(list)
		}
	}
}

// together does the task for each of the list at once.
func together(list []*trajectory, task func(*trajectory)) {
	if len(list) == 1 {
		task(list[0])
		return
	}
	var all sync.WaitGroup
	for _, t := range list {
		all.Go(func() { task(t) })
	}
	all.Wait()
}

// better reports whether t has found more than o.
func (t *trajectory) better(o *trajectory) bool {
	if t.best.found != o.best.found {
		return t.best.found
	}
	return t.best.found && t.best.total < o.best.total
}

// exchange lets the trajectory with the worst routes go on from the best.
func exchange(list []*trajectory) {
	good, bad := list[0], list[0]
	for _, t := range list[1:] {
		if t.better(good) {
			good = t
		}
		if bad.better(t) {
			bad = t
		}
	}
	if good != bad && good.best.found {
		bad.restore(&good.best)
		bad.markAll()
		bad.note()
		if p := bad.population; p != nil && p.born > 0 {
			p.add(p.member(bad.state), bad.soft)
		}
	}
}

// conclude returns the best routes of all trajectories.
func conclude(ctx context.Context, list []*trajectory, l Limits) Result {
	t := list[0]
	r := Result{Stop: stopped(ctx, l, t.f.Stops)}
	for _, o := range list {
		r.Steps += o.steps
		if o.better(t) {
			t = o
		}
	}
	if r.Feasible = t.best.found; r.Feasible {
		t.restore(&t.best)
	}
	t.reprice(t.f.hardPrices())
	if !r.Feasible {
		t.repair(ctx)
	}
	t.finish()
	r.Feasible = t.feasible()
	r.Cost = t.total()
	for i := range t.routes {
		if t.routes[i].size > 0 {
			r.Routes = append(r.Routes, Route{t.f.label(int32(i)), t.sequence(&t.routes[i], nil)})
		}
	}
	return r
}

// repairs is how many kicks are spent on routes that breach limits to the end.
const repairs = 2000

// repair looks for routes without a breach and takes the first it finds.
func (t *trajectory) repair(ctx context.Context) {
	t.hard = true
	for range repairs {
		if t.best.found || ctx.Err() != nil {
			return
		}
		t.step(coldHard * t.f.meanLeg)
	}
}

// finish leaves no move undone that the local search knows.
func (t *trajectory) finish() {
	t.begin()
	for x := int32(1); int(x) < t.f.w; x++ {
		t.touch(x)
	}
	t.descend()
	if t.best.found && !t.feasible() {
		t.undo()
	}
}
