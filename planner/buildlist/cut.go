package buildlist

import (
	"context"
	"fmt"
	"slices"

	"lanewright/planner/finding"
	"lanewright/planner/internal/cutting"
	"lanewright/planner/plant"
	"lanewright/planner/search"
	"lanewright/planner/units"
)

// Stock is a length of a part that lies in the store: a bar or an offcut.
type Stock struct {
	Part   plant.KitPartCode
	Length units.Length
	Count  int
	// Listed stock is the plant's, of many parts; it is no mistake that nothing is
	// cut from some of it.
	Listed bool
}

// Cut is one piece on a bar.
type Cut struct {
	Rack   plant.RackCode
	Mark   string
	Length units.Length
}

// Bar is one stock length and the pieces that are cut from it.
type Bar struct {
	Length units.Length
	// OnHand says that it lies in the store.
	OnHand bool
	Cuts   []Cut
	// Rest is the offcut.
	Rest units.Length
}

// CutList is how the pieces of one part are cut from bars.
type CutList struct {
	Kit  plant.KitCode
	Part *plant.KitPart
	Kerf units.Length
	// Patterns says which bars are cut alike; the bars of the first come first.
	// Whoever cuts takes what lies in the store before anything new.
	Patterns []Pattern
	Bars     []Bar
	Pieces   int
	// Cut is the length of all pieces, Used that of all bars they are cut from,
	// Bought that of the bars among them that do not lie in the store.
	Cut, Used, Bought units.Length
	// Least is a length that no cutting of the same pieces can buy less than;
	// Proved, that none is better. Stopped says why the search ended.
	Least   units.Length
	Proved  bool
	Stopped search.Stop
	// Uncut are pieces that no stock is long enough for.
	Uncut []Cut
}

// Pattern is how so many bars are cut alike.
type Pattern struct {
	Length units.Length
	OnHand bool
	Times  int
	// Cuts are lengths and how many of each, the longest first.
	Cuts []Alike
	Rest units.Length
}

// Alike is a number of pieces of one length.
type Alike struct {
	Length units.Length
	Count  int
}

// Waste is the share of the bars that becomes no piece.
func (c CutList) Waste() float64 {
	if c.Used == 0 {
		return 0
	}
	return 1 - float64(c.Cut)/float64(c.Used)
}

// Cost is the price of the bars that are bought; ok is false where the kit does
// not know it.
func (c CutList) Cost() (cost units.Money, ok bool) {
	return units.Money(perMetre(c.Bought, int64(c.Part.PricePerMetre))), c.Part.PricePerMetre > 0
}

// CutOptions say what lies in the store and limit the search.
type CutOptions struct {
	OnHand []Stock
	Seed   uint64
	// Steps of the search for each part; 0 is the cutting's own.
	Steps int64
}

// CutLists packs the pieces of all racks onto stock, part by part, with the least
// length bought and, among equals, the shortest bars of the store. Parts come in
// the order in which the racks need them.
func CutLists(ctx context.Context, lists []List, o CutOptions) ([]CutList, finding.List, error) {
	jobs := cutJobs(lists)
	all := make([]CutList, 0, len(jobs))
	var found finding.List
	for _, j := range jobs {
		c, err := j.solve(ctx, o)
		if err != nil {
			return nil, nil, fmt.Errorf("cut list of %s: %w", j.part.Part, err)
		}
		if len(c.Uncut) > 0 {
			found = append(found, tooLong(j.kit.Kit, j.part, c.Uncut))
		}
		all = append(all, c)
	}
	return all, append(found, unneeded(jobs, o.OnHand)...), nil
}

// cutJob is what is to be cut of one part of a kit.
type cutJob struct {
	kit  *plant.Kit
	part *plant.KitPart
	cuts []Cut
}

// cutJobs gathers the pieces of each part that is cut from stock.
func cutJobs(lists []List) []*cutJob {
	type name struct {
		kit  plant.KitCode
		part plant.KitPartCode
	}
	at := map[name]*cutJob{}
	var jobs []*cutJob
	for i := range lists {
		l := &lists[i]
		for _, p := range l.Pieces {
			if len(p.Part.StockLengths) == 0 {
				continue
			}
			k := name{l.Frame.Kit.Kit, p.Part.Part}
			j := at[k]
			if j == nil {
				j = &cutJob{kit: l.Frame.Kit, part: p.Part}
				at[k] = j
				jobs = append(jobs, j)
			}
			j.cuts = append(j.cuts, Cut{l.Rack, p.Mark, p.Length})
		}
	}
	return jobs
}

// stored is how much dearer a bar is that is bought than one that lies in the
// store: so dear that none is bought to spare one, while among the store's the
// shorter ones go first.
const stored = 1000

// solve cuts the pieces of one part.
func (j *cutJob) solve(ctx context.Context, o CutOptions) (CutList, error) {
	w := newBench(j, o.OnHand)
	r, err := cutting.Solve(ctx, w.problem, cutting.Options{Seed: o.Seed, Steps: o.Steps})
	if err != nil {
		return CutList{}, err
	}
	c := CutList{Kit: j.kit.Kit, Part: j.part, Kerf: j.kit.Kerf, Proved: r.Proved(), Stopped: r.Stopped, Uncut: w.uncut}
	slices.SortStableFunc(r.Patterns, func(a, b cutting.Pattern) int { return w.first(a) - w.first(b) })
	for _, p := range r.Patterns {
		w.saw(&c, p)
	}
	c.Uncut = append(c.Uncut, w.left()...)
	c.Least = w.least(r, c)
	return c, nil
}

// add puts a bar on the list.
func (c *CutList) add(b Bar) {
	c.Bars = append(c.Bars, b)
	c.Pieces += len(b.Cuts)
	c.Used += b.Length
	if !b.OnHand {
		c.Bought += b.Length
	}
	for _, cut := range b.Cuts {
		c.Cut += cut.Length
	}
}

// rest is what is left of a bar behind its pieces; a cut through less than the
// kerf leaves nothing.
func rest(b Bar, kerf units.Length) units.Length {
	left := b.Length
	for _, c := range b.Cuts {
		left -= c.Length + kerf
	}
	return max(left, 0)
}
