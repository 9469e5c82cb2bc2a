package simulation

import "lanewright/planner/finding"

// Pages explains the findings of this stage.
func Pages() []finding.Page {
	return []finding.Page{
		{Code: CodeRunsShort, Title: "A loop runs short in play more often than allowed", Text: "The plan was played event by event over many shifts: pieces are used, containers emptied, rounds leave by the timetable with what their vehicle holds. This loop ran short in more of its refill cycles than its service level leaves, so many more that chance does not explain it. The finding names the cause of most shortages, looked for in the history of the container that was waited for: a full vehicle that left its signal behind, a late round, a gap between two rounds longer than the interval, fewer containers than the rule asks for, or more use than the loop covers. Where a few containers more help, the number was found by playing them."},
		{Code: CodeVehicleFull, Title: "Full rounds leave containers behind", Text: "On this route signals wait for a later round because the vehicle is full. Stops at the end of the tour suffer first, and more containers in their lanes do not help: the vehicle can not bring them. Run the route more often, move racks to another route, or use a larger vehicle."},
		{Code: CodeRoundsLate, Title: "Rounds leave late", Text: "With the load that they really carry, rounds of this handler take longer than the time until his next departure, so that the next one leaves late. A round that could not end within its shift any more is not driven. Give the handler fewer stops or routes, or a longer interval."},
		{Code: CodeRoundsApart, Title: "More time than an interval lies between two rounds", Text: "Rounds leave at the start of a shift and then every interval, and the last one must end within the shift; the next shift counts anew. Where the interval does not divide the working time, or a round is longer than what is left, more net time than one interval passes between the last round of a shift and the first of the next, and containers emptied in between wait longer than their loop was sized for. Where two shifts overlap, both work between two rounds of one. The setting cover_shift_ends sizes the loops for that."},
		{Code: CodeTooMuch, Title: "A plan is too much to play", Text: "Play counts every container that is opened, collected and brought. Some thousand millions of them would take longer than anybody waits, and nearly always mean that a rate, a standard pack or an interval stands in a wrong unit. The plan stands without proof. Check those, or ask for fewer weeks or replications."},
		{Code: CodeReturnsFull, Title: "Empties find no room on the return lanes", Text: "In play more empties waited on this rack before a visit than its return lanes hold, more often than the plant's service level leaves. Visit the rack more often, or give it another return lane or level."},
	}
}
