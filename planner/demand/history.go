package demand

import (
	"math"
	"slices"
	"time"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// MinimumDays is how many working days of history the empirical model needs,
// and how many a mean or a variation is taken from (workbook.md, History).
const MinimumDays = 20

// day is what was built or used on one date, all rows of that date added up.
type day struct {
	date  time.Time
	units units.Ratio
}

// record is the history of one product or part: its days by date, one or more,
// their mean and the sample's coefficient of variation.
type record struct {
	days      []day
	mean      units.Ratio
	variation float64
}

// history is what was built of each known product and used of each known part.
type history struct {
	products map[plant.ProductCode]record
	parts    map[plant.PartCode]record
	// planned is the daily use of a part over all its loops, to share its own
	// history among them; filled when first asked for.
	planned map[plant.PartCode]units.Ratio
}

func newHistory(x *plant.Index) *history {
	products, parts := map[plant.ProductCode][]day{}, map[plant.PartCode][]day{}
	for i := range x.Plant.History {
		r := &x.Plant.History[i]
		d := day{r.Date, r.Units}
		switch {
		case r.Part != "" && x.Parts[r.Part] != nil:
			parts[r.Part] = append(parts[r.Part], d)
		case r.Part == "" && x.Products[r.Product] != nil:
			products[r.Product] = append(products[r.Product], d)
		}
	}
	return &history{products: records(products), parts: records(parts)}
}

func records[K comparable](lists map[K][]day) map[K]record {
	m := make(map[K]record, len(lists))
	for k, list := range lists {
		r := record{days: inOrder(list)}
		r.mean, r.variation = center(r.days)
		m[k] = r
	}
	return m
}

// inOrder sorts list by date and adds up what stands on one date, small before
// large, so that the order of the sheet means nothing.
func inOrder(list []day) []day {
	slices.SortFunc(list, func(a, b day) int {
		if c := a.date.Compare(b.date); c != 0 {
			return c
		}
		return a.units.Cmp(b.units)
	})
	merged := list[:0]
	for _, d := range list {
		last := len(merged) - 1
		if last < 0 || !merged[last].date.Equal(d.date) {
			merged = append(merged, d)
			continue
		}
		merged[last].units = short(merged[last].units.Add(d.units))
	}
	return merged
}

// on returns what list has on date.
func on(list []day, date time.Time) (units.Ratio, bool) {
	i, ok := slices.BinarySearchFunc(list, date, func(d day, t time.Time) int { return d.date.Compare(t) })
	if !ok {
		return units.Ratio{}, false
	}
	return list[i].units, true
}

// short returns r where it is written with 64 characters at most, else the nearest
// float64: a sum of many days then stays a short number, whatever fractions a
// sheet holds. Sums of decimals stay exact.
func short(r units.Ratio) units.Ratio {
	const billion, longest = 1_000_000_000, 64
	if n := r.Mul(units.Int(billion)); n.Equal(units.Int(n.Floor())) || len(r.String()) <= longest {
		return r
	}
	if f := r.Float64(); !math.IsInf(f, 0) {
		return units.Float(f)
	}
	return r
}

// days returns the use of l on each day of history, by date. The part's own
// history comes first, shared among its loops by their rates; else the days
// that all products of the loop have in common, each times its pieces per
// unit and scrap, plus the direct rows at their mean.
func (h *history) days(b *builder, l *Loop, rows []*plant.Usage) []units.Ratio {
	if own := h.parts[l.Part].days; len(own) > 0 {
		total := b.scaled(l.Part, h.plan(b, l.Part))
		if total.IsZero() {
			return nil
		}
		share := l.Rate.Mul(l.Day).Div(total)
		days := make([]units.Ratio, len(own))
		for i, d := range own {
			days[i] = d.units.Mul(share)
		}
		return days
	}
	var base units.Ratio
	perUnit := map[plant.ProductCode]units.Ratio{}
	var products []plant.ProductCode
	for _, u := range rows {
		if u.Product == "" {
			base = base.Add(b.daily(u, l.Day))
			continue
		}
		if _, seen := perUnit[u.Product]; !seen {
			products = append(products, u.Product)
		}
		perUnit[u.Product] = perUnit[u.Product].Add(b.perUnit(u))
	}
	return h.inCommon(base, products, perUnit)
}

// inCommon returns base plus the pieces taken by products on each day that all
// of them have.
func (h *history) inCommon(base units.Ratio, products []plant.ProductCode, perUnit map[plant.ProductCode]units.Ratio) []units.Ratio {
	if len(products) == 0 {
		return nil
	}
	var days []units.Ratio
next:
	for _, d := range h.products[products[0]].days {
		sum := base.Add(d.units.Mul(perUnit[products[0]]))
		for _, p := range products[1:] {
			n, ok := on(h.products[p].days, d.date)
			if !ok {
				continue next
			}
			sum = sum.Add(n.Mul(perUnit[p]))
		}
		days = append(days, sum)
	}
	return days
}

// plan returns the daily use of part over all its loops, by its rows and the
// figures of their products.
func (h *history) plan(b *builder, part plant.PartCode) units.Ratio {
	if h.planned == nil {
		h.planned = map[plant.PartCode]units.Ratio{}
		for u := range b.usage() {
			if day := b.hours(u.Cell).day; !day.IsZero() {
				h.planned[u.Part] = plus(h.planned[u.Part], b.plan(u, day))
			}
		}
	}
	return h.planned[part]
}

// past returns the plant's history, read when it is first asked for.
func (b *builder) past() *history {
	if b.history == nil {
		b.history = newHistory(b.x)
	}
	return b.history
}

// noticed returns what is said once of the whole plant.
func (b *builder) noticed() finding.List {
	return append(b.levelsUnused(), b.trends()...)
}
