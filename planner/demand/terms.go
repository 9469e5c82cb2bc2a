package demand

import (
	"fmt"
	"slices"
	"strings"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Term is what one usage row adds to the rate of a loop, and how:
//
//	UnitsPerDay · PerUnit · (1 + Scrap) · Factor / Day   for a product,
//	(PerHour/60 + PerDay/Day) · Factor                   for a direct row.
type Term struct {
	// Product is empty for a direct row.
	Product plant.ProductCode
	// Cell is where it is used.
	Cell plant.CellCode
	// UnitsPerDay is what is built of the product, PerUnit the pieces that one
	// unit takes and Scrap the share used in addition. All are 0 for a direct row.
	UnitsPerDay, PerUnit, Scrap units.Ratio
	// PerHour and PerDay are pieces of a direct row, 0 for one of a product.
	PerHour, PerDay units.Ratio
	// Factor is what the part's history makes of a planned piece, else 1.
	Factor units.Ratio
	// Variation is the coefficient of variation with which it counts.
	Variation units.Ratio
	// MeanTaken and VariationTaken say that the history of the product or part
	// decided on the mean and on the variation.
	MeanTaken, VariationTaken bool
	// Day is net minutes, Rate pieces per net minute.
	Day, Rate units.Ratio
	// Origin is the cell of the Usage sheet that gives the pieces, Product's that
	// of the Products sheet that gives the units; else the row.
	Origin, ProductOrigin finding.Origin
}

// Terms returns what each row adds to the rate of l, ordered by product and
// place. Their rates add up to that of l, where x and s are what it came from.
func Terms(x *plant.Index, s plant.Settings, l Loop) []Term {
	b := newBuilder(x, s)
	p := point{Key: l.Key}
	for u := range b.usage() {
		if l.Key == (Key{u.Part, u.Cell, u.Station}) {
			p.rows = append(p.rows, u)
		}
	}
	slices.SortStableFunc(p.rows, compareRows)
	return b.terms(p)
}

// AllTerms returns the terms of every loop.
func AllTerms(x *plant.Index, s plant.Settings) map[Key][]Term {
	b := newBuilder(x, s)
	all := map[Key][]Term{}
	for _, p := range b.points() {
		if terms := b.terms(p); len(terms) > 0 {
			all[p.Key] = terms
		}
	}
	return all
}

// terms returns the terms of one point of use, none where its cell works no
// minute.
func (b *builder) terms(p point) []Term {
	h := b.hours(p.Cell).day
	if h.IsZero() {
		return nil
	}
	terms := make([]Term, len(p.rows))
	for i, u := range p.rows {
		terms[i] = b.term(u, h)
	}
	return terms
}

func (b *builder) term(u *plant.Usage, h units.Ratio) Term {
	t := Term{Product: u.Product, Cell: u.Cell, Factor: units.Int(1), Variation: u.Variation, Day: h, Rate: b.daily(u, h).Div(h)}
	at := b.x.Plant.At
	switch {
	case u.Product != "":
		f, p := b.product(u.Product), b.x.Products[u.Product]
		t.UnitsPerDay, t.PerUnit, t.Scrap, t.Variation = f.mean, u.PerUnit, u.Scrap, f.variation
		t.MeanTaken, t.VariationTaken = f.meanTaken, f.variationTaken
		t.Origin, t.ProductOrigin = at(u.Origin, "Quantity per unit"), at(p.Origin, "Units per day")
	case u.PerHour.IsZero():
		t.PerDay, t.Origin = u.PerDay, at(u.Origin, "Pieces per day")
	default:
		t.PerHour, t.PerDay, t.Origin = u.PerHour, u.PerDay, at(u.Origin, "Pieces per hour")
	}
	if s := b.taken.parts[u.Part]; b.taken.together(u) {
		t.Variation, t.VariationTaken = s.variation, s.variationTaken
		if s.meanTaken {
			t.Factor, t.MeanTaken = s.factor, true
		}
	}
	return t
}

// String returns the term as a calculation, in four digits:
// "240 LANTERN a day x 2 x 1.05 / 435 min = 1.159 pieces a minute".
func (t Term) String() string {
	var s strings.Builder
	switch {
	case t.Product != "":
		fmt.Fprintf(&s, "%s %s a day x %s", digits(t.UnitsPerDay), t.Product, digits(t.PerUnit))
		if !t.Scrap.IsZero() {
			fmt.Fprintf(&s, " x %s", digits(units.Int(1).Add(t.Scrap)))
		}
	case t.PerHour.IsZero():
		fmt.Fprintf(&s, "%s pieces a day", digits(t.PerDay))
	case t.PerDay.IsZero():
		fmt.Fprintf(&s, "%s pieces an hour", digits(t.PerHour))
	default:
		fmt.Fprintf(&s, "(%s pieces an hour x %s h + %s a day)", digits(t.PerHour), digits(t.Day.Div(units.Int(60))), digits(t.PerDay))
	}
	if !t.Factor.Equal(units.Int(1)) {
		fmt.Fprintf(&s, " x %s by history", digits(t.Factor))
	}
	minutes := t.Day
	if t.Product == "" && t.PerDay.IsZero() {
		minutes = units.Int(60)
	}
	fmt.Fprintf(&s, " / %s min", digits(minutes))
	fmt.Fprintf(&s, " = %s pieces a minute", digits(t.Rate))
	return s.String()
}

func digits(r units.Ratio) string { return fmt.Sprintf("%.4g", r.Float64()) }
