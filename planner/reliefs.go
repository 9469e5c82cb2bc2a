package planner

import (
	"context"
	"fmt"

	"golang.org/x/sync/errgroup"

	"lanewright/planner/demand"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// ReliefKind says what a relief changes.
type ReliefKind string

// Kinds of relief.
const (
	ShorterInterval ReliefKind = "interval"
	OtherContainer  ReliefKind = "container"
	OtherRackType   ReliefKind = "rack-type"
	OneLevelMore    ReliefKind = "level"
	OtherRack       ReliefKind = "other-rack"
	OneRackMore     ReliefKind = "rack"
	WithoutPin      ReliefKind = "pin"
	// TwoTogether is two of the others.
	TwoTogether ReliefKind = "pair"
)

// Relief is a change that makes room in a cell, and what comes of it. Everything
// was computed by sizing and placing the cell anew with the change; only the
// visits are estimated.
type Relief struct {
	Kind ReliefKind
	// Text says in a sentence what to do, Note what else it means; empty where
	// there is nothing more to say.
	Text, Note string
	// Loops are those that the change touches; none where it is about a rack.
	Loops []demand.Key
	// Unplaced are the cell's containers without a lane, before and with the
	// change.
	UnplacedBefore, Unplaced int
	// LanesFreed are the lanes that the cell's loops need less, placed or not.
	LanesFreed int
	// Effort is how much more effort the cell takes, in kg per net hour; what gets
	// its lane at last adds its own.
	Effort float64
	// Price is what the racks that are bought cost, less those that the plan would
	// add and need not; 0 where nothing is bought. PriceKnown is false where the plant's sheets do
	// not give it.
	Price      units.Money
	PriceKnown bool
	// Yearly is how much more the cell costs in a year: racks, floor and stock by
	// the plant's prices; YearlyPartial says that a price is missing.
	Yearly        units.Money
	YearlyPartial bool
	// Visits is how many more times an hour racks of the cell are served, estimated
	// from the intervals: a rack is served at the shortest of its loops.
	Visits units.Ratio
	// Refills is how many more full containers an hour are brought.
	Refills units.Ratio
	// Edits make the change to the plan by hand and lay what has no lane, so that no
	// more than Unplaced are left over and no rule of the layout is broken that was not
	// before; rounds may have to be planned anew. Nil where only other facts can make it, as
	// other racks, or where no such edits were found.
	Edits []placement.Edit
	// layout is the cell as it was placed with the change.
	layout placement.Layout
	// hollow is true where no loop without a lane gets one.
	hollow bool
}

// mostReliefs is how many Reliefs returns.
const mostReliefs = 10

// Reliefs tries what would make room in a cell of a plan: shorter intervals for
// the loops that save most lanes, other containers, another type or one level
// more for a standing rack, a rack that serves the station too or the free lanes
// of a neighbouring cell's rack, one rack more, a pin taken out; and where none of
// these is enough, two of the best together. Each is computed by the stages
// themselves on the cell alone. It returns the ten best: those
// that place most containers first, then the cheaper, then the least effort.
// What another relief beats in everything is left out, and what relieves
// nothing: where no container of the cell is without a lane, lanes freed count.
//
// A context that ends gives its error and no reliefs. An unknown cell gives
// ErrUnknownCell.
func Reliefs(ctx context.Context, in Input, plan *Plan, cell plant.CellCode, o Options) ([]Relief, error) {
	t, err := newTrial(ctx, in.Plant, plan, cell)
	if err != nil {
		return nil, fmt.Errorf("reliefs of cell %s: %w", cell, err)
	}
	ideas := t.ideas()
	list, err := t.judged(ctx, ideas, o)
	if err != nil {
		return nil, err
	}
	pairs, err := t.judged(ctx, t.pairs(ideas, list), o)
	if err != nil {
		return nil, err
	}
	list = best(append(list, betterPairs(pairs, list)...))
	desk := NewDesk(in.Plant, plan)
	t.byHand(desk, list)
	for i := range list {
		list[i].Text, list[i].Note = desk.speech.Local(list[i].Text), desk.speech.Local(list[i].Note)
	}
	return list, nil
}

// judged tries ideas, as many at once as there are threads.
func (t *trial) judged(ctx context.Context, ideas []idea, o Options) ([]Relief, error) {
	list := make([]Relief, len(ideas))
	var work errgroup.Group
	work.SetLimit(max(1, o.Threads))
	for i := range ideas {
		work.Go(func() error {
			list[i] = t.judge(ctx, ideas[i])
			list[i].Edits = ideas[i].edits
			return ctx.Err()
		})
	}
	if err := work.Wait(); err != nil {
		return nil, fmt.Errorf("reliefs of cell %s: %w", t.cell, err)
	}
	return list, nil
}
