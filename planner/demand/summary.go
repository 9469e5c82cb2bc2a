package demand

import (
	"maps"
	"math"
	"slices"
	"time"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Summary is what the history of a product or a part comes to.
type Summary struct {
	// Product or Part is empty.
	Product plant.ProductCode
	Part    plant.PartCode
	// Days are the dates that have rows, those with 0 units included; First and
	// Last are the outermost of them.
	Days        int
	First, Last time.Time
	// Mean is units a day. It is exact unless the days are fractions whose sum would
	// be a very long number.
	Mean units.Ratio
	// Variation is the sample's coefficient of variation, √(Σ(x−m)²/(n−1))/m; 0
	// where there is one day or the mean is 0.
	Variation float64
	Trend     Trend
}

// Summaries returns what the history of each product and each part that the
// plant knows comes to, products first, by code.
func Summaries(x *plant.Index) []Summary {
	h := newHistory(x)
	list := make([]Summary, 0, len(h.products)+len(h.parts))
	for _, k := range slices.Sorted(maps.Keys(h.products)) {
		list = append(list, Summary{Product: k}.of(h.products[k]).sloped(h.products[k].days))
	}
	for _, k := range slices.Sorted(maps.Keys(h.parts)) {
		list = append(list, Summary{Part: k}.of(h.parts[k]).sloped(h.parts[k].days))
	}
	return list
}

// of returns s with the figures of r, all but the slope of its trend.
func (s Summary) of(r record) Summary {
	s.Days, s.First, s.Last = len(r.days), r.days[0].date, r.days[len(r.days)-1].date
	s.Mean, s.Variation = r.mean, r.variation
	s.Trend = tested(r.days)
	return s
}

// sloped returns s with the slope of its trend.
func (s Summary) sloped(days []day) Summary {
	s.Trend.PerDay = slope(latest(days))
	return s
}

// center returns the mean and the sample's coefficient of variation of days.
func center(days []day) (mean units.Ratio, variation float64) {
	use := make([]units.Ratio, len(days))
	for i, d := range days {
		use[i] = d.units
	}
	mean = meanOf(use)
	m, squares := mean.Float64(), 0.0
	for _, u := range use {
		off := u.Float64() - m
		squares += off * off
	}
	if m == 0 || len(use) < 2 {
		return mean, 0
	}
	return mean, math.Sqrt(squares/float64(len(use)-1)) / m
}

// meanOf returns the mean of days, exact where short leaves their sum as it is.
// Most are whole, and those are added the quick way.
func meanOf(days []units.Ratio) units.Ratio {
	const most = 1_000_000_000
	var sum units.Ratio
	whole := int64(0)
	for _, d := range days {
		if n := d.Floor(); n > -most && n < most && d.Equal(units.Int(n)) {
			whole += n
			continue
		}
		sum = short(sum.Add(d))
	}
	return sum.Add(units.Int(whole)).Div(units.Int(int64(len(days))))
}

// sixDecimals returns v to six decimals, so that a figure computed in float64
// is the same on every machine from there on; 0 for what is no number, and what
// is larger than any coefficient of variation of a history is held at 10⁶.
func sixDecimals(v float64) units.Ratio {
	const million = 1_000_000
	if math.IsNaN(v) {
		return units.Ratio{}
	}
	return units.R(int64(math.Round(min(max(v, 0), million)*million)), million)
}

// name returns the product's or part's code and which of the two it is.
func (s Summary) name() string {
	if s.Product != "" {
		return "product " + string(s.Product)
	}
	return "part " + string(s.Part)
}

// unit is what the history counts.
func (s Summary) unit() string {
	if s.Product != "" {
		return "units"
	}
	return "pieces"
}
