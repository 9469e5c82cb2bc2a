package placement

import (
	"maps"
	"slices"

	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/structure"
)

// Fit is what laying a loop, or the containers that a move means, on one level would
// come to.
type Fit struct {
	At Spot
	// Side and Lanes are how the loop would lie there, with what of it does already.
	Side  plant.FlowSide
	Lanes int
	// Here is true where all that is meant lies there already.
	Here bool
	// Effort is what the loop would have more than now, in kg per net hour, less
	// being below 0; a loop without a lane has none now.
	Effort float64
	// Broken are the rules that would be broken and are not now, or more than now:
	// none where the loop fits.
	Broken finding.List
}

// Fits tries a move, wherever it goes to, on each supply level of the loop's cell, after
// edits that were made before, and says where it fits, else why not, by rack and level.
// Each is really made and taken back. It is false where there is no such loop.
func Fits(in Input, s Settings, l Layout, done []Edit, edit MoveLoop) ([]Fit, bool) {
	k := edit.Loop
	done, cells := reaching(in, l, done, []Edit{edit})
	b := newBoard(in, s, l, cells)
	b.make(done)
	if b.loops[k] == nil {
		return nil, false
	}
	effort, places := b.effort(b.still.lanes[k]), b.places(k)
	whole := len(places) == 1 && b.missing(k) == 0
	here := func(p berthAt) bool {
		return p.names(edit.To) && (p.names(edit.From) || edit.From.Rack == "" && whole)
	}
	var list []Fit
	for _, r := range b.tiers {
		if r.rack.Cell != k.Cell {
			continue
		}
		edit.To = Spot{Rack: r.rack.Rack, Level: r.level.Level.Level}
		part := b.around(k, places, r.rack)
		broken := part.findings()
		back := part.remember()
		part.make([]Edit{edit})
		lanes := part.still.lanes[k]
		f := Fit{
			At: edit.To, Here: slices.ContainsFunc(places, here),
			Effort: b.effort(lanes) - effort, Broken: Worse(broken, part.findings()),
		}
		for _, l := range lanes.lanes {
			if l.Rack != edit.To.Rack || l.Level != edit.To.Level {
				continue
			}
			if f.Lanes++; f.Lanes == 1 {
				f.At.Lane, f.Side = l.Lane, l.Side
			}
		}
		list = append(list, f)
		back()
	}
	return list, true
}

// around is the part of the board that a move of a loop to a rack can change: that rack
// and those where the loop lies, and the loops there. What lies elsewhere too is seen in
// part only, alike before and after.
func (b *board) around(k demand.Key, places []berthAt, to *structure.Rack) *board {
	racks := map[plant.RackCode]bool{to.Rack: true}
	for _, p := range places {
		racks[p.tier.rack.Rack] = true
	}
	part := *b
	part.tiers, part.order = nil, []demand.Key{k}
	part.racks = slices.DeleteFunc(slices.Clone(b.racks), func(r structure.Rack) bool { return !racks[r.Rack] })
	for _, r := range b.tiers {
		if !racks[r.rack.Rack] {
			continue
		}
		part.tiers = append(part.tiers, r)
		for _, h := range r.berths {
			if !h.empty() && h.loop != k {
				part.order = append(part.order, h.loop)
			}
		}
	}
	slices.SortFunc(part.order, demand.Key.Compare)
	part.order = slices.Compact(part.order)
	part.make(nil)
	return &part
}

// findings are the edits that could not be done and the rules that are broken.
func (b *board) findings() finding.List { return append(slices.Clone(b.refused), b.broken()...) }

// remember returns what brings the board back to where it is.
func (b *board) remember() (back func()) {
	berths := make([][]berth, len(b.tiers))
	for i, r := range b.tiers {
		berths[i] = slices.Clone(r.berths)
	}
	wish, refused, still := maps.Clone(b.wish), slices.Clone(b.refused), b.still
	return func() {
		for i, r := range b.tiers {
			r.berths = berths[i]
		}
		b.wish, b.refused, b.still = wish, refused, still
	}
}

// Worse lists the findings of after that before does not have, or has less of: the
// same rule, broken by less.
func Worse(before, after finding.List) finding.List {
	type rule struct {
		code string
		of   finding.Subject
	}
	of := func(f finding.Finding) rule {
		r := rule{f.Code, f.Subject}
		if f.Code == CodeEditNoRoom {
			// It names the loop that lies outermost, which may change.
			r.of = finding.Subject{Rack: f.Subject.Rack, Level: f.Subject.Level}
		}
		return r
	}
	excess := func(f finding.Finding) float64 {
		if f.Measure == nil {
			return 0
		}
		return f.Measure.Value - f.Measure.Limit
	}
	was := map[rule]float64{}
	for _, f := range before {
		was[of(f)] = max(was[of(f)], excess(f))
	}
	var list finding.List
	for _, f := range after {
		if e, known := was[of(f)]; !known || excess(f) > e {
			list = append(list, f)
		}
	}
	list.Sort()
	return list
}
