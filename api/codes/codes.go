// Package codes knows the page of every code of a finding.
package codes

import (
	"cmp"
	"slices"
	"sync"

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

// Pages returns the page of every code, by code.
func Pages() []finding.Page {
	all := slices.Concat(
		sheet.Pages(), importers.Pages(), plant.Pages(), demand.Pages(), floor.Pages(), ergonomics.Pages(),
		sizing.Pages(), structure.Pages(), placement.Pages(), routing.Pages(), simulation.Pages(), buildlist.Pages(), planner.Pages(),
	)
	slices.SortFunc(all, func(a, b finding.Page) int { return cmp.Compare(a.Code, b.Code) })
	return all
}

var titles = sync.OnceValue(func() map[string]string {
	m := map[string]string{}
	for _, p := range Pages() {
		m[p.Code] = p.Title
	}
	return m
})

// Title is what a code means in one line, "" for one that nobody knows.
func Title(code string) string { return titles()[code] }
