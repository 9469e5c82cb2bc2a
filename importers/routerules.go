package importers

import "lanewright/planner/plant"

// routeRule reads a row of the sheet Route rules. Which columns count depends on
// the rule: pin (Rack, Route), apart and before (Rack, Other rack), closed (From,
// To).
func (r *row) routeRule() plant.RouteRule {
	return plant.RouteRule{
		Kind: choice(r.must("Rule"), plant.RuleKind(""), []string{string(plant.RulePin), "pinned", "fixed"}, []string{string(plant.RuleApart), "not together", "separate"},
			[]string{string(plant.RuleBefore), "order"}, []string{string(plant.RuleClosed), "closed aisle", "blocked"}),
		Rack:   plant.RackCode(r.may("Rack").code()),
		Other:  plant.RackCode(r.may("Other rack").code()),
		Route:  plant.TourCode(r.may("Route").code()),
		From:   plant.PointCode(r.may("From").code()),
		To:     plant.PointCode(r.may("To").code()),
		Reason: r.info("Reason").text(),
		Origin: r.origin(),
	}
}
