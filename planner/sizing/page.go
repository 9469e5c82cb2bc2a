package sizing

import "lanewright/planner/finding"

// Pages explains the findings of this stage.
func Pages() []finding.Page {
	return []finding.Page{
		{Code: CodeFixedBelow, Title: "A fixed number of containers is below the rule", Text: "The sheet fixes the containers of this loop below max(2, ⌈D/q⌉ + 1), D the pieces to cover over refill interval and response, q the standard pack. The plan keeps the fixed number, but the loop may run dry between two rounds. Raise it, shorten the interval, or leave the cell empty so that the rule decides."},
		{Code: CodeFixedAbove, Title: "A fixed number of containers is far above the rule", Text: "The sheet fixes more than twice the containers that the rule asks for. They take lanes that other parts may need."},
		{Code: CodeHuge, Title: "A loop would need a hundred thousand containers or more", Text: "No rack holds such a loop. Nearly always a unit, a decimal mark or a standard pack is wrong in the row. The loop is sized at the largest number the planner works with, and stays without a lane."},
	}
}
