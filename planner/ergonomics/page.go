package ergonomics

import "lanewright/planner/finding"

// Pages explains the findings of this stage.
func Pages() []finding.Page {
	return []finding.Page{
		{Code: CodeRefill, Title: "Refilling this lane is a heavy lift", Text: "The lift from the vehicle's deck to the load edge was screened with the Revised NIOSH Lifting Equation, metric set: RWL = 23·HM·VM·DM·AM·FM·CM, lifting index = mass over RWL. Over 1 is a note, over 2 a warning, over 3 an error. A level nearer to the deck's height, a smaller pack or a lifting aid lowers it." + caution},
		{Code: CodePick, Title: "Picking from this lane is a heavy lift", Text: "The lift of one piece at the pick edge was screened with the Revised NIOSH Lifting Equation. The equation is for two hands; a piece picked with one hand is held to 0.6 of the limit. A level nearer to 750 mm, a second person or an aid lowers it." + caution},
	}
}
