package importers

import (
	"time"

	"lanewright/importers/value"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
)

// CodeHistoryBoth says that a row of history must name a product or a part.
const CodeHistoryBoth = "history.product-or-part"

func (r *row) history() plant.History {
	h := plant.History{
		Product: plant.ProductCode(r.may("Product").code()),
		Part:    plant.PartCode(r.may("Part").code()),
		Date:    r.must("Date").date(),
		Units:   r.must("Units").number(largestRate),
		Origin:  r.origin(),
	}
	if r.given("Product") == r.given("Part") {
		r.fail(CodeHistoryBoth, "Product", finding.Finding{
			Summary: "A row of history names a product or a part, not both and not neither",
			Detail:  "It is what was built of a product, or what was used of a part, on one day.",
			Remedy:  "Fill in one of the two.",
		})
	}
	return h
}

// date is a day at midnight UTC, in the years that a plant can remember.
func (s slot) date() time.Time {
	return read(s, func() (time.Time, error) { return value.Date(s.cell) }, func(t time.Time) bool {
		return t.Year() >= 1980 && t.Year() < 2200
	}, "a day between 1980 and 2199")
}
