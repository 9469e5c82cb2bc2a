package main

import (
	"cmp"
	"slices"

	"lanewright/importers"
	"lanewright/importers/sheet"
	"lanewright/planner"
	"lanewright/planner/buildlist"
	"lanewright/planner/demand"
	"lanewright/planner/ergonomics"
	"lanewright/planner/finding"
	"lanewright/planner/floor"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/simulation"
	"lanewright/planner/sizing"
	"lanewright/planner/structure"
)

// pages returns the page of every code, by code.
func pages() []finding.Page {
	all := slices.Concat(
		sheet.Pages(), importers.Pages(), plant.Pages(), demand.Pages(), floor.Pages(), ergonomics.Pages(),
		sizing.Pages(), structure.Pages(), placement.Pages(), routing.Pages(), simulation.Pages(), buildlist.Pages(), planner.Pages(),
	)
	slices.SortFunc(all, func(a, b finding.Page) int { return cmp.Compare(a.Code, b.Code) })
	return all
}
