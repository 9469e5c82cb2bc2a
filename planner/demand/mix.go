package demand

import (
	"cmp"
	"slices"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Mix is what a cell builds on a working day.
type Mix struct {
	Cell plant.CellCode
	// Day is the net minutes of a working day of the cell, above 0.
	Day units.Ratio
	// Products are those that use a part in the cell, by code.
	Products []MixProduct
}

// MixProduct is one product of a mix.
type MixProduct struct {
	Product plant.ProductCode
	// UnitsPerDay is the mean number built on a working day, Variation the
	// coefficient of variation of that number.
	UnitsPerDay, Variation units.Ratio
	// Takes are what one unit takes from the loops of the cell, by key.
	Takes []Take
}

// Take is what one unit of a product takes from a loop.
type Take struct {
	Loop Key
	// Pieces is pieces per unit, scrap included, over all rows of the product.
	Pieces units.Ratio
}

// Mixes returns what each cell builds, ordered by cell, by the same rows and
// history as Loops: for each loop Σ UnitsPerDay·Pieces/Day over the mix of its
// cell, and its sources with no product, are its rate. A cell that works no
// minute, or has direct rows only, has no mix. Where the history of a part decides,
// it changes the pieces that a unit takes; the variation stays the product's.
func Mixes(x *plant.Index, s plant.Settings) []Mix {
	b := newBuilder(x, s)
	var mixes []Mix
	at := map[plant.ProductCode]int{}
	for _, p := range b.points() {
		h := b.hours(p.Cell).day
		if h.IsZero() {
			continue
		}
		for _, u := range p.rows {
			if u.Product == "" {
				continue
			}
			if len(mixes) == 0 || mixes[len(mixes)-1].Cell != p.Cell {
				mixes = append(mixes, Mix{Cell: p.Cell, Day: h})
				clear(at)
			}
			b.mix(&mixes[len(mixes)-1], at, p.Key, u)
		}
	}
	for _, m := range mixes {
		slices.SortFunc(m.Products, func(a, b MixProduct) int { return cmp.Compare(a.Product, b.Product) })
	}
	return mixes
}

// mix adds row u of loop k to m; at says where each product of m stands.
func (b *builder) mix(m *Mix, at map[plant.ProductCode]int, k Key, u *plant.Usage) {
	i, seen := at[u.Product]
	if !seen {
		i = len(m.Products)
		at[u.Product] = i
		f := b.product(u.Product)
		m.Products = append(m.Products, MixProduct{Product: u.Product, UnitsPerDay: f.mean, Variation: f.variation})
	}
	p := &m.Products[i]
	if last := len(p.Takes) - 1; last >= 0 && p.Takes[last].Loop == k {
		p.Takes[last].Pieces = p.Takes[last].Pieces.Add(b.perUnit(u))
		return
	}
	p.Takes = append(p.Takes, Take{k, b.perUnit(u)})
}
