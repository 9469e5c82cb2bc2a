package sizing

import (
	"fmt"

	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Codes of the findings of this stage.
const (
	CodeFixedBelow = "sizing.fixed-below-rule"
	CodeFixedAbove = "sizing.fixed-above-rule"
	CodeHuge       = "sizing.too-many-containers"
)

// MostContainers is the largest loop the planner sizes: a wrong unit in a
// sheet must not ask placement for millions of lanes.
const MostContainers = 100_000

// Size sizes every loop by section 2 of the planning rules:
//
//	cards k₁ = ⌈D/q⌉, containers k = max(2, k₁ + 1),
//
// D the pieces used over R + L that the demand model covers. k₁ is the
// textbook number of kanban, D·L·(1 + α)/C (Monden, Toyota Production System;
// Sugimori, Kusunoki, Cho, Uchikawa, Int. J. of Production Research 15(6),
// 1977, 553-564); the container more is the one being emptied, which a lane
// must hold too.
func Size(x *plant.Index, loops []demand.Loop) ([]Loop, finding.List) {
	var findings finding.List
	sized := make([]Loop, len(loops))
	for i, l := range loops {
		sized[i] = one(x, l)
		findings = append(findings, judge(sized[i])...)
	}
	return sized, findings
}

func one(x *plant.Index, l demand.Loop) Loop {
	window := l.Window()
	part := x.Parts[l.Part]
	s := Loop{
		Loop: l, Mean: l.Rate.Mul(window), Sized: l.Model,
		Gross: x.Containers[l.Container].Gross(*part),
	}
	s.Covered = Covered(l)
	s.Cards = Cards(s.Covered, l.Pack)
	s.Rule = ruled(s.Covered, l.Pack)
	s.Containers = s.Rule
	if l.Fixed > 0 {
		s.Containers, s.Sized = min(l.Fixed, MostContainers), plant.FixedModel
	}
	return s
}

// ruled is the number of containers by the rule, 2 to MostContainers.
func ruled(covered units.Ratio, pack int64) int {
	return min(max(2, Cards(covered, pack)+1), MostContainers)
}

// Cards returns ⌈covered/pack⌉, the textbook number of kanban, and
// MostContainers where there are more.
func Cards(covered units.Ratio, pack int64) int {
	return int(min(covered.Div(units.Int(pack)).Ceil(), MostContainers))
}

func judge(l Loop) finding.List {
	f := finding.Finding{
		Origin:  l.Origin,
		Subject: finding.Subject{Part: string(l.Part), Cell: string(l.Cell), Station: string(l.Station), Container: string(l.Container)},
		Measure: &finding.Measure{Value: float64(l.Containers), Limit: float64(l.Rule), Unit: "containers"},
		Source:  "planning rules, section 2",
	}
	point := fmt.Sprintf("Part %s at station %s of cell %s", l.Part, l.Station, l.Cell)
	switch {
	case l.Cards >= MostContainers || l.Fixed > MostContainers:
		f.Severity, f.Code = finding.Error, CodeHuge
		f.Summary = fmt.Sprintf("%s would need %d containers or more", point, MostContainers)
		f.Detail = fmt.Sprintf("It uses %.6g pieces per net hour in packs of %d over %.6g minutes. No rack holds such a loop; a unit or a decimal mark is likely wrong.", l.Rate.Float64()*60, l.Pack, l.Window().Float64())
		f.Remedy = "Check units per day, quantity per unit, standard pack and refill interval of this row."
	case l.Fixed > 0 && l.Fixed < l.Rule:
		f.Severity, f.Code = finding.Warning, CodeFixedBelow
		f.Summary = fmt.Sprintf("%s is fixed at %s; the rule asks for %d", point, containers(l.Fixed), l.Rule)
		f.Detail = fmt.Sprintf("Over refill interval and response, %.6g min, it must cover %.6g pieces in packs of %d, and hold the container in use besides. With fewer it may run dry.", l.Window().Float64(), l.Covered.Float64(), l.Pack)
		f.Remedy = fmt.Sprintf("Raise Containers to %d, shorten the interval, or leave the cell empty so that the rule decides.", l.Rule)
	case l.Fixed > 2*l.Rule:
		f.Severity, f.Code = finding.Note, CodeFixedAbove
		f.Summary = fmt.Sprintf("%s is fixed at %s; %d are enough by the rule", point, containers(l.Fixed), l.Rule)
		f.Detail = "More than twice the containers the rule asks for take lanes that other parts may need."
		f.Remedy = fmt.Sprintf("Lower Containers towards %d, or leave the cell empty so that the rule decides.", l.Rule)
	default:
		return nil
	}
	return finding.List{f}
}

func containers(n int) string {
	if n == 1 {
		return "1 container"
	}
	return fmt.Sprintf("%d containers", n)
}
