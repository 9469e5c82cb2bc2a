package demand

import (
	"cmp"
	"fmt"
	"slices"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Codes of the findings of this stage.
const (
	CodeNoTime        = "demand.no-working-time"
	CodeRowsDiffer    = "demand.rows-differ"
	CodeNoUse         = "demand.no-use"
	CodeShortHistory  = "demand.history-too-short"
	CodeHistoryDrifts = "demand.history-differs"
	CodeScrapOnRate   = "demand.scrap-on-direct-rate"
)

// Loops returns the loops of the plant, ordered by cell, station and part.
//
// The rate of a loop is Σ u·a·(1+s)/H over the rows of its products plus its
// direct rates, in pieces per net minute, with H the net minutes per day of
// its cell; the variance per net minute is Σ (cv·u·a·(1+s))²/H, products and
// direct rows independent, rows of one product added before they are squared
// (planning rules, section 1). Settings s stand in for the plant's own.
//
// A usage row that names an unknown part, container or product was reported
// when it was read and is passed over here.
func Loops(x *plant.Index, s plant.Settings) ([]Loop, finding.List) {
	b := builder{x: x, settings: s, days: map[plant.CellCode]units.Ratio{}, history: newHistory(x.Plant)}
	rows := map[Key][]*plant.Usage{}
	var keys []Key
	for i := range x.Plant.Usage {
		u := &x.Plant.Usage[i]
		if !b.known(u) {
			continue
		}
		k := Key{u.Part, u.Cell, u.Station}
		if rows[k] == nil {
			keys = append(keys, k)
		}
		rows[k] = append(rows[k], u)
	}
	slices.SortFunc(keys, Key.Compare)
	loops := make([]Loop, 0, len(keys))
	for _, k := range keys {
		if l, ok := b.loop(k, rows[k]); ok {
			loops = append(loops, l)
		}
	}
	return loops, b.findings
}

type builder struct {
	x        *plant.Index
	settings plant.Settings
	days     map[plant.CellCode]units.Ratio
	history  history
	findings finding.List
}

func (b *builder) known(u *plant.Usage) bool {
	part := b.x.Parts[u.Part]
	if part == nil || b.x.Containers[part.Container] == nil || part.Pack < 1 {
		return false
	}
	return u.Product == "" || b.x.Products[u.Product] != nil
}

// day returns the net minutes per day of cell, 0 with one finding where it
// works none.
func (b *builder) day(cell plant.CellCode) units.Ratio {
	if h, ok := b.days[cell]; ok {
		return h
	}
	h := NetDay(b.x.CellShifts(cell))
	b.days[cell] = h
	if h.IsZero() {
		var origin finding.Origin
		if c := b.x.Cells[cell]; c != nil {
			origin = c.Origin
		}
		b.findings = append(b.findings, finding.Finding{
			Severity: finding.Error, Code: CodeNoTime,
			Summary: fmt.Sprintf("Cell %s works no minute of the week, so its rates can not be computed", cell),
			Detail:  "A rate is pieces per net minute of the shifts the cell works. None of its shifts has a day and a minute that is worked.",
			Remedy:  "Give the cell a shift with days and net time in the Cells and Shifts sheets.",
			Origin:  origin, Subject: finding.Subject{Cell: string(cell)},
		})
	}
	return h
}

// amount is the daily use of one independent source, a product or one direct
// row, with its coefficient of variation.
type amount struct {
	daily, variation units.Ratio
}

func (b *builder) loop(k Key, rows []*plant.Usage) (Loop, bool) {
	h := b.day(k.Cell)
	if h.IsZero() {
		return Loop{}, false
	}
	slices.SortStableFunc(rows, compareRows)
	part := b.x.Parts[k.Part]
	l := Loop{Key: k, Container: part.Container, Pack: part.Pack, Day: h, Origin: rows[0].Origin}
	var independent []amount
	products := map[plant.ProductCode]int{}
	for _, u := range rows {
		daily := b.daily(u, h)
		b.scrap(&l, u)
		l.Rate = l.Rate.Add(daily.Div(h))
		l.Sources = append(l.Sources, Source{Product: u.Product, Rate: daily.Div(h), Origin: u.Origin})
		if at, seen := products[u.Product]; seen && u.Product != "" {
			independent[at].daily = independent[at].daily.Add(daily)
			continue
		}
		products[u.Product] = len(independent)
		independent = append(independent, amount{daily, b.variation(u)})
	}
	for _, a := range independent {
		sd := a.daily.Mul(a.variation)
		l.Variance = l.Variance.Add(sd.Mul(sd).Div(h))
	}
	b.ask(&l, rows)
	b.model(&l, rows)
	if l.Rate.IsZero() {
		b.findings = append(b.findings, finding.Finding{
			Severity: finding.Note, Code: CodeNoUse,
			Summary: fmt.Sprintf("Part %s is not used at station %s of cell %s at present", k.Part, k.Station, k.Cell),
			Detail:  "All rows of this point of use come to 0 pieces per day. It keeps the least loop of 2 containers.",
			Remedy:  "Remove the usage rows if the part has left the station, or check the units per day of its products.",
			Origin:  l.Origin, Subject: l.subject(),
		})
	}
	return l, true
}

// compareRows brings rows into an order that does not depend on the order of
// the sheet where it could matter to a result; rows that compare equal are
// interchangeable.
func compareRows(a, b *plant.Usage) int {
	return cmp.Or(
		cmp.Compare(a.Product, b.Product),
		cmp.Compare(a.Origin.File, b.Origin.File), cmp.Compare(a.Origin.Sheet, b.Origin.Sheet),
		cmp.Compare(a.Origin.Row, b.Origin.Row))
}

// daily returns the pieces that row u uses per working day of h net minutes. A
// direct rate is what is used, scrap included: the rule adds it as it stands.
func (b *builder) daily(u *plant.Usage, h units.Ratio) units.Ratio {
	if u.Product != "" {
		return b.x.Products[u.Product].UnitsPerDay.Mul(u.PerUnit).Mul(units.Int(1).Add(u.Scrap))
	}
	return u.PerHour.Mul(h).Div(units.Int(60)).Add(u.PerDay)
}

// scrap says of a direct row that its scrap is not added.
func (b *builder) scrap(l *Loop, u *plant.Usage) {
	if u.Product != "" || u.Scrap.IsZero() {
		return
	}
	b.findings = append(b.findings, finding.Finding{
		Severity: finding.Note, Code: CodeScrapOnRate,
		Summary: fmt.Sprintf("The scrap of %.4g %% is not added to the direct rate of part %s at station %s of cell %s", 100*u.Scrap.Float64(), u.Part, u.Station, u.Cell),
		Detail:  "Scrap is added to pieces per unit of a product. Pieces per hour or day are taken as what is really used, scrap included.",
		Remedy:  "Put the scrap into the rate, or leave the scrap empty in this row.",
		Origin:  u.Origin, Subject: l.subject(),
	})
}

func (b *builder) variation(u *plant.Usage) units.Ratio {
	if u.Product != "" {
		return b.x.Products[u.Product].Variation
	}
	return u.Variation
}

// ask settles what the rows of one loop ask for: each row counts with the
// plant's value where it gives none; then the shortest interval, the longest
// response, the highest service level, the largest safety and the largest
// fixed number of containers apply.
func (b *builder) ask(l *Loop, rows []*plant.Usage) {
	s := b.settings
	own := false
	for i, u := range rows {
		interval := cmp.Or(u.Interval, s.Interval)
		level := u.ServiceLevel
		if level.IsZero() {
			level = s.ServiceLevel
		}
		safety := s.Safety
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
		if interval != l.Interval || !level.Equal(l.ServiceLevel) || !safety.Equal(l.Safety) {
			b.differ(l, rows[0], u)
		}
		l.Interval, l.ServiceLevel, l.Safety = min(l.Interval, interval), l.ServiceLevel.Max(level), l.Safety.Max(safety)
	}
	if own {
		l.Response = max(l.Response, l.Interval)
	}
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

func (l Loop) subject() finding.Subject {
	return finding.Subject{Part: string(l.Part), Cell: string(l.Cell), Station: string(l.Station)}
}

// modelOrder ranks the models a row may name; where rows of one loop name
// different ones the first here applies.
var modelOrder = []plant.DemandModel{plant.EmpiricalModel, plant.NegativeBinomialModel, plant.PoissonModel, plant.NormalModel, plant.SteadyModel}

// model settles the loop's demand model: what its rows name, else steady when
// nothing varies and normal when something does.
func (b *builder) model(l *Loop, rows []*plant.Usage) {
	l.Model = plant.NormalModel
	if l.Variance.IsZero() {
		l.Model = plant.SteadyModel
	}
	fallback := l.Model
	for _, m := range modelOrder {
		if slices.ContainsFunc(rows, func(u *plant.Usage) bool { return u.Model == m }) {
			l.Model = m
			break
		}
	}
	if l.Model == plant.EmpiricalModel {
		b.empirical(l, rows, fallback)
	}
}

// empirical gives l its days of history, or the fallback model and a finding
// where there are too few.
func (b *builder) empirical(l *Loop, rows []*plant.Usage, fallback plant.DemandModel) {
	days := b.history.days(b, l, rows)
	if len(days) >= MinimumDays {
		l.Days = days
		b.drift(l)
		return
	}
	l.Model = fallback
	b.findings = append(b.findings, finding.Finding{
		Severity: finding.Warning, Code: CodeShortHistory,
		Summary: fmt.Sprintf("Part %s at station %s of cell %s asks for the empirical model but has %d days of history; %s is used instead", l.Part, l.Station, l.Cell, len(days), fallback),
		Detail:  fmt.Sprintf("The empirical model reads the use of at least %d working days that all products of the loop, or the part itself, have in the History sheet.", MinimumDays),
		Remedy:  "Add the missing days to the History sheet or choose another demand model.",
		Origin:  rows[0].Origin, Subject: l.subject(),
		Measure: &finding.Measure{Value: float64(len(days)), Limit: MinimumDays, Unit: "days"},
	})
}

// drift notes a history whose mean is a fifth or more away from the rate.
func (b *builder) drift(l *Loop) {
	var sum units.Ratio
	for _, d := range l.Days {
		sum = sum.Add(d)
	}
	mean, rate := sum.Div(units.Int(int64(len(l.Days)))), l.Rate.Mul(l.Day)
	if rate.IsZero() {
		return
	}
	off := mean.Div(rate).Float64() - 1
	if off > -0.2 && off < 0.2 {
		return
	}
	b.findings = append(b.findings, finding.Finding{
		Severity: finding.Warning, Code: CodeHistoryDrifts,
		Summary: fmt.Sprintf("The history of part %s at station %s has a mean of %.4g pieces a day, %+.0f %% against the %.4g that the products ask for", l.Part, l.Station, mean.Float64(), 100*off, rate.Float64()),
		Detail:  "The empirical model covers what the history shows; the rate of the plan comes from the Products and Usage sheets. A fifth or more between them means that one of the two is out of date.",
		Remedy:  "Update the units per day of the products, or the History sheet.",
		Origin:  l.Origin, Subject: l.subject(),
		Measure: &finding.Measure{Value: mean.Float64(), Limit: rate.Float64(), Unit: "pieces per day"},
	})
}
