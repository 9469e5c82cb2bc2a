package placement

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"lanewright/planner/plant"
	"lanewright/planner/sizing"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// candidate is a change to be tried: what it is, the facts and layout it is tried
// on, and the edits that come before the loop is laid.
type candidate struct {
	change Change
	on     asker
	edits  []Edit
	// light leaves out what would move other loops.
	light bool
}

// candidates lists what may be tried of one kind, the smallest first.
func (a asker) candidates(b *board, kind ChangeKind) []candidate {
	switch kind {
	case ByUnpinning:
		if len(b.pins[a.loop]) == 0 {
			return nil
		}
		return []candidate{{change: Change{Kind: kind}, on: a, edits: []Edit{UnpinLoop{a.loop}}}}
	case ByFlowSide:
		return a.turned(b)
	case ByInterval:
		return a.oftener(b)
	case ByContainer:
		return a.repacked(b)
	case ByClearHeight, ByLaneLength:
		return a.raised(b, kind, "")
	case ByRack:
		return a.oneMore()
	}
	return []candidate{{change: Change{Kind: ByMoves}, on: a}}
}

// turned allows both flow sides of a container that allows one.
func (a asker) turned(b *board) []candidate {
	box := b.box(a.loop)
	c := Change{Kind: ByFlowSide}
	switch box.FlowSide {
	case plant.LengthAlong:
		c.Side = plant.WidthAlong
	case plant.WidthAlong:
		c.Side = plant.LengthAlong
	default:
		return nil
	}
	box.FlowSide = plant.EitherAlong
	x := *a.in.Index
	x.Containers = maps.Clone(a.in.Index.Containers)
	x.Containers[box.Container] = &box
	a.in.Index = &x
	return []candidate{{change: c, on: a}}
}

// oftener lists the plant's intervals shorter than the loop's, the longest first.
func (a asker) oftener(b *board) []candidate {
	var list []candidate
	for _, d := range slices.Backward(slices.Sorted(slices.Values(a.in.Plant.IntervalChoices))) {
		if d > 0 && d < b.loops[a.loop].Interval {
			list = append(list, candidate{change: Change{Kind: ByInterval, Interval: d}, on: a, edits: []Edit{ChangeInterval{a.loop, d}}})
		}
	}
	return list
}

// repacked lists the plant's other containers, by code, that hold a piece by their
// outside volume and are, full, no heavier than may be moved by hand or than the
// loop's is.
func (a asker) repacked(b *board) []candidate {
	var list []candidate
	l := b.loops[a.loop]
	if a.in.Index.Parts[l.Part] == nil {
		return nil
	}
	heaviest := max(l.Gross, sizing.DefaultLimits(plant.Level{}).HandMass)
	for code, box := range a.in.Index.Containers {
		part := *a.in.Index.Parts[l.Part]
		part.Pack = packIn(part, b.box(a.loop), *box, l.Pack)
		if code == l.Container || byVolume(b.box(a.loop), *box, l.Pack) < 1 || box.Gross(part) > heaviest || box.GrossLimit > 0 && box.Gross(part) > box.GrossLimit {
			continue
		}
		c := Change{Kind: ByContainer, Container: code, Pack: part.Pack}
		list = append(list, candidate{change: c, on: a, edits: []Edit{ChangeContainer{a.loop, code, part.Pack}}})
	}
	slices.SortFunc(list, func(x, y candidate) int { return cmp.Compare(x.change.Container, y.change.Container) })
	return list
}

// raised lists levels of a rack, or of all the cell's where it names none, that are
// too low, or whose lanes are too short, by what the loop lacks there.
func (a asker) raised(b *board, kind ChangeKind, rack plant.RackCode) []candidate {
	var list []candidate
	for _, r := range b.tiers {
		by := a.lacks(b, r, kind)
		if by <= 0 || rack != "" && rack != r.rack.Rack {
			continue
		}
		c := candidate{change: Change{Kind: kind, Level: Spot{Rack: r.rack.Rack, Level: r.level.Level.Level}, By: by}, on: a}
		c.on.layout.Racks = raise(a.layout.Racks, c.change)
		list = append(list, c)
	}
	slices.SortStableFunc(list, func(x, y candidate) int { return cmp.Compare(x.change.By, y.change.By) })
	return list[:min(len(list), mostLevels)]
}

