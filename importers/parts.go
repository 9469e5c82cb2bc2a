package importers

import "lanewright/planner/plant"

func (r *row) part() plant.Part {
	p := plant.Part{Part: plant.PartCode(r.must("Part").code()), Origin: r.origin()}
	p.Container = plant.ContainerCode(r.must("Container").code())
	r.packOf(&p)
	return p
}

// packOf reads what a part has beside its code and container.
func (r *row) packOf(p *plant.Part) {
	p.Description = r.info("Description").text()
	p.PieceMass = r.may("Piece mass").mass(largestPiece)
	p.Pack = r.must("Standard pack").whole(1, largestCount)
	p.MarketAddress = r.info("Market address").text()
	p.UnitCost = r.info("Unit cost").money()
	p.TwoHands = choice(r.may("Pick hand"), "one", []string{"one", "1", "one hand"}, []string{"two", "2", "both", "two hands"}) == "two"
	p.KeepApart = r.may("Keep apart").code()
	p.LookAlike = plant.PartCode(r.may("Look-alike of").code())
}
