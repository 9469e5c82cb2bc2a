package ergonomics

import "lanewright/planner/finding"

// screened ends the page of every lift.
const screened = " This is a screening only: a qualified person decides, and local rules come first."

// Pages explains the findings of this stage.
func Pages() []finding.Page {
	return []finding.Page{
		{Code: CodeRefill, Title: "Refilling this lane is a heavy lift", Text: "The lift from the vehicle's deck to the load edge was screened with the Revised NIOSH Lifting Equation, metric set: RWL = 23·HM·VM·DM·AM·FM·CM, lifting index = mass over RWL. Over 1 is a note, over 2 a warning, over 3 an error. A level nearer to the deck's height, a smaller pack or a lifting aid lowers it. " + LimitsOfUse + screened},
		{Code: CodePick, Title: "Picking from this lane is a heavy lift", Text: "The lift of one piece at the pick edge was screened with the Revised NIOSH Lifting Equation. The equation is for two hands; a piece picked with one hand is held to 0.6 of the limit. A level nearer to 750 mm, a second person or an aid lowers it. " + LimitsOfUse + screened},
		{Code: CodeRound, Title: "Refilling this round is heavy work", Text: "The lifts of one round were taken together by the composite lifting index of the Revised NIOSH Lifting Equation: the index of the heaviest lift, and for each other one what it adds by its mass and by how often all are done. Over 1 is a note, over 2 a warning, over 3 an error. The duration is that of the round and the pause after it. " + LimitsOfUse + screened},
		{Code: CodeStation, Title: "Picking at this station is heavy work", Text: "All pieces of 3 kg or more that are picked at the station were taken together by the composite lifting index of the Revised NIOSH Lifting Equation, all shift long, by one person. Pieces picked with one hand count as heavier by 1/0.6. " + LimitsOfUse + screened},
		{Code: CodeDay, Title: "One person lifts much in a shift", Text: "The loads of 3 kg or more that one person lifts in one shift were added up: a handler lifts each container at the market and again at the rack, one person at a station lifts each piece. The limit is 10,000 kg for a day of 8 h (ISO 11228-1:2003, from memory); over it is a warning." + screened},
		{Code: CodeLow, Title: "Hands go below the knuckles", Text: "The hands, at half the container's height at the lower edge of the lane, are below 685 mm, where the knuckles of a small person's hanging hands are." + screening},
		{Code: CodeHigh, Title: "Hands go above the shoulders", Text: "The hands, at half the container's height at the higher edge of the lane, are above 1240 mm, the shoulders of a small person. Above 1815 mm, where she does not get at all, it is a warning." + screening},
		{Code: CodeDeep, Title: "The far wall of the first container is out of reach", Text: "How far a hand gets over the pick edge was computed with a straight arm of 555 mm from a shoulder at 1240 mm that leans over the edge, and compared with the side of the container that runs along the lane." + screening},
		{Code: CodeHand, Title: "No hand gets into the container", Text: "Between the rim of the container and the level above are less than the 50 mm that a hand wants." + screening},
	}
}
