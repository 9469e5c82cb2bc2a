package demand

import (
	"fmt"
	"slices"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
)

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
	switch l.Model {
	case plant.EmpiricalModel:
		b.empirical(l, rows, fallback)
	case plant.NegativeBinomialModel:
		b.dispersed(l)
	}
}

// dispersed falls back to Poisson use where l varies no more than that: the
// negative binomial distribution has a variance above its mean, and Poisson is
// its limit as the two come together.
func (b *builder) dispersed(l *Loop) {
	if l.Variance.Cmp(l.Rate) > 0 {
		return
	}
	l.Model = plant.PoissonModel
	b.findings = append(b.findings, finding.Finding{
		Severity: finding.Note, Code: CodeNotOverdispersed,
		Summary: fmt.Sprintf("Part %s at station %s of cell %s asks for the negative binomial model but varies no more than Poisson use; poisson is used instead", l.Part, l.Station, l.Cell),
		Detail:  fmt.Sprintf("Its variance is %.4g pieces² a net minute and its mean %.4g pieces. The negative binomial model is for use whose variance is above its mean.", l.Variance.Float64(), l.Rate.Float64()),
		Remedy:  "Give the products or the row the variation of their daily demand, or choose another demand model.",
		Origin:  l.Origin, Subject: l.subject(),
		Measure: &finding.Measure{Value: l.Variance.Float64(), Limit: l.Rate.Float64(), Unit: "pieces² per min"},
	})
}

// empirical gives l its days of history, or the fallback model and a finding
// where there are too few.
func (b *builder) empirical(l *Loop, rows []*plant.Usage, fallback plant.DemandModel) {
	days := b.past().days(b, l, rows)
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
	mean, rate := meanOf(l.Days), l.Rate.Mul(l.Day)
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
