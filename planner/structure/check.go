package structure

import (
	"fmt"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Codes of findings about the geometry of racks.
const (
	CodeSlopeLow  = "structure.slope-low"
	CodeSlopeHigh = "structure.slope-high"
	CodeTall      = "structure.tall-for-its-base"
	CodeOwnMass   = "structure.own-mass-over-limit"
)

// Slopes of lanes in thousandths of the lane length: under the first a
// container may not start, over the second (5°) it may run away. The evidence
// is thin (practice of makers, no standard), so the plant's own trials decide.
const (
	leastSlope = 30
	mostSlope  = 88
)

// mostSlender is the height of a rack over its least base width above which
// its stability needs a look. Common practice, no source.
const mostSlender = 4

const slopeSource = "thin evidence; plant inputs decide"

// Check screens the geometry of every rack type: slopes of lanes, slenderness
// and own mass. It is a screening only; a licensed engineer, the makers' load
// tables and local code decide.
func Check(x *plant.Index) finding.List {
	var list finding.List
	for i := range x.Plant.RackTypes {
		t := &x.Plant.RackTypes[i]
		list = append(list, stands(x.Plant, t)...)
		for _, l := range t.Levels {
			list = append(list, slope(x.Plant, t, l)...)
		}
	}
	return list
}

// slope compares |drop| / lane length with both limits, in whole numbers.
func slope(p *plant.Plant, t *plant.RackType, l plant.Level) finding.List {
	if l.LaneLength <= 0 {
		return nil
	}
	drop := l.Drop
	if drop < 0 {
		drop = -drop
	}
	share := units.R(int64(drop), int64(l.LaneLength)).Mul(units.Int(1000))
	f := finding.Finding{
		Severity: finding.Note, Origin: p.At(l.Origin, "Drop"), Source: slopeSource,
		Subject: finding.Subject{RackType: string(t.RackType), Level: l.Level},
	}
	percent := share.Float64() / 10
	switch {
	case share.Cmp(units.Int(leastSlope)) < 0:
		f.Code = CodeSlopeLow
		f.Measure = &finding.Measure{Value: percent, Limit: leastSlope / 10., Unit: "%"}
		f.Summary = fmt.Sprintf("Level %d of rack type %s slopes %.3g %%, less than 3 %%", l.Level, t.RackType, percent)
		f.Detail = fmt.Sprintf("The lanes drop %s over %s. On less than 3 %% a container may not start to roll by itself.", drop, l.LaneLength)
		f.Remedy = fmt.Sprintf("Try the containers on the lane, or raise the upper edge by %s.", shown(up(l.LaneLength*leastSlope/1000-drop, units.Millimetre/10)))
	case share.Cmp(units.Int(mostSlope)) > 0:
		f.Code = CodeSlopeHigh
		f.Measure = &finding.Measure{Value: percent, Limit: mostSlope / 10., Unit: "%"}
		f.Summary = fmt.Sprintf("Level %d of rack type %s slopes %.3g %%, more than 8.8 %%", l.Level, t.RackType, percent)
		f.Detail = fmt.Sprintf("The lanes drop %s over %s. On more than 8.8 %% (5°) a container may run away and strike the stop.", drop, l.LaneLength)
		f.Remedy = fmt.Sprintf("Try the heaviest container on the lane, lower the upper edge by %s, or fit brakes.", shown(up(drop-l.LaneLength*mostSlope/1000, units.Millimetre/10)))
	default:
		return nil
	}
	return finding.List{f}
}

// stands screens a rack type as a whole.
func stands(p *plant.Plant, t *plant.RackType) finding.List {
	var list finding.List
	subject := finding.Subject{RackType: string(t.RackType)}
	if base := min(t.Width, t.Depth); base > 0 && t.Height/mostSlender >= base && t.Height > mostSlender*base {
		list = append(list, finding.Finding{
			Severity: finding.Note, Code: CodeTall, Origin: p.At(t.Origin, "Height"), Subject: subject,
			Summary: fmt.Sprintf("Rack type %s is %s high on a base of %s", t.RackType, t.Height, base),
			Detail:  "A rack more than four times as high as its least base width may tip over when it is pushed or loaded on one side.",
			Remedy:  "Fix it to the floor or to its neighbour, or widen the base; a licensed engineer decides.",
			Measure: &finding.Measure{Value: float64(t.Height) / float64(base), Limit: mostSlender, Unit: "times the base"},
			Source:  "common practice, no source; screening only",
		})
	}
	if t.MassLimit > 0 && t.OwnMass >= t.MassLimit {
		list = append(list, finding.Finding{
			Severity: finding.Warning, Code: CodeOwnMass, Origin: p.At(t.Origin, "Mass limit"), Subject: subject,
			Summary: fmt.Sprintf("Rack type %s weighs %s itself, its mass limit is %s", t.RackType, t.OwnMass, t.MassLimit),
			Detail:  "The limit holds for the loads and the rack's own mass together, so nothing may lie on a rack of this type.",
			Remedy:  "Correct the mass limit or the own mass, and check their units.",
			Measure: &finding.Measure{Value: t.OwnMass.KG(), Limit: t.MassLimit.KG(), Unit: "kg"},
		})
	}
	return list
}
