package importers

import (
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// stockBar reads a row of the sheet Stock on hand.
func (r *row) stockBar() plant.StockBar {
	b := plant.StockBar{
		Part: plant.KitPartCode(r.must("Part").code()), Length: r.must("Length").length(units.Millimetre, largestMeasure, "a length from 1 mm to 100 m"),
		Count: 1, Place: r.info("Place").text(), Origin: r.origin(),
	}
	if s := r.may("Count"); !s.blank {
		b.Count = int(s.whole(1, largestCount))
	}
	return b
}

// joinStock enters what lies in the store, with the kits' own spelling of its part;
// plant.Check says where no kit has it.
func (j *joiner) joinStock() {
	own := map[string]plant.KitPartCode{}
	for _, k := range j.plant.Kits {
		for _, p := range k.Parts {
			own[foldCode(string(p.Part))] = p.Part
		}
	}
	for f := range j.rd.facts.stock.all() {
		if f.row.state == reported || j.repeats(f.row) {
			continue
		}
		if code, ok := own[foldCode(string(f.v.Part))]; ok {
			f.v.Part = code
		}
		f.row.state = used
		j.plant.StockOnHand = append(j.plant.StockOnHand, f.v)
	}
}
