package demand

import (
	"slices"
	"time"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// MinimumDays is how many working days of history the empirical model needs
// (workbook.md, History).
const MinimumDays = 20

// history is the use or build of each day, by product and by part.
type history struct {
	products map[plant.ProductCode]map[time.Time]units.Ratio
	parts    map[plant.PartCode]map[time.Time]units.Ratio
	// partRates is the daily use of a part over all its loops, to share its
	// own history among them; filled when first asked for.
	partRates map[plant.PartCode]units.Ratio
}

func newHistory(p *plant.Plant) history {
	h := history{products: map[plant.ProductCode]map[time.Time]units.Ratio{}, parts: map[plant.PartCode]map[time.Time]units.Ratio{}}
	for _, r := range p.History {
		if r.Part != "" {
			addDay(h.parts, r.Part, r)
		} else {
			addDay(h.products, r.Product, r)
		}
	}
	return h
}

func addDay[K comparable](m map[K]map[time.Time]units.Ratio, k K, r plant.History) {
	if m[k] == nil {
		m[k] = map[time.Time]units.Ratio{}
	}
	m[k][r.Date] = m[k][r.Date].Add(r.Units)
}

// days returns the use of l on each day of history, by date. The part's own
// history comes first, shared among its loops by their rates; else the days
// that all products of the loop have in common, each times its pieces per
// unit and scrap, plus the direct rows at their mean.
func (h *history) days(b *builder, l *Loop, rows []*plant.Usage) []units.Ratio {
	if own := h.parts[l.Part]; len(own) > 0 {
		total := h.rate(b, l.Part)
		if total.IsZero() {
			return nil
		}
		share := l.Rate.Mul(l.Day).Div(total)
		return inOrder(own, func(_ time.Time, n units.Ratio) (units.Ratio, bool) { return n.Mul(share), true })
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
		perUnit[u.Product] = perUnit[u.Product].Add(u.PerUnit.Mul(units.Int(1).Add(u.Scrap)))
	}
	if len(products) == 0 {
		return nil
	}
	return inOrder(h.products[products[0]], func(date time.Time, n units.Ratio) (units.Ratio, bool) {
		sum := base.Add(n.Mul(perUnit[products[0]]))
		for _, p := range products[1:] {
			n, ok := h.products[p][date]
			if !ok {
				return sum, false
			}
			sum = sum.Add(n.Mul(perUnit[p]))
		}
		return sum, true
	})
}

// rate returns the daily use of part over all its loops.
func (h *history) rate(b *builder, part plant.PartCode) units.Ratio {
	if h.partRates == nil {
		h.partRates = map[plant.PartCode]units.Ratio{}
		for i := range b.x.Plant.Usage {
			u := &b.x.Plant.Usage[i]
			if !b.known(u) {
				continue
			}
			if day := b.day(u.Cell); !day.IsZero() {
				h.partRates[u.Part] = h.partRates[u.Part].Add(b.daily(u, day))
			}
		}
	}
	return h.partRates[part]
}

func inOrder(m map[time.Time]units.Ratio, use func(time.Time, units.Ratio) (units.Ratio, bool)) []units.Ratio {
	dates := make([]time.Time, 0, len(m))
	for d := range m {
		dates = append(dates, d)
	}
	slices.SortFunc(dates, time.Time.Compare)
	var days []units.Ratio
	for _, d := range dates {
		if n, ok := use(d, m[d]); ok {
			days = append(days, n)
		}
	}
	return days
}
