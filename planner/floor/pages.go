package floor

import "lanewright/planner/finding"

// Pages explains the codes of this package.
func Pages() []finding.Page {
	return []finding.Page{
		{Code: CodeShorterThanLine, Title: "An aisle is shorter than the straight line",
			Text: "The length in the sheet is at least a hundredth shorter than the straight line between the two points. Mostly a length or a coordinate is in another unit than its heading says. The length of the sheet was used; correct it, or leave it blank for the straight line."},
		{Code: CodeUnreachable, Title: "No round can reach an aisle point and return",
			Text: "A round leaves a market and comes back to it, over the aisles and with the one-way aisles in their direction. This point lacks the way there or the way back. No rack stands at it, so nothing stays without refill today; a point of kind stop is a warning, any other a note. Add the missing aisle, or turn the one-way aisle."},
	}
}
