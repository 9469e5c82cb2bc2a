package demand

import (
	"cmp"
	"fmt"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// ask settles what the rows of one loop ask for: each row counts with the
// plant's value where it gives none; then the shortest interval, the longest
// response, the highest service level, the largest safety and the largest
// fixed number of containers apply.
func (b *builder) ask(l *Loop, rows []*plant.Usage) {
	s := b.settings
	own := false
	for i, u := range rows {
		interval := cmp.Or(u.Interval, s.Interval)
		level, safety := b.level(u), s.Safety
		if u.Safety != nil {
			safety = *u.Safety
		}
		l.Fixed = max(l.Fixed, u.Containers)
		response := cmp.Or(u.Response, s.Response)
		own = own || response == 0
		l.Response = max(l.Response, response)
		if i == 0 {
			l.Interval, l.ServiceLevel, l.Safety = interval, level, safety
			continue
		}
		if interval == l.Interval && same(level, l.ServiceLevel) && same(safety, l.Safety) {
			continue
		}
		b.differ(l, rows[0], u)
		l.Interval, l.ServiceLevel, l.Safety = min(l.Interval, interval), l.ServiceLevel.Max(level), l.Safety.Max(safety)
	}
	if own {
		l.Response = max(l.Response, l.Interval)
	}
	b.serve(l)
	b.longInterval(l)
}

// same reports whether a and b are one number; most often they are one value of
// the plant.
func same(a, b units.Ratio) bool { return a == b || a.Equal(b) }

// level returns the service level that row u asks for. Where the plant allows
// so many shortages a year no row has one of its own.
func (b *builder) level(u *plant.Usage) units.Ratio {
	if u.ServiceLevel.IsZero() || b.settings.Measure == plant.ServicePerYear {
		return b.settings.ServiceLevel
	}
	return u.ServiceLevel
}

func (b *builder) differ(l *Loop, first, other *plant.Usage) {
	b.findings = append(b.findings, finding.Finding{
		Severity: finding.Note, Code: CodeRowsDiffer,
		Summary: fmt.Sprintf("The rows of part %s at station %s of cell %s ask for different intervals, service levels or safety", l.Part, l.Station, l.Cell),
		Detail:  "Rows of one point of use are one loop. The shortest interval, the highest service level and the largest safety of its rows apply; a row that gives none counts with the plant's value.",
		Remedy:  "Write the same values in all rows of the point of use.",
		Origin:  other.Origin, Related: []finding.Origin{first.Origin}, Subject: l.subject(),
	})
}

// longInterval warns, once for a cell, where the run asks for an interval that is
// longer than any shift of the cell: the count of rounds starts anew in each
// shift (planning rules, section 6), so it never runs its length. Of intervals
// that stand in the sheets plant.Check has said so.
func (b *builder) longInterval(l *Loop) {
	shift := b.hours(l.Cell).shift
	ours := l.Interval == b.settings.Interval && l.Interval != b.x.Plant.Settings.Interval
	if !ours || l.Interval <= shift || !b.once(said{CodeLongInterval, l.Cell, l.Interval.String()}) {
		return
	}
	interval, net := units.Minutes(l.Interval).Float64(), units.Minutes(shift).Float64()
	b.findings = append(b.findings, finding.Finding{
		Severity: finding.Warning, Code: CodeLongInterval,
		Summary: fmt.Sprintf("The refill interval of %.6g net minutes in cell %s is longer than its longest shift, which works %.6g", interval, l.Cell, net),
		Detail:  "An interval is counted in net minutes, over as many shifts as it takes, and the loop is sized for it. Rounds are counted anew in each shift: there is one in a shift, and none in a shift too short for it, so they do not come as the loop was sized for.",
		Remedy:  fmt.Sprintf("Check the unit of the interval, or choose one of at most %.6g minutes.", net),
		Origin:  l.Origin, Subject: finding.Subject{Cell: string(l.Cell)},
		Measure: &finding.Measure{Value: interval, Limit: net, Unit: "min"},
	})
}
