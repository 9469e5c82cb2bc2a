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
	// Mean is units a day. It is exact where the days have at most nine decimals
	// and stay below 10⁹.
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
		list = append(list, Summary{Product: k}.of(h.products[k]))
	}
	for _, k := range slices.Sorted(maps.Keys(h.parts)) {
		list = append(list, Summary{Part: k}.of(h.parts[k]))
	}
	return list
}

// of returns s with the figures of days, one or more.
func (s Summary) of(days []day) Summary {
	s.Days, s.First, s.Last = len(days), days[0].date, days[len(days)-1].date
	s.Mean, s.Variation = center(days)
	s.Trend = trendOf(days)
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
