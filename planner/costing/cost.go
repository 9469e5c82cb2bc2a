package costing

import (
	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/sizing"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// Input is what is priced. Nothing in it is changed.
type Input struct {
	// Plant are the settings of the run: its prices and weeks per year.
	Plant  plant.Settings
	Index  *plant.Index
	Loops  []sizing.Loop
	Racks  []structure.Rack
	Routes []routing.Route
}

// Kind says what a line of the cost pays for.
type Kind string

// Kinds of cost, in the order of the lines.
const (
	Handlers Kind = "handlers"
	Vehicles Kind = "vehicles"
	Racks    Kind = "racks"
	Floor    Kind = "floor"
	Stock    Kind = "stock"
)

// Line is one kind of cost in a year: Amount = Quantity · Price of what has a
// price.
type Line struct {
	Kind Kind
	// Quantity is in Unit: "hours", "vehicles", "of rack value", "m²" or "of
	// stock value", values being in the plant's currency.
	Quantity units.Ratio
	Unit     string
	// Price is what one Unit costs in a year, in the plant's currency; 0 is not
	// known.
	Price  units.Ratio
	Amount units.Money
	// Items are the handlers, vehicles, racks or loops behind the line. Unpriced of
	// them have no price in the plant's sheets: Quantity and Amount leave them out
	// where the price is theirs (a rack's cost, a part's unit cost).
	Items, Unpriced int
}

// Known reports whether everything behind the line has a price.
func (l Line) Known() bool { return l.Unpriced == 0 }

// Cost is what a plan costs in a year.
type Cost struct {
	// Lines has one of each kind.
	Lines []Line
	// Total is the sum of what is known.
	Total units.Money
}

// Partial reports whether a price is missing, so that Total is too low.
func (c Cost) Partial() bool {
	for _, l := range c.Lines {
		if !l.Known() {
			return true
		}
	}
	return false
}

// Line returns the line of a kind.
func (c Cost) Line(k Kind) Line {
	for _, l := range c.Lines {
		if l.Kind == k {
			return l
		}
	}
	return Line{Kind: k}
}

// Year prices in for a year (planning rules, section 11). All arithmetic is exact
// until the stock of each loop and each amount are rounded once, to a millionth of
// the currency; what passes the range of money stays at its end.
func Year(in Input) Cost {
	cost := Cost{Lines: []Line{handlers(in), vehicles(in), racks(in), floorSpace(in), stock(in)}}
	var total units.Ratio
	for i := range cost.Lines {
		l := &cost.Lines[i]
		amount := l.Quantity.Mul(l.Price)
		l.Amount, _ = units.Amount(amount)
		total = total.Add(amount)
	}
	cost.Total, _ = units.Amount(total)
	return cost
}

// currency returns m in whole units of the currency.
func currency(m units.Money) units.Ratio { return units.R(int64(m), int64(units.Unit)) }

// priced returns l with its price; where that is not known nothing behind it
// is.
func priced(l Line, price units.Ratio) Line {
	l.Price = price
	if price.IsZero() {
		l.Unpriced = l.Items
	}
	return l
}

// racks writes each rack's cost off in equal parts over its years. Racks whose
// type has no cost are counted as unpriced.
func racks(in Input) Line {
	l := Line{Kind: Racks, Unit: "of rack value", Items: len(in.Racks)}
	for _, r := range in.Racks {
		if r.Type.Cost == 0 {
			l.Unpriced++
		}
		l.Quantity = l.Quantity.Add(currency(r.Type.Cost))
	}
	var share units.Ratio
	if in.Plant.Prices.RackYears.Sign() > 0 {
		share = units.Int(1).Div(in.Plant.Prices.RackYears)
	}
	return priced(l, share)
}

// floorSpace counts the footprints of the racks, width by depth; the aisles and
// the places of the operators are not in it.
func floorSpace(in Input) Line {
	l := Line{Kind: Floor, Unit: "m²", Items: len(in.Racks)}
	for _, r := range in.Racks {
		l.Quantity = l.Quantity.Add(r.Type.Width.Ratio().Mul(r.Type.Depth.Ratio()))
	}
	metre := units.Metre.Ratio()
	l.Quantity = l.Quantity.Div(metre.Mul(metre))
	return priced(l, currency(in.Plant.Prices.FloorYear))
}
