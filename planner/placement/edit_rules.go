package placement

import (
	"fmt"
	"slices"

	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Codes of rules that a layout made by hand breaks, and of edits that could not
// be done.
const (
	CodeEditRefused    = "edit.not-possible"
	CodeEditNotServed  = "edit.rack-does-not-serve"
	CodeEditWalk       = "edit.beyond-walk-limit"
	CodeEditTooTall    = "edit.too-tall"
	CodeEditTooLong    = "edit.too-long"
	CodeEditSide       = "edit.flow-side-not-allowed"
	CodeEditNarrow     = "edit.lane-too-narrow"
	CodeEditNoRoom     = "edit.level-over-full"
	CodeEditLevelMass  = "edit.level-overloaded"
	CodeEditRackMass   = "edit.rack-overloaded"
	CodeEditApart      = "edit.not-kept-apart"
	CodeEditClosed     = "edit.lane-closed"
	CodeEditPin        = "edit.pin-not-kept"
	CodeEditUnplaced   = "edit.no-lane"
	CodeEditGrossLimit = "edit.container-too-heavy"
)

const editSource = "planning rules, section 5"

// knows reports whether the plan has a loop, and refuses the edit where not.
func (b *board) knows(k demand.Key) bool {
	if b.loops[k] == nil {
		b.refuse(k, Spot{}, "the plan has no such loop")
		return false
	}
	return true
}

// refuse notes that an edit could not be done and why; it then changes nothing.
func (b *board) refuse(k demand.Key, at Spot, why string) {
	what := "The edit"
	if k.Part != "" {
		what = fmt.Sprintf("The edit of part %s at station %s", k.Part, k.Station)
	}
	if at.Rack != "" {
		what += " on " + at.text()
	}
	b.refused = append(b.refused, finding.Finding{
		Severity: finding.Error, Code: CodeEditRefused, Subject: subjectOf(k, at),
		Summary: what + " was left out: " + why,
		Detail:  "Edits are made one after the other; the others were made without it.",
		Remedy:  "Correct the edit, or take it back.",
	})
}

// text names a place as people do.
func (s Spot) text() string {
	switch {
	case s.Level == 0:
		return fmt.Sprintf("rack %s", s.Rack)
	case s.Lane == 0:
		return fmt.Sprintf("rack %s, level %d", s.Rack, s.Level)
	}
	return fmt.Sprintf("rack %s, level %d, lane %d", s.Rack, s.Level, s.Lane)
}

func subjectOf(k demand.Key, at Spot) finding.Subject {
	return finding.Subject{Part: string(k.Part), Cell: string(k.Cell), Station: string(k.Station), Rack: string(at.Rack), Level: at.Level}
}

// broken lists the hard rules that the layout breaks.
func (b *board) broken() finding.List {
	var list finding.List
	masses := map[plant.RackCode]units.Mass{}
	for _, r := range b.tiers {
		d := b.still.drawn[r]
		seen := map[demand.Key]bool{}
		sum := units.Mass(0)
		for _, lane := range d.lanes {
			if lane.Empty() {
				continue
			}
			sum += units.Mass(lane.Containers) * b.loops[lane.Loop].Gross
			if !seen[lane.Loop] {
				seen[lane.Loop] = true
				list = append(list, b.misfits(lane.Loop, r, b.of(r, r.berths[r.find(lane.Loop)]))...)
			}
		}
		masses[r.rack.Rack] += sum
		list = append(list, b.overFull(r, d)...)
		list = append(list, b.overloaded(r, sum)...)
		list = append(list, b.sideBySide(r, d)...)
	}
	list = append(list, b.rackMasses(masses)...)
	list = append(list, b.unpinned()...)
	list = append(list, b.overweight()...)
	return append(list, b.lost()...)
}

// misfits lists what keeps a loop from lying on a level in that way, whatever
// else lies there.
func (b *board) misfits(k demand.Key, r *tier, y lain) finding.List {
	var list finding.List
	at := Spot{Rack: r.rack.Rack, Level: r.level.Level.Level}
	say := func(code string, value, limit units.Length, what, remedy string) {
		f := finding.Finding{
			Severity: finding.Error, Code: code, Subject: subjectOf(k, at), Source: editSource,
			Summary: fmt.Sprintf("Part %s at station %s on %s: %s", k.Part, k.Station, at.text(), what),
			Detail:  "The loop was laid there by hand. " + sentenceOf(what) + ".", Remedy: remedy, Origin: b.loops[k].Origin,
		}
		if value > 0 {
			f.Measure = &finding.Measure{Value: value.MM(), Limit: limit.MM(), Unit: "mm"}
		}
		list = append(list, f)
	}
	box := b.box(k)
	if _, ok := slices.BinarySearch(r.rack.Stations, k.Station); !ok || r.rack.Cell != k.Cell {
		say(CodeEditNotServed, 0, 0, fmt.Sprintf("the rack does not serve station %s of cell %s", k.Station, k.Cell), "Choose a rack that serves the station, or add the station to the rack.")
	} else if station := b.seen(k).station; !near(station, r.rack) {
		far := distance(station, r.rack)
		what := fmt.Sprintf("the rack stands %.2f m from the station, its walk limit is %.2f m", far, station.WalkLimit.Metres())
		say(CodeEditWalk, 0, 0, what, fmt.Sprintf("Choose a rack nearer by %.2f m, or raise the walk limit.", far-station.WalkLimit.Metres()))
		list[len(list)-1].Measure = &finding.Measure{Value: far, Limit: station.WalkLimit.Metres(), Unit: "m"}
	}
	if need, has := box.Height+b.in.Plant.HandClearance, r.level.ClearHeight; need > has {
		say(CodeEditTooTall, need, has, fmt.Sprintf("with hand clearance it needs %s of height, the level has %s", need, has), fmt.Sprintf("Raise the clear height by %s, or use a lower container.", need-has))
	}
	if y.along > r.level.LaneLength {
		say(CodeEditTooLong, y.along, r.level.LaneLength, fmt.Sprintf("its container is %s along the lane, the lanes have %s", y.along, r.level.LaneLength), fmt.Sprintf("Use lanes longer by %s, the other flow side or another container.", y.along-r.level.LaneLength))
	}
	if box.FlowSide != plant.EitherAlong && box.FlowSide != "" && box.FlowSide != y.side {
		say(CodeEditSide, 0, 0, fmt.Sprintf("container %s may flow with its %s along the lane only", box.Container, box.FlowSide), "Take the other flow side, or allow both on the sheet Containers.")
	}
	return list
}

// sentenceOf begins a text with a capital.
func sentenceOf(text string) string {
	if text == "" || text[0] < 'a' || text[0] > 'z' {
		return text
	}
	return string(text[0]-'a'+'A') + text[1:]
}

// overFull compares the lanes in use with the level's width, and fixed ones with
// what lies in them.
func (b *board) overFull(r *tier, d drawn) finding.List {
	var list finding.List
	need, last := units.Length(0), demand.Key{}
	for i, lane := range d.lanes {
		if lane.Empty() {
			continue
		}
		if right := lane.Offset + lane.Width; right > need {
			need, last = right, lane.Loop
		}
		if y := b.of(r, r.berths[r.find(lane.Loop)]); r.fixed() && i < len(r.level.Fixed) && lane.Width < y.width {
			at := Spot{r.rack.Rack, r.level.Level.Level, lane.Lane}
			list = append(list, finding.Finding{
				Severity: finding.Error, Code: CodeEditNarrow, Subject: subjectOf(lane.Loop, at), Source: editSource, Origin: b.loops[lane.Loop].Origin,
				Measure: &finding.Measure{Value: y.width.MM(), Limit: lane.Width.MM(), Unit: "mm"},
				Summary: fmt.Sprintf("Part %s at station %s needs a lane of %s, %s has %s", lane.Loop.Part, lane.Loop.Station, y.width, at.text(), lane.Width),
				Detail:  fmt.Sprintf("The guides of the level can not be moved; the lane is too narrow by %s.", y.width-lane.Width),
				Remedy:  "Choose a wider lane, the other flow side or another container.",
			})
		}
	}
	if lanes := len(r.level.Fixed); r.fixed() && len(d.lanes) > lanes {
		return append(list, b.beyondFixed(r, d.lanes[lanes:]))
	}
	if need <= r.usable {
		return list
	}
	at := Spot{Rack: r.rack.Rack, Level: r.level.Level.Level}
	has, limit := r.usable, ""
	if r.usable < r.level.UsableWidth {
		limit = fmt.Sprintf(" of %s, for the plan opens the rack and leaves room to grow", r.level.UsableWidth)
	}
	return append(list, finding.Finding{
		Severity: finding.Error, Code: CodeEditNoRoom, Subject: subjectOf(last, at), Source: editSource,
		Measure: &finding.Measure{Value: need.MM(), Limit: has.MM(), Unit: "mm"},
		Summary: fmt.Sprintf("The lanes on %s reach to %s, the level may be filled to %s", at.text(), need, has),
		Detail:  fmt.Sprintf("%s are missing; part %s lies outermost. The level may be filled to %s%s.", need-has, last.Part, has, limit),
		Remedy:  fmt.Sprintf("Take lanes of %s or more off the level.", need-has),
	})
}

// beyondFixed reports lanes beyond the last of a level with fixed lanes.
func (b *board) beyondFixed(r *tier, beyond []Lane) finding.Finding {
	at, last := Spot{Rack: r.rack.Rack, Level: r.level.Level.Level}, beyond[len(beyond)-1]
	has := len(r.level.Fixed)
	return finding.Finding{
		Severity: finding.Error, Code: CodeEditNoRoom, Subject: subjectOf(last.Loop, at), Source: editSource,
		Measure: &finding.Measure{Value: float64(last.Lane), Limit: float64(has), Unit: "lanes"},
		Summary: fmt.Sprintf("Part %s at station %s finds its lanes on %s taken or too few", last.Loop.Part, last.Loop.Station, at.text()),
		Detail:  fmt.Sprintf("The level has %s whose guides can not be moved; what found no free ones side by side is shown beyond the last, to number %d.", count(has, "lane"), last.Lane),
		Remedy:  "Choose free lanes side by side, or move what lies in them first.",
	}
}

// overloaded compares what lies on a level with its mass limit.
func (b *board) overloaded(r *tier, sum units.Mass) finding.List {
	if r.level.MassLimit <= 0 || sum <= r.level.MassLimit {
		return nil
	}
	at := Spot{Rack: r.rack.Rack, Level: r.level.Level.Level}
	return finding.List{heavy(CodeEditLevelMass, at, sum, r.level.MassLimit)}
}

func heavy(code string, at Spot, sum, limit units.Mass) finding.Finding {
	return finding.Finding{
		Severity: finding.Error, Code: code, Subject: subjectOf(demand.Key{}, at), Source: editSource,
		Measure: &finding.Measure{Value: sum.KG(), Limit: limit.KG(), Unit: "kg"},
		Summary: fmt.Sprintf("What lies on %s weighs %s, it carries %s", at.text(), sum, limit),
		Detail:  fmt.Sprintf("Full containers are heavier than it may carry by %s.", sum-limit),
		Remedy:  fmt.Sprintf("Take %s or more off it.", sum-limit),
	}
}

// rackMasses compares what lies on each rack with what it carries beside itself.
func (b *board) rackMasses(masses map[plant.RackCode]units.Mass) finding.List {
	var list finding.List
	for i := range b.racks {
		r := &b.racks[i]
		if limit := r.Type.MassLimit - r.Type.OwnMass; r.Type.MassLimit > 0 && masses[r.Rack] > limit && masses[r.Rack] > 0 {
			list = append(list, heavy(CodeEditRackMass, Spot{Rack: r.Rack}, masses[r.Rack], limit))
		}
	}
	return list
}

// sideBySide finds neighbours that must be kept apart, and closed lanes in use.
func (b *board) sideBySide(r *tier, d drawn) finding.List {
	var list finding.List
	at := Spot{Rack: r.rack.Rack, Level: r.level.Level.Level}
	for i, lane := range d.lanes {
		if lane.Empty() {
			continue
		}
		k := lane.Loop
		if at.Lane = lane.Lane; slices.Contains(d.closed, lane.Lane) {
			list = append(list, finding.Finding{
				Severity: finding.Error, Code: CodeEditClosed, Subject: subjectOf(k, at), Origin: b.loops[k].Origin,
				Summary: fmt.Sprintf("Part %s at station %s lies on %s, which is closed", k.Part, k.Station, at.text()),
				Detail:  "A closed lane is for no loop. What lay there was not moved.",
				Remedy:  "Move the loop, or leave the lane open.",
			})
		}
		if i == 0 || d.lanes[i-1].Empty() {
			continue
		}
		o := d.lanes[i-1].Loop
		x, y := b.in.Index.Parts[k.Part], b.in.Index.Parts[o.Part]
		if x == nil || y == nil || !apart(*x, *y) {
			continue
		}
		list = append(list, finding.Finding{
			Severity: finding.Error, Code: CodeEditApart, Subject: subjectOf(k, at), Source: editSource, Origin: b.loops[k].Origin,
			Summary: fmt.Sprintf("Parts %s and %s lie side by side on %s", o.Part, k.Part, at.text()),
			Detail:  "Parts of one keep-apart group and look-alikes may not be neighbours: a hand that reaches one lane too far takes the wrong part.",
			Remedy:  "Put another part or an empty lane between them.",
		})
	}
	return list
}
