package planner

import (
	"context"
	"fmt"
	"slices"

	"lanewright/planner/demand"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/search"
	"lanewright/planner/sizing"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// TradeOff is what the racks of a plant or cell come to at one fill limit: the
// less of a level is filled on racks that are added or opened, the more racks
// there are and the less the work on them.
type TradeOff struct {
	// FillLimit is a share, 0 < s <= 1.
	FillLimit units.Ratio
	// Unplaced are containers without a lane.
	Unplaced             int
	Racks, RacksProposed int
	// Frontage is the width of all racks together.
	Frontage units.Length
	// Added is what the proposed racks cost; AddedKnown is false where one of
	// their types has no cost.
	Added      units.Money
	AddedKnown bool
	// Effort is kg per net hour.
	Effort float64
	// Undominated says that no other fill limit is as good or better in unplaced
	// containers, frontage, cost where all costs are known, and effort, and better
	// in one of them.
	Undominated bool
	// Best says that it is the best fill limit at the setting's price per metre of frontage:
	// fewest containers without a lane, then least effort + price · frontage, ties
	// to the higher limit. It is never set where the price is 0.
	Best bool
	// Priced says that this is what a plan gets at that price: each cell chooses
	// for itself, within the plan's own fill limit. It is the last of a list, and
	// there is none where the price is 0.
	Priced bool
}

// Trade places a cell, or the whole plant where cell is empty, at several fill
// limits and lists the frontage, and the cost, against the effort, each in the
// strict order of goals: cost first, then effort. Where the settings have a price
// per metre of frontage, what a plan gets at that price comes last.
//
// A context that ends gives its error and no list. An unknown cell gives
// ErrUnknownCell.
func Trade(ctx context.Context, in Input, s Settings, cell plant.CellCode, o Options) ([]TradeOff, error) {
	facts := in.Plant
	used, _ := demand.Loops(plant.NewIndex(facts), s.Plant)
	if cell != "" {
		if facts = only(facts, cell); len(facts.Cells) == 0 {
			return nil, fmt.Errorf("trade of cell %s: %w", cell, ErrUnknownCell)
		}
		used = picked(used, func(l demand.Loop) bool { return l.Cell == cell })
	}
	x := plant.NewIndex(facts)
	loops, _ := sizing.Size(x, used)
	tries := trials(s)
	list := make([]TradeOff, 0, len(tries))
	for _, t := range tries {
		o.Progress.Report("trade", len(list), len(tries))
		place := placement.Input{Index: x, Loops: loops, Racks: structure.Racks(x), Plant: t.Plant}
		t.Placement.ProofSteps = min(t.Placement.ProofSteps, comparedProof)
		layout := placement.Place(ctx, place, t.Placement, t.Plant.Seed, max(1, o.Threads), search.Progress(nil))
		if err := ctx.Err(); err != nil {
			return nil, fmt.Errorf("trade at a fill limit of %g %%: %w", 100*t.Plant.FillLimit.Float64(), err)
		}
		row := tradeOff(t.Plant.FillLimit, layout)
		row.Priced = t.Placement.FrontagePrice > 0
		list = append(list, row)
	}
	markTrade(list, s.Placement.FrontagePrice)
	return list, nil
}

// trials are the settings that Trade tries: fill limits without a price, and last
// the plan's own where frontage has one.
func trials(s Settings) []Settings {
	var list []Settings
	for _, limit := range placement.FillLimits() {
		t := s
		t.Plant.FillLimit, t.Placement.FrontagePrice = limit, 0
		list = append(list, t)
	}
	if s.Placement.FrontagePrice > 0 {
		list = append(list, s)
	}
	return list
}

func tradeOff(limit units.Ratio, l placement.Layout) TradeOff {
	t := TradeOff{FillLimit: limit, Racks: len(l.Racks), Frontage: frontage(l.Racks), AddedKnown: true}
	for _, r := range l.Racks {
		if r.Proposed {
			t.RacksProposed++
			t.Added += r.Type.Cost
			t.AddedKnown = t.AddedKnown && r.Type.Cost > 0
		}
	}
	for _, b := range l.Bounds {
		t.Unplaced, t.Effort = t.Unplaced+b.Unplaced, t.Effort+b.Effort
	}
	return t
}

// markTrade finds what nothing beats, and the best at a price per metre.
func markTrade(list []TradeOff, price float64) {
	priced := !slices.ContainsFunc(list, func(t TradeOff) bool { return !t.AddedKnown })
	best := 0
	for i, t := range list {
		list[i].Undominated = !slices.ContainsFunc(list, func(o TradeOff) bool { return o.beats(t, priced) })
		if b := list[best]; !t.Priced && (t.Unplaced < b.Unplaced || t.Unplaced == b.Unplaced && t.at(price) < b.at(price)) {
			best = i
		}
	}
	if len(list) > 0 {
		list[best].Best = price > 0
	}
}

// at is effort and frontage in one number, in kg per net hour.
func (t TradeOff) at(price float64) float64 { return t.Effort + price*t.Frontage.Metres() }

// beats reports whether t is nowhere worse than o and somewhere better.
func (t TradeOff) beats(o TradeOff, priced bool) bool {
	worse := t.Unplaced > o.Unplaced || t.Frontage > o.Frontage || t.Effort > o.Effort || priced && t.Added > o.Added
	better := t.Unplaced < o.Unplaced || t.Frontage < o.Frontage || t.Effort < o.Effort || priced && t.Added < o.Added
	return better && !worse
}
