package buildlist

import (
	"lanewright/planner/plant"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// Buy is what is taken of one part of a kit.
type Buy struct {
	Kit  plant.KitCode
	Part *plant.KitPart
	// Count is pieces; Length is their length together where the part is bought in
	// lengths.
	Count  int
	Length units.Length
	// Mass and Cost are 0 where the kit does not know them: see Weighed, Priced.
	Mass units.Mass
	Cost units.Money
}

// InLengths reports whether the part is bought in lengths.
func (b Buy) InLengths() bool { return inLengths(b.Part) }

func inLengths(p *plant.KitPart) bool { return len(p.StockLengths) > 0 || p.Kind == plant.TubePart }

// Weighed reports whether the kit knows the part's mass.
func (b Buy) Weighed() bool { return b.Part.Mass > 0 || b.Part.MassPerMetre > 0 }

// Priced reports whether the kit knows the part's price.
func (b Buy) Priced() bool {
	if b.InLengths() {
		return b.Part.PricePerMetre > 0
	}
	return b.Part.Price > 0 || b.Part.PricePerMetre > 0
}

// take adds so many pieces of together so much length.
func (b *Buy) take(count int, length units.Length) {
	b.Count += count
	b.Length += length
	b.Mass = b.Part.Mass*units.Mass(b.Count) + units.Mass(perMetre(b.Length, int64(b.Part.MassPerMetre)))
	b.Cost = units.Money(perMetre(b.Length, int64(b.Part.PricePerMetre)))
	if !b.InLengths() {
		b.Cost += b.Part.Price * units.Money(b.Count)
	}
}

// perMetre is what so much length of something per metre comes to, rounded down.
func perMetre(l units.Length, rate int64) int64 {
	return units.R(int64(l), int64(units.Metre)).Mul(units.Int(rate)).Floor()
}

// bill counts what a rack takes of each part of its kit.
func bill(f *structure.Frame, pieces []Piece) []Buy {
	buys := make([]Buy, len(f.Kit.Parts))
	at := map[*plant.KitPart]*Buy{}
	for i := range f.Kit.Parts {
		p := &f.Kit.Parts[i]
		buys[i] = Buy{Kit: f.Kit.Kit, Part: p}
		at[p] = &buys[i]
	}
	for _, p := range pieces {
		at[p.Part].take(1, p.Length)
	}
	for _, s := range f.Supports {
		at[s.Part].take(1, 0)
	}
	for p, b := range at {
		if joins(p) {
			b.take(len(f.Joints)*p.PerJoint, 0)
		}
	}
	return taken(buys)
}

// joins reports whether a part holds two tubes together.
func joins(p *plant.KitPart) bool {
	return (p.Kind == plant.ConnectorPart || p.Kind == plant.FastenerPart) && p.PerJoint > 0
}

// taken leaves out what is not needed.
func taken(buys []Buy) (list []Buy) {
	for _, b := range buys {
		if b.Count > 0 {
			list = append(list, b)
		}
	}
	return list
}

// Together adds up what several racks take, by kit and part in the order in which
// they come.
func Together(lists []List) []Buy {
	type name struct {
		kit  plant.KitCode
		part plant.KitPartCode
	}
	at := map[name]int{}
	var all []Buy
	for _, l := range lists {
		for _, b := range l.Buys {
			k := name{b.Kit, b.Part.Part}
			i, ok := at[k]
			if !ok {
				i = len(all)
				at[k] = i
				all = append(all, Buy{Kit: b.Kit, Part: b.Part})
			}
			all[i].take(b.Count, b.Length)
		}
	}
	return all
}

// Total is mass and cost of what is bought.
type Total struct {
	Mass units.Mass
	Cost units.Money
	// Unweighed and Unpriced are the parts whose mass or price the kit does not
	// know: then the sums are those of the rest, and of nothing where Weighed or
	// Priced is 0.
	Unweighed, Unpriced []plant.KitPartCode
	Weighed, Priced     int
}

// Sum adds up what is bought.
func Sum(buys []Buy) (t Total) {
	for _, b := range buys {
		t.Mass += b.Mass
		t.Cost += b.Cost
		if b.Weighed() {
			t.Weighed++
		} else {
			t.Unweighed = append(t.Unweighed, b.Part.Part)
		}
		if b.Priced() {
			t.Priced++
		} else {
			t.Unpriced = append(t.Unpriced, b.Part.Part)
		}
	}
	return t
}
