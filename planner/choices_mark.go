package planner

import (
	"slices"

	"lanewright/planner/units"
)

// mark finds the choices that no other one dominates.
func mark(choices []Choice) {
	aims := make([][]units.Ratio, len(choices))
	priced, valued := true, true
	for _, c := range choices {
		priced = priced && !c.Cost.Partial()
		valued = valued && c.Unvalued == 0
	}
	for i, c := range choices {
		aims[i] = c.aims(priced, valued)
	}
	for i := range choices {
		choices[i].Undominated = !slices.ContainsFunc(aims, func(a []units.Ratio) bool { return dominates(a, aims[i]) })
	}
}

// aims are the numbers that count, each the smaller the better.
func (c Choice) aims(priced, valued bool) []units.Ratio {
	stock := units.Int(int64(c.Containers))
	if valued {
		stock = c.StockValue()
	}
	list := []units.Ratio{
		units.Int(int64(c.Unplaced)), c.Frontage.Ratio(), stock,
		units.Int(int64(c.Handlers)), units.Int(1).Sub(c.ServiceLevel),
	}
	if priced {
		list = append(list, units.Int(int64(c.Cost.Total)))
	}
	return list
}

// dominates reports whether a is nowhere worse than b and somewhere better.
func dominates(a, b []units.Ratio) bool {
	better := false
	for i := range a {
		d := a[i].Cmp(b[i])
		if d > 0 {
			return false
		}
		better = better || d < 0
	}
	return better
}
