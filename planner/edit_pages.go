package planner

import "lanewright/planner/finding"

// Pages explains the codes of this package.
func Pages() []finding.Page {
	return []finding.Page{
		{Code: CodeIntervalsChosen, Title: "Refill intervals were chosen",
			Text: "With the setting choose_intervals the plan tries the plant's interval choices: each for all cells, then shorter ones for the cells that lack lanes or buy racks. A shorter interval needs fewer containers and shallower lanes, and more rounds. The best plan is kept: racks served, containers with a lane, cost of added racks, handlers, metres, in this order. Intervals in rows of the sheet Usage stay."},
		{Code: CodeRacksDesigned, Title: "Racks were designed for cells",
			Text: "With the setting design_racks the plan designs rack types for the cells that lack lanes or buy racks, out of the plant's first kit, as deep as their deepest and no wider than their widest allowed type, and is made again with these types beside the plant's own, each in its own cell. The better plan is kept, compared as with choose_intervals. A design has no price yet: it counts as dear per width as the plant's dearest type."},
		{Code: CodeEditUnserved, Title: "A loop was laid on a rack at which no round stops",
			Text: "Edits made by hand do not change the routes of a plan. The rack held nothing before, so it has no stop: somebody must bring the containers, or the plan must be made anew with the loop pinned there."},
		{Code: CodeEditSeldom, Title: "Rounds come more seldom than a loop was sized for",
			Text: "The loop has containers for its own refill interval. The route that stops at its rack now runs at a longer one, so the loop may run dry between two rounds. Choose a rack that is visited as often, or give the loop the longer interval and the containers that go with it."},
		{Code: CodeEditLoad, Title: "A round would carry more than may be planned",
			Text: "The planned load of the route with the loops that edits changed or brought to its racks, its mean and a margin for variation at the plant's service level, is more containers or more kilograms than the load limit leaves of its vehicle's capacity. Routes are not made anew by edits: plan anew with the loops pinned, or choose racks of another route."},
		{Code: CodeEditLong, Title: "A round would take longer than may be planned",
			Text: "Loading, unloading and empties of the planned load with what edits changed, and the driving and the stops as they are, take more of the refill interval than the busy limit allows. The handler would start the next round late. Routes are not made anew by edits: plan anew with the loops pinned, or choose racks of another route."},
		{Code: CodeEditOverlap, Title: "Two rounds of one handler would overlap",
			Text: "With what edits changed a round ends after its handler has to begin to load his next one. Routes, handlers and departures are not made anew by edits. Let somebody else drive one of the two, take load off the first, or plan anew with the loops pinned."},
	}
}
