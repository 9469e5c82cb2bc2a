package structure

import "lanewright/planner/finding"

// Pages explains the codes of this package.
func Pages() []finding.Page {
	return []finding.Page{
		{Code: CodeSlopeLow, Title: "Lanes slope so little that containers may not start",
			Text: "The slope of a lane is its drop divided by its length. Under 3 % a light container, a soft carton or one that has stood for long may not start to roll by itself. The evidence for the figure is thin: try your own containers on your own rollers. Raise the upper edge where they stick."},
		{Code: CodeSlopeHigh, Title: "Lanes slope so much that containers may run away",
			Text: "The slope of a lane is its drop divided by its length. Over 8.8 % (5°) a heavy container gathers speed and strikes the stop or the container before it. The evidence for the figure is thin: try your heaviest container over the whole lane. Lower the upper edge or fit brakes."},
		{Code: CodeTall, Title: "A rack is tall for its base",
			Text: "A rack higher than four times its least base width may tip over when it is pushed, moved on casters or loaded on one side. Fix it to the floor or to its neighbour, or widen the base. This is a screening only: a licensed engineer, the makers' tables and local code decide."},
		{Code: CodeOwnMass, Title: "A rack type may carry no more than itself",
			Text: "The mass limit of a rack type holds for everything on it and its own mass together. Here the own mass alone reaches the limit, so no container can be placed on such a rack. Mostly one of the two figures is in another unit than its heading says."},
	}
}
