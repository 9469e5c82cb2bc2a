package demand

import (
	"fmt"
	"maps"
	"slices"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// figures are the daily demand of a product as they count, and whether they
// were taken from its history.
type figures struct {
	mean, variation           units.Ratio
	meanTaken, variationTaken bool
}

// share is what the history of a part makes of its rows: where meanTaken is set
// each of them uses factor times what it plans; where variationTaken is set
// those that together names vary as one, by variation.
type share struct {
	factor, variation         units.Ratio
	meanTaken, variationTaken bool
}

// taken is what stands in for figures of the sheets.
type taken struct {
	products map[plant.ProductCode]figures
	parts    map[plant.PartCode]share
}

// together reports whether u varies as the history of its part does: every row
// of a part whose mean was taken too, else a direct row that gives no variation.
func (t taken) together(u *plant.Usage) bool {
	s := t.parts[u.Part]
	return s.meanTaken || s.variationTaken && u.Product == "" && u.Variation.IsZero()
}

// product returns the figures of a known product.
func (b *builder) product(code plant.ProductCode) figures {
	if f, ok := b.taken.products[code]; ok {
		return f
	}
	p := b.x.Products[code]
	return figures{mean: p.UnitsPerDay, variation: p.Variation}
}

// take lets the history decide as the settings say: with HistoryVariation the
// variation of products, and of parts with direct rows, that give none; with
// HistoryAll mean and variation of every product and part. Fewer than
// MinimumDays days decide nothing.
func (b *builder) take() {
	all := b.settings.History == plant.HistoryAll
	if !all && b.settings.History != plant.HistoryVariation {
		return
	}
	h := b.past()
	b.taken = taken{map[plant.ProductCode]figures{}, map[plant.PartCode]share{}}
	for _, k := range slices.Sorted(maps.Keys(h.products)) {
		if all || b.x.Products[k].Variation.IsZero() {
			b.takeProduct(k, h.products[k], all)
		}
	}
	bare := b.bare()
	for _, k := range slices.Sorted(maps.Keys(h.parts)) {
		if all || bare[k] {
			b.takePart(k, h.parts[k], all)
		}
	}
}

// bare are the parts that have a direct row without a variation.
func (b *builder) bare() map[plant.PartCode]bool {
	parts := map[plant.PartCode]bool{}
	for u := range b.usage() {
		if u.Product == "" && u.Variation.IsZero() {
			parts[u.Part] = true
		}
	}
	return parts
}

func (b *builder) takeProduct(k plant.ProductCode, r record, all bool) {
	p := b.x.Products[k]
	about := historic{Summary{Product: k, Days: len(r.days)}, b.x.Plant.At(p.Origin, "Units per day"), finding.Subject{Product: string(k)}}
	if len(r.days) < MinimumDays {
		b.tooShort(about)
		return
	}
	f := figures{mean: p.UnitsPerDay, variation: sixDecimals(r.variation), variationTaken: true}
	what := fmt.Sprintf("variation %s instead of %s", f.variation, p.Variation)
	if all {
		f.mean, f.meanTaken = r.mean, true
		what = about.instead(r.mean, p.UnitsPerDay) + what
	}
	b.taken.products[k] = f
	if !f.mean.Equal(p.UnitsPerDay) || !f.variation.Equal(p.Variation) {
		b.tookFrom(about, what)
	}
}

func (b *builder) takePart(k plant.PartCode, r record, all bool) {
	about := historic{Summary{Part: k, Days: len(r.days)}, b.x.Parts[k].Origin, finding.Subject{Part: string(k)}}
	if len(r.days) < MinimumDays {
		b.tooShort(about)
		return
	}
	s := share{variation: sixDecimals(r.variation), variationTaken: true}
	what := fmt.Sprintf("variation %s for its direct rows that give none", s.variation)
	if all {
		planned := b.past().plan(b, k)
		if planned.IsZero() {
			b.unshared(about, r.mean)
			return
		}
		s.factor, s.meanTaken = r.mean.Div(planned), true
		what = about.instead(r.mean, planned) + fmt.Sprintf("variation %s for all its rows", s.variation)
	}
	b.taken.parts[k] = s
	if s.meanTaken || !s.variation.IsZero() {
		b.tookFrom(about, what)
	}
}

// historic is what a finding about a history is about.
type historic struct {
	s       Summary
	origin  finding.Origin
	subject finding.Subject
}

// instead says which mean stands in for which.
func (h historic) instead(mean, planned units.Ratio) string {
	return fmt.Sprintf("mean %.6g instead of %.6g %s a day, ", mean.Float64(), planned.Float64(), h.s.unit())
}

// tooShort notes a history that would count if it had days enough.
func (b *builder) tooShort(h historic) {
	b.findings = append(b.findings, finding.Finding{
		Severity: finding.Note, Code: CodeHistoryShort,
		Summary: fmt.Sprintf("The history of %s has %d days; it counts from %d on", h.s.name(), h.s.Days, MinimumDays),
		Detail:  "The plant lets the history decide on mean or variation where it has days enough. Until then the figures of the sheets hold.",
		Remedy:  "Add the missing days to the History sheet.",
		Origin:  h.origin, Subject: h.subject,
		Measure: &finding.Measure{Value: float64(h.s.Days), Limit: MinimumDays, Unit: "days"},
	})
}

// unshared notes a part whose history can not be shared among its loops.
func (b *builder) unshared(h historic, mean units.Ratio) {
	b.findings = append(b.findings, finding.Finding{
		Severity: finding.Note, Code: CodeHistoryUnshared,
		Summary: fmt.Sprintf("The history of %s has a mean of %.4g pieces a day, but its rows come to none", h.s.name(), mean.Float64()),
		Detail:  "The use in the history is shared among the points of use of a part by what each of them plans. With no use planned anywhere there is nothing to share by, so it is left out.",
		Remedy:  "Give the part usage rows with the products or rates that use it.",
		Origin:  h.origin, Subject: h.subject,
	})
}

// tookFrom notes what was taken from a history.
func (b *builder) tookFrom(h historic, what string) {
	b.findings = append(b.findings, finding.Finding{
		Severity: finding.Note, Code: CodeHistoryTaken,
		Summary: fmt.Sprintf("Taken from %d days of history of %s: %s", h.s.Days, h.s.name(), what),
		Detail:  "The plant lets the history decide. The variation is the standard deviation of the days (n − 1) over their mean, to six decimals.",
		Remedy:  "Nothing, if the history is what is to be expected; else choose what it decides in the settings.",
		Origin:  h.origin, Subject: h.subject,
	})
}
