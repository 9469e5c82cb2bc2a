package wire

import (
	"lanewright/planner/buildlist"
	"lanewright/planner/plant"
)

// Buy is what is taken of one part of a kit.
type Buy struct {
	Kit      string   `json:"kit"`
	Part     string   `json:"part"`
	Kind     string   `json:"kind"`
	Count    int      `json:"count"`
	LengthMM float64  `json:"length_mm,omitempty" doc:"together, of what is bought in lengths"`
	MassKG   *float64 `json:"mass_kg" doc:"null is not known"`
	Cost     *float64 `json:"cost" doc:"in the plant's currency; null is not known"`
}

// BuyTotal is the sum of what is known.
type BuyTotal struct {
	MassKG    *float64 `json:"mass_kg" doc:"of the parts whose mass is known; null where none is"`
	Cost      *float64 `json:"cost" doc:"of the parts whose price is known; null where none is"`
	Unweighed []string `json:"mass_unknown" doc:"parts that the mass leaves out"`
	Unpriced  []string `json:"price_unknown" doc:"parts that the cost leaves out"`
}

func newBuy(b buildlist.Buy) Buy {
	w := Buy{Kit: string(b.Kit), Part: string(b.Part.Part), Kind: string(b.Part.Kind), Count: b.Count, MassKG: known(b.Mass.KG(), b.Weighed()), Cost: known(b.Cost.Float64(), b.Priced())}
	if b.InLengths() {
		w.LengthMM = b.Length.MM()
	}
	return w
}

// known is a figure, or null where it is not known.
func known(v float64, ok bool) *float64 {
	if !ok {
		return nil
	}
	return &v
}

func newBuyTotal(t buildlist.Total) BuyTotal {
	return BuyTotal{
		MassKG: known(t.Mass.KG(), t.Weighed > 0), Cost: known(t.Cost.Float64(), t.Priced > 0),
		Unweighed: texts[plant.KitPartCode](t.Unweighed), Unpriced: texts[plant.KitPartCode](t.Unpriced),
	}
}
