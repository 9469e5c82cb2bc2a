package placement

import (
	"fmt"
	"slices"

	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// unpinned lists the pins that the layout does not keep.
func (b *board) unpinned() finding.List {
	var list finding.List
	for _, k := range b.order {
		for _, p := range b.pins[k] {
			if pinKept(p, b.still.lanes[k].lanes) {
				continue
			}
			to, first := Spot{p.Rack, p.Level, p.Lane}, b.still.lanes[k].lanes[0]
			f := finding.Finding{
				Severity: finding.Error, Code: CodeEditPin, Subject: subjectOf(k, to), Source: editSource, Origin: b.loops[k].Origin,
				Summary: fmt.Sprintf("Part %s at station %s is pinned to %s and lies on %s", k.Part, k.Station, to.text(), Spot{first.Rack, first.Level, first.Lane}.text()),
				Detail:  "A pinned loop lies where it is pinned or nowhere.",
				Remedy:  "Move it back, or take the pin off.",
			}
			if !p.Origin.IsZero() {
				f.Related = append(f.Related, p.Origin)
			}
			list = append(list, f)
		}
	}
	return list
}

// pinKept reports whether all of a loop's lanes are on the pinned rack and level,
// and one of them has the pinned number. A loop without a lane breaks no pin.
func pinKept(p plant.Pin, lanes []Lane) bool {
	for _, l := range lanes {
		if l.Rack != p.Rack || p.Level > 0 && l.Level != p.Level {
			return false
		}
	}
	return len(lanes) == 0 || p.Lane == 0 || slices.ContainsFunc(lanes, func(l Lane) bool { return l.Lane == p.Lane })
}

// overweight lists containers that an edit filled above their gross limit.
func (b *board) overweight() finding.List {
	var list finding.List
	for _, k := range b.order {
		l, box := b.loops[k], b.box(k)
		if !b.resized[k] || box.GrossLimit <= 0 || l.Gross <= box.GrossLimit {
			continue
		}
		f := heavy(CodeEditGrossLimit, Spot{}, l.Gross, box.GrossLimit)
		f.Subject = subjectOf(k, Spot{})
		f.Subject.Container = string(box.Container)
		f.Summary = fmt.Sprintf("Container %s with %s of part %s weighs %s, it may weigh %s", box.Container, count(l.Pack, "piece"), k.Part, l.Gross, box.GrossLimit)
		f.Remedy = fmt.Sprintf("Take %s or more out of it by a smaller pack.", l.Gross-box.GrossLimit)
		list = append(list, f)
	}
	return list
}

// lost lists loops that have more containers without a lane than before the edits,
// or any where an edit gave them another size.
func (b *board) lost() finding.List {
	var list finding.List
	for _, k := range b.order {
		if n := b.missing(k); n > b.unplaced[k].Containers || n > 0 && b.resized[k] {
			list = append(list, b.lostOne(k, n))
		}
	}
	return list
}

func (b *board) lostOne(k demand.Key, n int) finding.Finding {
	l := b.loops[k]
	f := finding.Finding{
		Severity: finding.Error, Code: CodeEditUnplaced, Subject: subjectOf(k, Spot{}), Source: editSource, Origin: l.Origin,
		Measure: &finding.Measure{Value: float64(l.Containers), Limit: float64(l.Containers - n), Unit: "containers"},
		Summary: fmt.Sprintf("Part %s at station %s: %s of %d without a lane", k.Part, k.Station, count(n, "container"), l.Containers),
		Detail:  fmt.Sprintf("The loop has %s; its lanes hold %d.", count(l.Containers, "container"), l.Containers-n),
		Remedy:  "Move the loop to where it has room: that takes along what has no lane.",
	}
	if places := b.places(k); len(places) > 0 {
		p := places[len(places)-1]
		y := b.of(p.tier, *p.berth())
		more := (n + y.capacity - 1) / y.capacity
		need := units.Length(more) * (y.width + b.in.Plant.GuideWidth)
		free := max(0, p.tier.usable-b.widthOf(p.tier, stripped(p.tier.berths)))
		at := Spot{Rack: p.tier.rack.Rack, Level: p.tier.level.Level.Level}
		f.Subject.Rack, f.Subject.Level = string(at.Rack), at.Level
		f.Detail += fmt.Sprintf(" On %s it would need %s more, %s with guides; %s are free there.", at.text(), count(more, "lane"), need, free)
	}
	return f
}

// laneless lists the loops that lack a lane. Of those that lacked as many or more
// before the reason of the layout stands.
func (b *board) laneless() []Unplaced {
	var list []Unplaced
	for _, k := range b.order {
		n := b.missing(k)
		was, known := b.unplaced[k]
		switch {
		case n <= 0:
		case known && n <= was.Containers && !b.resized[k]:
			was.Containers = n
			list = append(list, was)
		default:
			f := b.lostOne(k, n)
			list = append(list, Unplaced{Loop: k, Containers: n, Reason: f.Code, Detail: f.Detail})
		}
	}
	return list
}
