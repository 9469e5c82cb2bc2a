package plant

import (
	"fmt"
	"slices"

	"lanewright/planner/finding"
)

// CodeStockPart says that what lies in the store is of a part that no kit has.
const CodeStockPart = "stock-on-hand.unknown-part"

// stock asks whether what lies in the store is of a part that some kit of the plant,
// or a shipped one, cuts from lengths.
func (c *checker) stock() {
	kits := slices.Concat(c.p.Kits, ShippedKits())
	for _, s := range c.p.StockOnHand {
		c.promise(s.Origin, finding.Subject{}, fmt.Sprintf("Stock of %s", s.Part), must{s.Length > 0 && s.Count >= 1, "length and count", "above 0"})
		if slices.ContainsFunc(kits, func(k Kit) bool { return k.cuts(s.Part) }) {
			continue
		}
		c.add("Part", finding.Finding{
			Severity: finding.Warning, Code: CodeStockPart, Origin: s.Origin,
			Summary: fmt.Sprintf("%d bars of %s lie in the store, but no kit has a part of that code with stock lengths", s.Count, s.Part),
			Detail:  "Cut lists use the bars and offcuts of the parts that they cut, by their codes.",
			Remedy:  "Write the part as the sheet Kit parts does, capitals and spaces too.",
		})
	}
}

// cuts reports whether the kit has a part of that code that is bought in lengths.
func (k *Kit) cuts(code KitPartCode) bool {
	return slices.ContainsFunc(k.Parts, func(p KitPart) bool { return p.Part == code && len(p.StockLengths) > 0 })
}
