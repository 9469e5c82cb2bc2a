package structure

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Codes of findings about a frame with its lanes.
const (
	CodeNoPassage  = "structure.container-does-not-pass"
	CodeTubeInLane = "structure.tube-in-lane"
	CodeHand       = "structure.no-room-for-hand"
	CodeReach      = "structure.out-of-reach"
	CodeLevelLoad  = "structure.level-overloaded"
	CodeUpright    = "structure.upright-overloaded"
	CodeSupport    = "structure.support-overloaded"
	CodeTips       = "structure.tips-over"
)

// screening stands behind each limit of strength.
const screening = "screening only; a licensed engineer, the makers' load tables and local code decide"

// judge turns what was computed into findings.
type judge struct {
	f     *Frame
	l     Limits
	found finding.List
}

func (g *judge) add(f finding.Finding) {
	f.Origin = g.f.Type.Origin
	if f.Subject.Level > 0 {
		f.Origin = g.f.level(f.Subject.Level).Origin
	}
	g.found = append(g.found, f)
}

// at names a level of the rack type in a sentence.
func (g *judge) at(d *Deck) string {
	return fmt.Sprintf("Level %d of rack type %s", d.Level, g.f.Type.RackType)
}

func (g *judge) subject(d *Deck, b Box) finding.Subject {
	return finding.Subject{RackType: string(g.f.Type.RackType), Level: d.Level, Container: string(b.Container)}
}

// passes judges the highest and the longest container planned on a level; where
// none is planned, one as high as the type's clear height leaves room for.
func (g *judge) passes(d *Deck) {
	high, long := tallest(*d)
	severity := finding.Error
	if high.IsZero() {
		severity = finding.Warning
		high = Box{Height: g.f.level(d.Level).ClearHeight - g.l.Hand}
	}
	name := fmt.Sprintf("container %s, %s high,", high.Container, high.Height)
	if high.Container == "" {
		name = fmt.Sprintf("a container %s high, which its clear height leaves room for,", high.Height)
	}
	switch {
	case d.Clear > 0 && high.Height > d.Clear:
		g.add(finding.Finding{
			Severity: severity, Code: CodeNoPassage, Subject: g.subject(d, high),
			Summary: fmt.Sprintf("%s: %s does not pass under what is above: %s are free", g.at(d), name, shown(d.Clear)),
			Detail:  "The free height is measured square to the lane, over its whole length, from the rollers to the lowest tube above; where two levels slope different ways it is least at one end.",
			Remedy:  fmt.Sprintf("Raise what is above by %s, lower this level, slope the two alike, or use a container at most %s high.", shown(high.Height-d.Clear), shown(d.Clear)),
			Measure: compare(high.Height, d.Clear),
		})
	case d.PickClear > 0 && !long.IsZero() && high.Height+g.l.Hand > d.PickClear:
		g.add(finding.Finding{
			Severity: finding.Warning, Code: CodeHand, Subject: g.subject(d, high),
			Summary: fmt.Sprintf("%s: over %s a hand has %s", g.at(d), name, shown(d.PickClear-high.Height)),
			Detail:  fmt.Sprintf("At the pick edge %s are free up to the tube above. The plant wants %s over a container for a hand.", shown(d.PickClear), g.l.Hand),
			Remedy:  fmt.Sprintf("Raise what is above by %s, or use a lower container.", shown(high.Height+g.l.Hand-d.PickClear)),
			Measure: compare(d.PickClear-high.Height, g.l.Hand), Source: "the plant's setting",
		})
	}
	g.reaches(d, long)
	g.clearOfTubes(d)
}

// tallest are the highest and the longest box planned on d.
func tallest(d Deck) (high, long Box) {
	for _, l := range d.Lanes {
		if l.Box.Height > high.Height {
			high = l.Box
		}
		if l.Box.Flow > long.Flow {
			long = l.Box
		}
	}
	return high, long
}

// reaches judges how far in a hand must reach.
func (g *judge) reaches(d *Deck, long Box) {
	far := (d.Front + long.Flow).MM()
	if long.IsZero() || far <= g.l.Reach {
		return
	}
	g.add(finding.Finding{
		Severity: finding.Note, Code: CodeReach, Subject: g.subject(d, long),
		Summary: fmt.Sprintf("%s: the far wall of container %s is %.0f mm behind the rack's front", g.at(d), long.Container, far),
		Detail:  fmt.Sprintf("A hand reaches in over the front edge about %.0f mm without the body bending forward.", g.l.Reach),
		Remedy:  "Turn the container so that its shorter side runs along the lane, or use a shorter one.",
		Measure: &finding.Measure{Value: far, Limit: g.l.Reach, Unit: "mm"}, Source: "common practice, no source",
	})
}

