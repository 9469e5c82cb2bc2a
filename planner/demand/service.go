package demand

import (
	"fmt"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// serve gives l its measure of service and, where the plant allows so many
// shortages a year, what that leaves for one cycle.
func (b *builder) serve(l *Loop) {
	l.Measure = plant.ServicePerCycle
	switch b.settings.Measure {
	case plant.ServiceFillRate:
		l.Measure = plant.ServiceFillRate
	case plant.ServicePerYear:
		b.perYear(l)
	}
}

// perYear sets the service level of one cycle to 1 − n·R/Y: n shortages allowed
// in a year over the Y/R cycles it has, Y the net minutes of the cell's weeks
// (the number of shortages is the chance of one in a cycle times the number of
// cycles; common practice, no source). A level below a half, a shortage in every
// other cycle, is held at a half.
func (b *builder) perYear(l *Loop) {
	if l.Interval <= 0 {
		return
	}
	allowed := orElse(b.settings.ShortagesPerYear, 1)
	year := b.hours(l.Cell).week.Mul(orElse(b.settings.WeeksPerYear, 48))
	risk, half := allowed.Mul(units.Minutes(l.Interval)).Div(year), units.R(1, 2)
	if risk.Cmp(half) > 0 {
		b.clipped(l, year.Div(units.Minutes(l.Interval)), allowed)
		risk = half
	}
	l.ServiceLevel = units.Int(1).Sub(risk)
}

// orElse returns r where it is above 0, else n.
func orElse(r units.Ratio, n int64) units.Ratio {
	if r.Sign() > 0 {
		return r
	}
	return units.Int(n)
}

// clipped says, once for a cell and interval, that the shortages allowed are
// more than one in two cycles.
func (b *builder) clipped(l *Loop, cycles, allowed units.Ratio) {
	if !b.once(said{CodeYearClipped, l.Cell, l.Interval.String()}) {
		return
	}
	b.findings = append(b.findings, finding.Finding{
		Severity: finding.Note, Code: CodeYearClipped,
		Summary: fmt.Sprintf("%.6g shortages a year are more than one in every other of the %.6g cycles of %.6g min that cell %s has in a year", allowed.Float64(), cycles.Float64(), l.Interval.Minutes(), l.Cell),
		Detail:  "The chance that a cycle passes with no shortage is one less shortages over cycles of a year. It is held at 50 %, where a loop covers about its mean use: with less it would be planned to run dry.",
		Remedy:  "Allow fewer shortages a year, or check the interval and the weeks worked in a year.",
		Origin:  l.Origin, Subject: finding.Subject{Cell: string(l.Cell)},
		Measure: &finding.Measure{Value: allowed.Float64(), Limit: cycles.Float64() / 2, Unit: "shortages a year"},
	})
}

// levelsUnused notes once for the plant that rows give service levels where the
// plant counts shortages a year.
func (b *builder) levelsUnused() finding.List {
	if b.settings.Measure != plant.ServicePerYear {
		return nil
	}
	count := 0
	var first *plant.Usage
	for u := range b.usage() {
		if u.ServiceLevel.IsZero() {
			continue
		}
		count++
		if first == nil || compareOrigins(u.Origin, first.Origin) < 0 {
			first = u
		}
	}
	if count == 0 {
		return nil
	}
	return finding.List{{
		Severity: finding.Note, Code: CodeLevelUnused,
		Summary: fmt.Sprintf("Usage rows that give a service level of their own: %d; it does not count while the plant allows so many shortages a year", count),
		Detail:  "With this measure the level of each loop follows from the shortages allowed in a year and the cycles it has in one.",
		Remedy:  "Clear the service levels of the rows, or measure service by the refill cycle.",
		Origin:  b.x.Plant.At(first.Origin, "Service level"),
	}}
}
