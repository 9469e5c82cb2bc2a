package costing

import (
	"lanewright/planner/sizing"
	"lanewright/planner/units"
)

// OnHand returns the mean number of pieces of a loop that lie at the line:
//
//	k·q − q/2 − λ·(R/2 + L), never below 0.
//
// Of its k containers one is being emptied and half empty in the mean, and λ/q
// containers a minute are away from signal to delivery: R/2 until a round collects
// them, as a signal comes at any moment between two rounds, and L until they are
// back. The mean number away is rate times time (Little, A proof for the queuing
// formula L = λW, Operations Research 9(3), 1961, 383-387; from memory). In a loop
// of the rule that is the textbook half of a delivery plus safety stock. A loop
// that is not used stays full.
func OnHand(l sizing.Loop) units.Ratio {
	pack := units.Int(l.Pack)
	full := pack.Mul(units.Int(int64(l.Containers)))
	if l.Rate.IsZero() {
		return full
	}
	away := l.Rate.Mul(units.Minutes(l.Interval).Div(units.Int(2)).Add(units.Minutes(l.Response)))
	return full.Sub(pack.Div(units.Int(2))).Sub(away).Max(units.Ratio{})
}

// Pieces returns the mean number of pieces at the line of all loops together, each
// loop's rounded to a millionth: exact sums of many loops whose rates come from a
// history would grow without end.
func Pieces(loops []sizing.Loop) units.Ratio {
	var sum units.Ratio
	for _, l := range loops {
		sum = sum.Add(millionth(OnHand(l)))
	}
	return sum
}

// millionth rounds r to a millionth.
func millionth(r units.Ratio) units.Ratio {
	m, _ := units.Amount(r)
	return currency(m)
}

// stock is the interest on the value that lies at the line in the mean, each
// loop's rounded to a millionth of the currency. Loops whose part has no unit cost
// are counted as unpriced.
func stock(in Input) Line {
	l := Line{Kind: Stock, Unit: "of stock value", Items: len(in.Loops)}
	for _, loop := range in.Loops {
		part := in.Index.Parts[loop.Part]
		if part == nil || part.UnitCost == 0 {
			l.Unpriced++
			continue
		}
		l.Quantity = l.Quantity.Add(millionth(OnHand(loop).Mul(currency(part.UnitCost))))
	}
	return priced(l, in.Plant.Prices.StockInterest)
}
