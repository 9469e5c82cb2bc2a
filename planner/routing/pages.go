package routing

import "lanewright/planner/finding"

// Pages explains the codes of this package.
func Pages() []finding.Page {
	return []finding.Page{
		{Code: CodeNoVehicles, Title: "No refill routes: there are no vehicles",
			Text: "Routes need to know what carries the containers: a cart, a tow train, or a person with both hands. Fill the sheet Vehicles with a capacity, a speed and the times it takes, and the sheets Aisle points and Aisles. Lanes and racks are planned without them."},
		{Code: CodeNoMarket, Title: "No refill routes: no vehicle has a market",
			Text: "A round starts and ends at a market, where full containers are loaded. One aisle point must have the kind market; where there are several, each vehicle type names its own in From market."},
		{Code: CodeNoAisles, Title: "No refill routes: there are no aisles",
			Text: "Rounds drive along the rows of the sheet Aisles. Two columns are enough, From and To; the length is then the straight line, and every aisle may be driven both ways."},
		{Code: CodeNothingToRefill, Title: "Nothing on a rack is used",
			Text: "All loops on the rack have a use of 0, so no container of it is ever emptied and no round stops there. Mostly a product with no units per day is the reason."},
		{Code: CodeRackWithoutPoint, Title: "A rack has no aisle point",
			Text: "A round stops at an aisle point, where the load side of the rack can be reached. This rack names none that is known, so nobody refills it in this plan. Give it the nearest point of the sheet Aisle points."},
		{Code: CodeStopUnreachable, Title: "No way leads to a rack and back",
			Text: "A round leaves a market and comes back to it over the aisles, with one-way aisles in their direction. This rack's point lacks the way there or the way back, so nobody refills it in this plan. Add the missing aisle or turn the one-way aisle."},
		{Code: CodeNoRoundFits, Title: "A loop is too much for any round",
			Text: "What the loop uses in one refill interval, planned at the plant's service level, is more than a vehicle may carry (capacity times load limit), or the round alone takes longer than the interval times the busy limit. A shorter interval makes loads smaller and leaves less time; the finding names the one that would fit, if there is one. It is not refilled in this plan."},
		{Code: CodeIntervalShortened, Title: "A rack is served more often than asked",
			Text: "One of the rack's loops fits no round at the rack's interval, even alone, so the rack is served at the longest of the plant's interval choices at which each loop fits. That is safe, because the lanes were sized for a longer wait, and costs more rounds. A vehicle that carries more, or a loop shared between racks, would keep the longer interval."},
		{Code: CodeIntervalsDiffer, Title: "Loops of different intervals share a rack",
			Text: "A rack is served at the shortest interval of its loops. The loops of longer interval are then served more often than they were sized for: safe, but each extra round costs driving and a stop. Give the loops of a rack one interval, or put those of short interval together."},
		{Code: CodeRackSplit, Title: "Several routes serve one rack",
			Text: "One round of the vehicle chosen can not carry or handle what all loops of the rack need in one interval. The loops are parted among as few rounds as possible; each loop is always refilled by the same route."},
		{Code: CodeTooFewVehicles, Title: "More handlers than vehicles of a type",
			Text: "Each handler drives one vehicle. Routes of one vehicle type share handlers wherever all their rounds fit one after the other into the shortest of their intervals, within the busy limit, also at different intervals and in different shifts; and rounds go to a type with a vehicle to spare where that can drive them. The plan still needs more vehicles of this type than there are. More vehicles help; so do longer refill intervals, cells that work the same shifts, so that their racks can be on one round, a higher busy limit, and another vehicle type."},
		{Code: CodeNoDeparture, Title: "A route can not leave in one of its shifts",
			Text: "A round leaves only when it can end within the shift, in net time and after the earlier rounds of the same handler. In this shift not even the first one can, so the racks of the route are not refilled in it. Mostly the shift is very short, or a cell is marked as working in a shift in which it does not."},
		{Code: CodeParking, Title: "A vehicle does not get from its parking to its market and back",
			Text: "Outside its shifts a vehicle stands at the point that Parking names; its first round leaves when it has come to the market, and the last one ends early enough to go back. Over the aisles that are open to it there is no such way, so it was planned as if it stood at the market. Add the missing aisle or name another point."},
		{Code: CodeMeetInAisle, Title: "Rounds meet in a single-file aisle",
			Text: "The aisle is marked single file, so two vehicles can neither pass nor meet in it. By the timetable, at mean loads, rounds of two handlers are in it at the same time. Handlers already begin some minutes apart where the shift and the interval leave room for it. One-way traffic, a place to pass, another interval for one of the routes or serving the aisle's racks by one route take the meeting away."},
		{Code: CodeMarketFull, Title: "Several rounds load at a market at once",
			Text: "A round stands at its market until its containers are loaded. Where the sheet Aisle points gives the market's Places, handlers begin some minutes apart so that no more load at once, as far as their time allows; the finding is then a warning about what is left. Where it gives none, the note only says how many there are at most."},
		{Code: CodeTurnAtStop, Title: "A vehicle turns at a stop where driving vehicles may not",
			Text: "The ways between two stops keep the turning rules at every point that is passed. At a stop the vehicle stands, so the way on is reckoned as if it could leave by any aisle. Where the rules forbid that turn to vehicles that drive by, somebody should look whether it can be made at all."},
		{Code: CodeRuleBroken, Title: "A rule about routes is not kept",
			Text: "The sheet Route rules pins racks to routes, keeps them apart or in an order, and the plan's routes do not keep one of its rows. Take the rule out if it does not matter, or change the routes."},
		{Code: CodeTodayDoesNotFit, Title: "One of today's routes can not be kept",
			Text: "The routes of the sheet Current routes were driven with what the racks need in this plan, by the rules that the plan's own routes keep: containers and mass within the load limit, the time within the busy limit. This one passes a limit. It works today only because rounds are skipped, late or overloaded, or because the use has changed."},
		{Code: CodeTodayLacksRack, Title: "No route of today serves a rack",
			Text: "The plan refills something on the rack, and the sheet Current routes does not name it. Either somebody refills it without a route, or the sheet is not complete; the comparison with today then flatters today."},
		{Code: CodeTodayCompared, Title: "Today's routes and the plan's",
			Text: "Metres an hour and handlers of today's routes, driven with the plan's loads, beside those of the plan. Routes of today that do not fit are counted too, so today may need more than it seems."},
	}
}
