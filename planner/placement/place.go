package placement

import (
	"cmp"
	"context"
	"slices"
	"sync/atomic"

	"golang.org/x/sync/errgroup"

	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/search"
	"lanewright/planner/sizing"
	"lanewright/planner/structure"
)

// Input is what placement starts from. Nothing in it is changed, and the order
// of its lists does not matter, except that of two pins that contradict each
// other the later is left out.
type Input struct {
	Index *plant.Index
	Loops []sizing.Loop
	// Racks are those that stand.
	Racks []structure.Rack
	// Plant are the plant's settings as the run uses them.
	Plant plant.Settings
}

// Place gives each loop its rack, level and lanes by the goals of section 5 of
// the planning rules. Cells are independent: they are solved by so many threads
// at once, each with a random stream of its own, so neither the number of
// threads nor the order of the input changes the result. When ctx ends, each
// cell keeps the best found so far and says so in its Bound.
func Place(ctx context.Context, in Input, s Settings, seed uint64, threads int, progress search.Progress) Layout {
	groups := split(in)
	s = s.among(len(groups))
	results := make([]result, len(groups))
	names, whole := taken(in.Racks), overall{today(in), heeded(in)}
	notes := s.Keep.unknown(whole.spots)
	if s.Limited && len(whole.spots.of) > 0 {
		results, note := placeLimited(ctx, in, s, groups, whole, seed, threads)
		return merge(in, results, append(notes, note))
	}
	var done atomic.Int64
	progress.Report("placement", 0, len(groups))
	order := largestFirst(groups)
	each(len(groups), threads, func(n int) {
		i := order[n]
		c, noticed := freeze(in, s, &groups[i], whole)
		if s.FrontagePrice > 0 {
			results[i] = weigh(ctx, in, s, &groups[i], whole, seed, names)
		} else {
			results[i] = c.solve(ctx, search.Stream(seed, "placement/"+string(c.code)), s.Steps, names)
		}
		results[i].findings = append(results[i].findings, noticed...)
		progress.Report("placement", int(done.Add(1)), len(groups))
	})
	return merge(in, results, notes)
}

// freeze freezes the input of a cell, with the pins of what is kept as it is
// today, and tells what could not be kept.
func freeze(in Input, s Settings, g *group, whole overall) (*cell, finding.List) {
	c := newCell(in, s, g, whole)
	pins, noticed := c.keep(s.Keep, whole.spots)
	if len(pins) > 0 {
		c = newCell(in, s, g, overall{whole.spots, slices.Concat(whole.pins, pins)})
	}
	return c, noticed
}

// largestFirst orders cells such that no thread begins a large one when the
// others are nearly done.
func largestFirst(groups []group) []int {
	order := make([]int, len(groups))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(len(groups[b].loops), len(groups[a].loops)) })
	return order
}

// each calls do for 0 to n−1, on so many threads at once.
func each(n, threads int, do func(int)) {
	var work errgroup.Group
	work.SetLimit(max(1, threads))
	for i := range n {
		work.Go(func() error {
			do(i)
			return nil
		})
	}
	_ = work.Wait() // no task returns an error
}

// overall is what every cell reads and none changes: where loops lie today and
// the pins that count.
type overall struct {
	spots spots
	pins  []plant.Pin
}

// filled lists the racks on which something lies today.
func (o overall) filled() map[plant.RackCode]bool { return o.spots.racks }

// group is the part of the input that belongs to one cell.
type group struct {
	code  plant.CellCode
	loops []*sizing.Loop
	racks []*structure.Rack
}

// split groups the input by cell, everything in order of its code.
func split(in Input) []group {
	m := map[plant.CellCode]*group{}
	at := func(code plant.CellCode) *group {
		if m[code] == nil {
			m[code] = &group{code: code}
		}
		return m[code]
	}
	for i := range in.Index.Plant.Cells {
		at(in.Index.Plant.Cells[i].Cell)
	}
	for i := range in.Loops {
		g := at(in.Loops[i].Cell)
		g.loops = append(g.loops, &in.Loops[i])
	}
	for i := range in.Racks {
		g := at(in.Racks[i].Cell)
		g.racks = append(g.racks, &in.Racks[i])
	}
	groups := make([]group, 0, len(m))
	for _, g := range m {
		slices.SortFunc(g.loops, func(a, b *sizing.Loop) int { return a.Compare(b.Key) })
		slices.SortFunc(g.racks, func(a, b *structure.Rack) int { return cmp.Compare(a.Rack, b.Rack) })
		groups = append(groups, *g)
	}
	slices.SortFunc(groups, func(a, b group) int { return cmp.Compare(a.code, b.code) })
	return groups
}

// result is the layout of one cell.
type result struct {
	racks    []structure.Rack
	lanes    []Lane
	unplaced []Unplaced
	bound    Bound
	balance  []Balance
	findings finding.List
}

func merge(in Input, results []result, notes finding.List) Layout {
	l := Layout{Findings: notes}
	for _, r := range results {
		l.Racks = append(l.Racks, r.racks...)
		l.Lanes = append(l.Lanes, r.lanes...)
		l.Unplaced = append(l.Unplaced, r.unplaced...)
		l.Bounds = append(l.Bounds, r.bound)
		l.Balance = append(l.Balance, r.balance...)
		l.Findings = append(l.Findings, r.findings...)
	}
	slices.SortFunc(l.Racks, func(a, b structure.Rack) int { return cmp.Compare(a.Rack, b.Rack) })
	slices.SortFunc(l.Lanes, func(a, b Lane) int {
		return cmp.Or(cmp.Compare(a.Rack, b.Rack), cmp.Compare(a.Level, b.Level), cmp.Compare(a.Lane, b.Lane))
	})
	slices.SortFunc(l.Unplaced, func(a, b Unplaced) int { return a.Loop.Compare(b.Loop) })
	_, unknown := standsThere(in.Index)
	l.Findings = append(l.Findings, unknown...)
	l.Findings = append(l.Findings, unpriced(in.Index)...)
	l.Findings = append(l.Findings, Notes(in, l)...)
	l.Findings.Sort()
	return l
}

// byKey indexes loops.
func byKey(loops []sizing.Loop) map[demand.Key]*sizing.Loop {
	m := make(map[demand.Key]*sizing.Loop, len(loops))
	for i := range loops {
		m[loops[i].Key] = &loops[i]
	}
	return m
}
