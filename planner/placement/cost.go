package placement

import (
	"fmt"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// CodeNoCost marks a rack type without a cost beside others that have one.
const CodeNoCost = "racks.no-cost"

// costOf is what a rack of type t costs. A type for which the plant gives no
// cost counts as dear as the dearest of the others per millimetre of width,
// rounded up to whole units of the currency: for nothing it would be proposed
// wherever a rack is missing. It is 0 where no type has a cost.
func costOf(x *plant.Index, t *plant.RackType) units.Money {
	if t.Cost > 0 {
		return t.Cost
	}
	dearest := units.Int(0)
	for i := range x.Plant.RackTypes {
		if o := &x.Plant.RackTypes[i]; o.Cost > 0 && o.Width > 0 {
			dearest = dearest.Max(units.R(int64(o.Cost), int64(o.Width)))
		}
	}
	whole := dearest.Mul(t.Width.Ratio()).Div(units.Int(int64(units.Unit))).Ceil()
	return units.Money(min(whole, boundless/int64(units.Unit)/mostAdded)) * units.Unit
}

// unpriced warns of rack types without a cost beside others that have one.
func unpriced(x *plant.Index) finding.List {
	var list finding.List
	for i := range x.Plant.RackTypes {
		t := &x.Plant.RackTypes[i]
		cost := costOf(x, t)
		if t.Cost > 0 || cost <= 0 || x.RackTypes[t.RackType] != t {
			continue
		}
		list = append(list, finding.Finding{
			Severity: finding.Warning, Code: CodeNoCost, Origin: x.Plant.At(t.Origin, "Cost"), Subject: finding.Subject{RackType: string(t.RackType)},
			Summary: fmt.Sprintf("Rack type %s has no cost, others have; it counts as %s", t.RackType, cost),
			Detail:  fmt.Sprintf("Racks to add are chosen by cost. Without one the type would be free, so it counts as dear per millimetre of width as the dearest of the others: %s in all.", cost),
			Remedy:  "Give the type its cost, or take all costs out: then the narrowest racks are chosen.",
		})
	}
	return list
}
