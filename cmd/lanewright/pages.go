package main

import (
	"cmp"
	"slices"

	"lanewright/planner/demand"
	"lanewright/planner/ergonomics"
	"lanewright/planner/finding"
	"lanewright/planner/floor"
	"lanewright/planner/sizing"
	"lanewright/planner/structure"
)

// pages returns the page of every code, by code.
func pages() []finding.Page {
	all := slices.Concat(
		demand.Pages(), floor.Pages(), ergonomics.Pages(), sizing.Pages(), structure.Pages(),
	)
	slices.SortFunc(all, func(a, b finding.Page) int { return cmp.Compare(a.Code, b.Code) })
	return all
}
