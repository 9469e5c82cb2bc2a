package importers

import (
	"lanewright/planner/finding"
	"lanewright/planner/plant"
)

// Codes of findings about rows of use.
const (
	CodeNoRate   = "usage.no-rate"
	CodeTwoRates = "usage.two-rates"
)

// largestRate is pieces or units an hour or a day, far beyond any plant.
const largestRate = 1_000_000_000

func (r *row) usage() plant.Usage {
	u := plant.Usage{
		Product: plant.ProductCode(r.may("Product").code()),
		Part:    plant.PartCode(r.must("Part").code()),
		Cell:    plant.CellCode(r.must("Cell").code()),
		Station: plant.StationCode(r.must("Station").code()),
		Origin:  r.origin(),
	}
	r.rate(&u)
	u.Scrap = r.may("Scrap").surplus()
	u.Interval = r.may("Refill interval").interval()
	u.Response = r.may("Response time").interval()
	u.ServiceLevel = r.may("Service level").chance()
	if r.given("Safety") {
		safety := r.may("Safety").surplus()
		u.Safety = &safety
	}
	u.Model = choice(r.may("Demand model"), plant.DefaultModel, []string{"steady"}, []string{"normal"}, []string{"poisson"},
		[]string{string(plant.NegativeBinomialModel), "over-dispersed"}, []string{"empirical"})
	u.Containers = int(r.may("Containers").whole(1, largestCount))
	return u
}

// rate reads how much is used: pieces per unit of a product, or pieces per
// hour or day of a direct row, and nothing else.
func (r *row) rate(u *plant.Usage) {
	product, perUnit, perHour, perDay := r.given("Product"), r.given("Quantity per unit"), r.given("Pieces per hour"), r.given("Pieces per day")
	switch {
	case (perUnit && (perHour || perDay)) || (perHour && perDay) || (product && (perHour || perDay)):
		r.fail(CodeTwoRates, r.firstGiven("Pieces per hour", "Pieces per day"), finding.Finding{
			Summary: "The row gives its use in two ways",
			Detail:  "A row with a product gives Quantity per unit; a row without gives Pieces per hour or Pieces per day.",
			Remedy:  "Leave only one of them, or make two rows.",
		})
	case product && perUnit:
		u.PerUnit = r.must("Quantity per unit").number(largestCount)
		if r.given("Variation") {
			r.warn(CodeIgnoredValue, "Variation", finding.Finding{
				Summary: "The variation of a row with a product counts nothing",
				Detail:  "The variation of the product counts. The row was used without its own.",
				Remedy:  "Give the variation in the sheet Products.",
			})
		}
	case !product && (perHour || perDay):
		u.PerHour = r.may("Pieces per hour").number(largestRate)
		u.PerDay = r.may("Pieces per day").number(largestRate)
		u.Variation = r.may("Variation").variation()
	case perUnit:
		r.must("Product").missing()
	default:
		r.fail(CodeNoRate, r.firstGiven("Product", "Part"), finding.Finding{
			Summary: "The row does not say how much is used",
			Detail:  "A row with a product needs Quantity per unit; a row without needs Pieces per hour or Pieces per day.",
			Remedy:  "Fill in the cell; 0 is allowed.",
		})
	}
}

// firstGiven returns the first of the fields that the row gives.
func (r *row) firstGiven(fields ...string) string {
	for _, f := range fields {
		if r.given(f) {
			return f
		}
	}
	return ""
}