// clearOfTubes finds the deepest tube of another level, or brace, among the
// tracks and tubes of d.
func (g *judge) clearOfTubes(d *Deck) {
	track, cross := g.f.first(Track, d.Level), g.f.first(CrossTube, d.Level)
	if track == nil || cross == nil {
		return
	}
	deepest := 0.0
	for _, b := range g.f.bars() {
		deepest = max(deepest, b.sunk(*d, track.Part.Height+cross.Part.Height))
	}
	if deepest < 1 {
		return
	}
	g.add(finding.Finding{
		Severity: finding.Warning, Code: CodeTubeInLane, Subject: g.subject(d, Box{}),
		Summary: fmt.Sprintf("%s: a tube below stands %s deep in its own", g.at(d), shown(units.Length(deepest))),
		Detail:  "A cross tube of the level below, or a brace, stands where this level's tracks and cross tubes lie.",
		Remedy:  fmt.Sprintf("Raise the level by at least %s.", shown(units.Length(deepest))),
		Measure: compare(units.Length(deepest), 0),
	})
}

// shown rounds a length to tenths of a millimetre for a sentence.
func shown(l units.Length) units.Length {
	const tenth = units.Millimetre / 10
	return nearestStep(l, tenth)
}

// slope judges a level as built where its holes changed it; Check judges the
// type's own.
func (g *judge) slope(d *Deck) {
	t := g.f.level(d.Level)
	if t.Drop == d.Drop && t.LaneLength == d.LaneLength {
		return
	}
	t.Drop, t.LaneLength = d.Drop, d.LaneLength
	g.found = append(g.found, slope(&plant.Plant{}, g.f.Type, t)...)
}

// strong reports the member of a level that is used most, where that is too
// much.
func (g *judge) strong(d *Deck, uses []Use) {
	i := slices.IndexFunc(uses, func(u Use) bool { return u.Level == d.Level })
	if i < 0 || uses[i].Share <= 1 {
		return
	}
	u := uses[i]
	load := 0.0
	for _, c := range g.f.carries(d) {
		load += kilograms(c.newtons)
	}
	g.add(finding.Finding{
		Severity: finding.Warning, Code: CodeLevelLoad, Subject: g.subject(d, Box{}),
		Summary: fmt.Sprintf("%s carries %.0f kg when full; its %s %s reaches %s", g.at(d), load, u.Role, u.Mark, u.against()),
		Detail:  fmt.Sprintf("The %s of the %s governs: %.0f %% of its limit, %s.", u.By, u.Role, 100*u.Share, g.limit(u)),
		Remedy:  fmt.Sprintf("Put at most %.0f kg on the level, %s.", math.Floor(load/u.Share), u.stronger()),
		Measure: u.measure(), Source: screening,
	})
}

// against words a use's value and limit.
func (u Use) against() string {
	return strings.TrimSpace(fmt.Sprintf("%.3g %s", u.Value, u.Unit)) + ", the limit is " + strings.TrimSpace(fmt.Sprintf("%.3g %s", u.Limit, u.Unit))
}

func (u Use) measure() *finding.Measure {
	return &finding.Measure{Value: u.Value, Limit: u.Limit, Unit: u.Unit}
}

// limit says where a limit comes from.
func (g *judge) limit(u Use) string {
	switch u.By {
	case Bending:
		return fmt.Sprintf("%.2g of the yield stress", g.l.StressShare)
	case Deflection:
		return fmt.Sprintf("its span over %.0f", g.l.SpanOver)
	case Buckling:
		return fmt.Sprintf("the stress at which it buckles over %.2f", g.l.ColumnSafety)
	case Slenderness:
		return fmt.Sprintf("%.2g times its free length over its radius of gyration", g.l.ColumnLength)
	}
	return "that of its maker"
}