// lacks is by how much a level is too low, or its lanes too short, for the loop; 0
// where it is not, or where it is not that alone.
func (a asker) lacks(b *board, r *tier, kind ChangeKind) units.Length {
	least := units.Length(0)
	for _, side := range b.box(a.loop).Sides() {
		y := b.lie(a.loop, 1, r, side)
		along, _ := b.box(a.loop).Along(side)
		if y.side != side {
			y.side, y.along = side, along
		}
		found := b.misfits(a.loop, r, y)
		if len(found) != 1 {
			continue
		}
		by := units.Length(0)
		switch {
		case kind == ByClearHeight && found[0].Code == CodeEditTooTall:
			by = b.box(a.loop).Height + b.in.Plant.HandClearance - r.level.ClearHeight
		case kind == ByLaneLength && found[0].Code == CodeEditTooLong:
			by = along - r.level.LaneLength
		}
		if by > 0 && (least == 0 || by < least) {
			least = by
		}
	}
	return least
}

// raise returns the racks with one level changed as c says.
func raise(racks []structure.Rack, c Change) []structure.Rack {
	racks = slices.Clone(racks)
	for i := range racks {
		if racks[i].Rack != c.Level.Rack {
			continue
		}
		racks[i].Levels = slices.Clone(racks[i].Levels)
		for n := range racks[i].Levels {
			l := &racks[i].Levels[n]
			switch {
			case l.Level.Level != c.Level.Level:
			case c.Kind == ByClearHeight:
				l.ClearHeight += c.By
			default:
				l.LaneLength += c.By
			}
		}
	}
	return racks
}

// oneMore lists one rack more of each type that the cell allows, the cheapest first.
func (a asker) oneMore() []candidate {
	var list []candidate
	cell := a.in.Index.Cells[a.loop.Cell]
	for i := range a.in.Index.Plant.RackTypes {
		t := &a.in.Index.Plant.RackTypes[i]
		if a.in.Index.RackTypes[t.RackType] != t || cell != nil && len(cell.RackTypes) > 0 && !slices.Contains(cell.RackTypes, t.RackType) {
			continue
		}
		c := candidate{change: Change{Kind: ByRack, RackType: t.RackType, Width: t.Width, Beyond: a.beyond(t.Width), Cost: costOf(a.in.Index, t)}, on: a, light: true}
		c.on.layout.Racks = append(slices.Clone(a.layout.Racks), structure.Propose(a.in.Index, a.loop.Cell, t, a.newCode()))
		list = append(list, c)
	}
	slices.SortStableFunc(list, func(x, y candidate) int {
		return cmp.Or(cmp.Compare(x.change.Beyond, y.change.Beyond), cmp.Compare(x.change.Cost, y.change.Cost), cmp.Compare(x.change.Width, y.change.Width), cmp.Compare(x.change.RackType, y.change.RackType))
	})
	return list
}

// newCode is a rack code that nothing has.
func (a asker) newCode() plant.RackCode {
	names := taken(a.layout.Racks)
	for n := 1; ; n++ {
		if code := fmt.Sprintf("%s-N%d", a.loop.Cell, n); !names[strings.ToLower(code)] {
			return plant.RackCode(code)
		}
	}
}

// beyond is what the cell's frontage lacks for one more rack of that width.
func (a asker) beyond(width units.Length) units.Length {
	cell := a.in.Index.Cells[a.loop.Cell]
	if cell == nil || cell.Frontage <= 0 {
		return 0
	}
	sum := width
	for i := range a.layout.Racks {
		if a.layout.Racks[i].Cell == a.loop.Cell {
			sum += a.layout.Racks[i].Type.Width
		}
	}
	return max(0, sum-cell.Frontage)
}
