package planner

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
)

// intervalPasses bounds how often single cells are given a shorter interval after one
// was chosen for the plant.
const intervalPasses = 3

// CodeIntervalsChosen says which refill intervals were chosen.
const CodeIntervalsChosen = "intervals.chosen"

// paced is a plan made with a refill interval for each cell, for the loops whose
// rows give none. A shorter interval needs fewer containers, so shallower lanes, and
// more rounds.
type paced struct {
	used      []demand.Loop
	intervals map[plant.CellCode]time.Duration
	made
}

// worth is what such plans are compared by, in this order: racks without a round,
// containers without a lane, cost of added racks, handlers, metres an hour, containers.
type worth struct {
	unserved, unplaced  int
	added               float64
	handlers            int
	metres, inContainer float64
}

func (t paced) worth() worth {
	w := worth{handlers: t.routes.Bounds.Handlers, metres: routing.MetresPerHour(t.routes.Routes), unserved: len(t.routes.Unserved)}
	for _, b := range t.layout.Bounds {
		w.unplaced += b.Unplaced
		w.added += float64(b.AddedCost)
	}
	for _, l := range t.loops {
		w.inContainer += float64(l.Containers)
	}
	return w
}

func (a worth) compare(b worth) int {
	return cmp.Or(cmp.Compare(a.unserved, b.unserved), cmp.Compare(a.unplaced, b.unplaced), cmp.Compare(a.added, b.added),
		cmp.Compare(a.handlers, b.handlers), cmp.Compare(a.metres, b.metres), cmp.Compare(a.inContainer, b.inContainer))
}

// chooseIntervals tries each of the plant's intervals for all cells, then, at most
// intervalPasses times, the next shorter one for the cells that still lack lanes or
// buy racks. It keeps the best plan. Intervals that rows of the sheet Usage give stay
// as they are.
func (r *recipe) chooseIntervals(ctx context.Context, first paced) paced {
	best := first
	for _, choice := range r.settings.Plant.IntervalChoices {
		if choice != r.settings.Plant.Interval && ctx.Err() == nil {
			best = better(best, r.try(ctx, r.everywhere(choice)))
		}
	}
	for range intervalPasses {
		shorter, any := r.shorten(best)
		if !any || ctx.Err() != nil {
			break
		}
		next := better(best, r.try(ctx, shorter))
		if next.worth() == best.worth() {
			break
		}
		best = next
	}
	return best
}

// better returns the better of two plans, the first of equal ones.
func better(a, b paced) paced {
	if b.worth().compare(a.worth()) < 0 {
		return b
	}
	return a
}

// everywhere is one interval for all cells.
func (r *recipe) everywhere(interval time.Duration) map[plant.CellCode]time.Duration {
	all := map[plant.CellCode]time.Duration{}
	for _, c := range r.index.Plant.Cells {
		all[c.Cell] = interval
	}
	return all
}

// shorten gives the next shorter interval to the cells of a plan that lack lanes or
// have racks added.
func (r *recipe) shorten(t paced) (shorter map[plant.CellCode]time.Duration, any bool) {
	shorter = map[plant.CellCode]time.Duration{}
	for cell, interval := range t.intervals {
		shorter[cell] = interval
	}
	for _, b := range t.layout.Bounds {
		var next time.Duration
		for _, choice := range r.settings.Plant.IntervalChoices {
			if choice < t.intervals[b.Cell] {
				next = max(next, choice)
			}
		}
		if (b.Unplaced > 0 || b.AddedCost > 0) && next > 0 {
			shorter[b.Cell], any = next, true
		}
	}
	return shorter, any
}

// try makes a plan with an interval for each cell.
func (r *recipe) try(ctx context.Context, intervals map[plant.CellCode]time.Duration) paced {
	byInterval := map[time.Duration][]demand.Loop{}
	t := paced{intervals: intervals}
	for i := range r.loops(byInterval, r.settings.Plant.Interval) {
		cell := r.loops(byInterval, r.settings.Plant.Interval)[i].Cell
		t.used = append(t.used, r.loops(byInterval, intervals[cell])[i])
	}
	t.made = r.make(ctx, t.used)
	return t
}

// loops returns the loops as they are with a default interval; the same loops in the
// same order, whatever it is.
func (r *recipe) loops(known map[time.Duration][]demand.Loop, interval time.Duration) []demand.Loop {
	if known[interval] == nil {
		s := r.settings.Plant
		s.Interval = interval
		known[interval], _ = demand.Loops(r.index, s)
	}
	return known[interval]
}

// noteIntervals says which intervals were chosen, where they differ from the plant's.
func (r *recipe) noteIntervals(t paced) finding.List {
	cells := map[time.Duration][]string{}
	for cell, interval := range t.intervals {
		cells[interval] = append(cells[interval], string(cell))
	}
	delete(cells, r.settings.Plant.Interval)
	var said []string
	for interval, names := range cells {
		slices.Sort(names)
		text := fmt.Sprintf("%s for %d cells", wait(interval), len(names))
		if len(names) <= 6 {
			text = fmt.Sprintf("%s for %s", wait(interval), strings.Join(names, ", "))
		}
		said = append(said, text)
	}
	if len(said) == 0 {
		return nil
	}
	slices.Sort(said)
	w := t.worth()
	return finding.List{{
		Severity: finding.Note, Code: CodeIntervalsChosen,
		Summary: fmt.Sprintf("Refill intervals were chosen instead of %s: %s", wait(r.settings.Plant.Interval), strings.Join(said, "; ")),
		Detail: fmt.Sprintf("With them %s, %.0f containers are in the loops, and %s drive %.4g m an hour. Rows of the sheet Usage that give an interval kept it.",
			placedText(w), w.inContainer, counted(w.handlers, "handler"), w.metres),
		Remedy: "Set the plant's refill interval, or that of single rows, to keep an interval; leave choose_intervals off to keep all.",
	}}
}

func placedText(w worth) string {
	if w.unplaced == 0 {
		return "every container has a lane"
	}
	return counted(w.unplaced, "container") + " have no lane"
}