// stronger says what would make the member hold.
func (u Use) stronger() string {
	switch {
	case u.By == Deflection:
		return fmt.Sprintf("take a tube at least %.3g times as stiff, or %s", math.Ceil(100*u.Share)/100, u.shorter())
	case u.By == Bending:
		return fmt.Sprintf("take a tube with a section modulus at least %.3g times as large, or %s", math.Ceil(100*u.Share)/100, u.shorter())
	case u.Role == Track:
		return "take rollers that carry more, or a smaller roller pitch"
	}
	return "take a part that carries more"
}

// shorter says how the span becomes shorter.
func (u Use) shorter() string {
	if u.Role == Rail {
		return "set uprights between its ends"
	}
	return "make the rack narrower"
}

// uprights reports the upright and the foot or caster that are used most.
func (g *judge) uprights(uses []Use) {
	subject := finding.Subject{RackType: string(g.f.Type.RackType)}
	for _, u := range uses {
		if u.Role != Upright || u.By == MakersLimit {
			continue
		}
		if u.Share > 1 {
			g.add(finding.Finding{
				Severity: finding.Warning, Code: CodeUpright, Subject: subject,
				Summary: fmt.Sprintf("Upright %s of rack type %s carries %.0f kg; its %s reaches %s", u.Mark, g.f.Type.RackType, u.Load, u.By, u.against()),
				Detail:  fmt.Sprintf("It is %.0f %% of its limit, %s (AISC 360 E3 and ANSI MH16.1, from memory). Its longest stretch without a tube that ties it counts.", 100*u.Share, g.limit(u)),
				Remedy:  "Tie the uprights half-way up that stretch, carry less, or take a wider tube.",
				Measure: u.measure(), Source: screening,
			})
		}
		break
	}
	i := slices.IndexFunc(uses, func(u Use) bool { return u.Role == Upright && u.By == MakersLimit })
	if i < 0 || uses[i].Share <= 1 {
		return
	}
	u := uses[i]
	part := g.f.Supports[0].Part
	g.add(finding.Finding{
		Severity: finding.Warning, Code: CodeSupport, Subject: subject,
		Summary: fmt.Sprintf("The %s under upright %s of rack type %s carries %.0f kg, its maker allows %.0f kg", part.Kind, u.Mark, g.f.Type.RackType, u.Load, u.Limit),
		Detail:  "The load is that of full lanes and the upright's share of the rack's own mass.",
		Remedy:  fmt.Sprintf("Take a %s for at least %.0f kg, or carry less.", part.Kind, math.Ceil(u.Load)),
		Measure: u.measure(), Source: screening,
	})
}

// stands reports the edge over which the rack falls most easily: a note where
// the push alone does not tip it.
func (g *judge) stands(s Screening) {
	if len(s.Tips) == 0 {
		return
	}
	tip := s.Tips[0]
	pushed := slices.MinFunc(s.Tips, func(a, b Tip) int { return more(Use{Share: b.Push}, Use{Share: a.Push}) })
	f := finding.Finding{Severity: finding.Warning, Code: CodeTips, Subject: finding.Subject{RackType: string(g.f.Type.RackType)}, Source: "common practice, no source; screening only"}
	switch {
	case tip.Angle < g.l.TipAngle:
		f.Summary = fmt.Sprintf("Rack type %s falls over its %s when it leans by %.1f°", g.f.Type.RackType, tip.Edge, max(tip.Angle, 0))
		f.Detail = fmt.Sprintf("That is with the containers that make it least firm, mostly those on the top levels; it should take %.0f°.", g.l.TipAngle)
		f.Measure = &finding.Measure{Value: tip.Angle, Limit: g.l.TipAngle, Unit: "°"}
	case pushed.Push < g.l.PushSafety:
		if pushed.Push >= 1 {
			f.Severity = finding.Note
		}
		f.Summary = fmt.Sprintf("Rack type %s is held over its %s only %.2g times as firmly as a push of %.0f N lifts it", g.f.Type.RackType, pushed.Edge, max(pushed.Push, 0), g.l.Push)
		f.Detail = fmt.Sprintf("The push is %.0f mm over the floor, with the containers that make it least firm; it should be held %.2g times.", min(g.l.PushHeight, g.f.Height.MM()), g.l.PushSafety)
		f.Measure = &finding.Measure{Value: pushed.Push, Limit: g.l.PushSafety, Unit: "times"}
	default:
		return
	}
	f.Remedy = "Anchor the rack to the floor or brace it to its neighbour, set it on a wider base, or keep heavy containers on the low levels."
	g.add(f)
}
