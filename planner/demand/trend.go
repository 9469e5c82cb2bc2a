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

// trendOf tests days for a trend (Mann, Econometrica 13, 1945, 245-259; Kendall,
// Rank Correlation Methods, ch. 1, 3 and 4; slope by Theil, 1950, and Sen,
// J. of the American Statistical Association 63, 1968, 1379-1389; from memory).
// It takes no account of days that depend on the day before.
func trendOf(days []day) Trend {
	at, use := latest(days)
	t := Trend{Days: len(use), S: kendall(use), PerDay: slope(at, use)}
	t.Span = int(at[len(at)-1] - at[0])
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

// kendall returns S: the pairs of use that rise less those that fall.
func kendall(use []float64) int64 {
	s := int64(0)
	for i, a := range use {
		for _, b := range use[i+1:] {
			switch {
			case b > a:
				s++
			case b < a:
				s--
			}
		}
	}
	return s
}

// chance returns the two-sided chance of S by the normal approximation:
// variance [n(n−1)(2n+5) − Σ t(t−1)(2t+5)]/18 over the groups of t equal days,
// and S one nearer to 0 because it moves in steps of two.
func chance(s int64, use []float64) float64 {
	variance := steps(len(use))
	sorted := slices.Sorted(slices.Values(use))
	for i, j := 0, 0; i < len(sorted); i = j {
		for j < len(sorted) && sorted[j] == sorted[i] {
			j++
		}
		variance -= steps(j - i)
	}
	if variance <= 0 {
		return 1
	}
	z := max(0, math.Abs(float64(s))-1) / math.Sqrt(variance/18)
	return math.Erfc(z / math.Sqrt2)
}

func steps(n int) float64 { return float64(n) * float64(n-1) * float64(2*n+5) }

// slope returns the median of the slopes of all pairs of days, 0 for fewer than
// two days.
func slope(at, use []float64) float64 {
	slopes := make([]float64, 0, len(use)*(len(use)-1)/2)
	for i := range use {
		for j := i + 1; j < len(use); j++ {
			if step := at[j] - at[i]; step > 0 {
				slopes = append(slopes, (use[j]-use[i])/step)
			}
		}
	}
	return median(slopes)
}

// median returns the middle of list, the mean of the two middle ones where their
// number is even, and 0 of none. It changes the order of list.
func median(list []float64) float64 {
	if len(list) == 0 {
		return 0
	}
	k := len(list) / 2
	middle := nth(list, k)
	if len(list)%2 == 1 {
		return middle
	}
	return (slices.Max(list[:k]) + middle) / 2
}

// nth returns the k-th smallest of list, counted from 0, and leaves what is not
// above it on its left (Hoare, Communications of the ACM 4(7), 1961, 321).
func nth(list []float64, k int) float64 {
	for lo, hi := 0, len(list)-1; lo < hi; {
		pivot := list[lo+(hi-lo)/2]
		i, j := lo, hi
		for i <= j {
			for list[i] < pivot {
				i++
			}
			for list[j] > pivot {
				j--
			}
			if i <= j {
				list[i], list[j] = list[j], list[i]
				i, j = i+1, j-1
			}
		}
		switch {
		case k <= j:
			hi = j
		case k >= i:
			lo = i
		default:
			return list[k]
		}
	}
	return list[k]
}

// worth reports whether a trend is clear and large enough to be told.
func (t Trend) worth(mean float64) bool {
	return t.Days >= trendLeast && t.Chance < trendChance && math.Abs(t.PerDay)*float64(t.Span) > trendShare*mean
}

// trends notes products and parts whose history rises or falls.
func (b *builder) trends() finding.List {
	h := b.past()
	var list finding.List
	for _, k := range slices.Sorted(maps.Keys(h.products)) {
		list = append(list, tell(Summary{Product: k}.of(h.products[k]), finding.Finding{
			Origin: b.x.Plant.At(b.x.Products[k].Origin, "Units per day"), Subject: finding.Subject{Product: string(k)},
		})...)
	}
	for _, k := range slices.Sorted(maps.Keys(h.parts)) {
		list = append(list, tell(Summary{Part: k}.of(h.parts[k]), finding.Finding{
			Origin: b.x.Parts[k].Origin, Subject: finding.Subject{Part: string(k)},
		})...)
	}
	return list
}

// tell completes f with the trend of s, where it is worth a word.
func tell(s Summary, f finding.Finding) finding.List {
	mean := s.Mean.Float64()
	if !s.Trend.worth(mean) {
		return nil
	}
	way, monthly := "rises", s.Trend.PerDay*daysPerMonth
	if monthly < 0 {
		way = "falls"
	}
	change := math.Abs(s.Trend.PerDay) * float64(s.Trend.Span)
	f.Severity, f.Code = finding.Note, CodeHistoryTrend
	f.Summary = fmt.Sprintf("The history of %s %s by %.3g %s a day each month, around a mean of %.4g", s.name(), way, math.Abs(monthly), s.unit(), mean)
	f.Detail = fmt.Sprintf("Over its latest %d days that comes to %.3g %s a day, %.0f %% of the mean; days in random order would look so with a chance of %.2g. A mean and a variation hide it: the mean lags behind, and the variation holds the trend beside what really varies from day to day.", s.Trend.Days, change, s.unit(), 100*change/mean, s.Trend.Chance)
	f.Remedy = "Plan with what is asked for now, and leave out of the history what is no longer true."
	f.Measure = &finding.Measure{Value: change, Limit: trendShare * mean, Unit: s.unit() + " a day"}
	f.Source = "Mann 1945; Kendall, Rank Correlation Methods; Theil 1950; Sen 1968"
	return finding.List{f}
}
