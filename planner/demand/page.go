package demand

import "lanewright/planner/finding"

// Pages explains the findings of this stage.
func Pages() []finding.Page {
	return []finding.Page{
		{Code: CodeNoTime, Title: "A cell works no minute of the week", Text: "Rates are pieces per net minute of the shifts a cell works. With no day or no net minute there is nothing to divide by, so the loops of the cell are left out of the plan. Give the cell a shift that has days and time left after its breaks."},
		{Code: CodeRowsDiffer, Title: "Rows of one point of use ask for different things", Text: "All usage rows of one part at one station are one replenishment loop. Where they name different intervals, service levels or safety, the shortest interval, the highest service level and the largest safety apply; a row that names none counts with the plant's value. Write the same values in all of them to be sure of what is meant."},
		{Code: CodeNoUse, Title: "A part is not used at present", Text: "All rows of this point of use come to 0 pieces a day. The loop keeps two containers, one in use and one behind it. Remove the rows if the part has left the station."},
		{Code: CodeScrapOnRate, Title: "Scrap beside a direct rate is not added", Text: "Scrap raises the pieces per unit of a product. A row that gives pieces per hour or day says what is really used, scrap included, so nothing is added to it. Put the scrap into the rate if it is not in it yet."},
		{Code: CodeShortHistory, Title: "Too little history for the empirical model", Text: "The empirical model reads what was used on at least 20 working days, of the part itself or of all products of the loop on the same dates. With fewer days the model by the rule is used: steady where nothing varies, else normal."},
		{Code: CodeHistoryDrifts, Title: "History and plan disagree", Text: "The mean use in the history is a fifth or more away from what the products and usage rows ask for. One of the two is out of date: with a stale history the loop is sized for the wrong demand."},
	}
}
