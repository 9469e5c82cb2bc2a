package demand

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"lanewright/planner/finding"
)

const (
	// TrendDays is how many of the latest days of a history decide on its trend,
	// about two years of work: what lies before says little about today.
	TrendDays = 500
	// trendLeast is the fewest days for which the normal approximation of the test
	// is used (Gilbert, Statistical Methods for Environmental Pollution Monitoring,
	// 1987, ch. 16; from memory).
	trendLeast = 10
	// trendChance and trendShare are when a trend is worth a word: a chance below 1 %
	// that days in random order would look so, and a tenth of the mean over the span.
	trendChance, trendShare = 0.01, 0.10
	// daysPerMonth is 365.25/12.
	daysPerMonth = 30.4375
)

// Trend is what the latest TrendDays days of a history say of a rise or fall.
type Trend struct {
	// Days are those that were looked at; Span is the calendar days from the first
	// to the last of them.
	Days, Span int
	// S is the statistic of Mann and Kendall: pairs of days that rise less pairs
	// that fall. Chance is the two-sided chance of an S so far from 0 where the days
	// stand in random order; it is a good approximation from ten days on.
	S      int64
	Chance float64
	// PerDay is the slope of Theil and Sen, in units a day per calendar day.
	PerDay float64
}

// tested tests days for a trend (Mann, Econometrica 13, 1945, 245-259; Kendall,
// Rank Correlation Methods, ch. 1, 3 and 4; from memory). It takes no account of
// days that depend on the day before, and leaves the slope to slope.
func tested(days []day) Trend {
	at, use := latest(days)
	t := Trend{Days: len(use), Span: int(at[len(at)-1] - at[0]), S: kendall(use)}
	t.Chance = chance(t.S, use)
	return t
}

// latest returns the dates, in days, and the use of the latest days.
func latest(days []day) (at, use []float64) {
	days = days[max(0, len(days)-TrendDays):]
	at, use = make([]float64, len(days)), make([]float64, len(days))
	for i, d := range days {
		at[i] = math.Floor(float64(d.date.Unix()) / (24 * 60 * 60))
		use[i] = d.units.Float64()
	}
	return at, use
}

// clear reports whether the trend is hardly chance.
func (t Trend) clear() bool { return t.Days >= trendLeast && t.Chance < trendChance }

// change returns how much the use changed from the first to the last day.
func (t Trend) change() float64 { return math.Abs(t.PerDay) * float64(t.Span) }

// trends notes products and parts whose history rises or falls.
func (b *builder) trends() finding.List {
	h := b.past()
	var list finding.List
	for _, k := range slices.Sorted(maps.Keys(h.products)) {
		list = append(list, tell(Summary{Product: k}, h.products[k], finding.Finding{
			Origin: b.x.Plant.At(b.x.Products[k].Origin, "Units per day"), Subject: finding.Subject{Product: string(k)},
		})...)
	}
	for _, k := range slices.Sorted(maps.Keys(h.parts)) {
		list = append(list, tell(Summary{Part: k}, h.parts[k], finding.Finding{
			Origin: b.x.Parts[k].Origin, Subject: finding.Subject{Part: string(k)},
		})...)
	}
	return list
}

// tell completes f with the trend of r, the history of s, where it is clear and
// comes to more than a tenth of the mean.
func tell(s Summary, r record, f finding.Finding) finding.List {
	if s = s.of(r); !s.Trend.clear() {
		return nil
	}
	s = s.sloped(r.days)
	mean, change := s.Mean.Float64(), s.Trend.change()
	if change <= trendShare*mean {
		return nil
	}
	way, monthly := "rises", s.Trend.PerDay*daysPerMonth
	if monthly < 0 {
		way = "falls"
	}
	f.Severity, f.Code = finding.Note, CodeHistoryTrend
	f.Summary = fmt.Sprintf("The history of %s %s by %.3g %s a day each month, around a mean of %.4g", s.name(), way, math.Abs(monthly), s.unit(), mean)
	f.Detail = fmt.Sprintf("Over its latest %d days that comes to %.3g %s a day, %.0f %% of the mean; days in random order would look so with a chance of %.2g. A mean and a variation hide it: the mean lags behind, and the variation holds the trend beside what really varies from day to day.", s.Trend.Days, change, s.unit(), 100*change/mean, s.Trend.Chance)
	f.Remedy = "Plan with what is asked for now, and leave out of the history what is no longer true."
	f.Measure = &finding.Measure{Value: change, Limit: trendShare * mean, Unit: s.unit() + " a day"}
	f.Source = "Mann 1945; Kendall, Rank Correlation Methods; Theil 1950; Sen 1968"
	return finding.List{f}
}
