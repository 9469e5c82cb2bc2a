package plant

import "lanewright/planner/finding"

// Pages explains every code that Check raises.
func Pages() []finding.Page {
	return []finding.Page{
		page(CodeOutOfRange, "A measure is one that nothing can have", "Lengths, masses, times, counts and shares have ranges: a container has no length of 0, a service level lies above 0 % and below 100 %. The importers refuse such values cell by cell; this finding is for facts that came another way. Correct the value."),
		page(CodeUnknownReference, "A fact names something that the plant does not have", "Parts name containers, rows of use name parts and stations, racks name rack types and aisle points. Each code must be defined. The importers leave such rows out and say so; this finding is for facts that came another way. Add the missing thing or correct the code."),
		page(CodeOverGrossLimit, "A full container weighs more than it may", "Gross mass is the empty mass plus the standard pack times the piece mass. When it is above the container's gross mass limit the pack, the piece mass or the limit is wrong, often by its unit (g instead of kg). Correct it, lower the standard pack, or use another container."),
		page(CodePartNoUsage, "A part is used at no station", "No row of use names the part, so it needs no lane. That is fine for parts that ran out; otherwise add the use."),
		page(CodeFitsNoLane, "A container fits on no supply level of any rack type", "Its height with the hand clearance, its width with the side clearance on both sides, or its length along the lane is larger than every supply level allows, whichever side runs along the lane. Its loops will stay without a lane. Check the measures and their unit, or add a rack type."),
		page(CodeProductNoUsage, "A product uses no part", "No row of use names the product, so its units per day count nothing. Add what it uses, or take it off the sheet; a row of totals is sometimes read as a product."),
		page(CodeOtherCell, "A product limited to one cell uses a part in another", "The product names a cell as the only one it runs in, and a row of use puts one of its parts elsewhere. The use is counted in the cell of its own row. Correct one of the two, or leave the product's cell blank."),
		page(CodeIntervalTooLong, "A refill interval is longer than the shortest shift", "Rounds are counted anew in each shift, so an interval above the net minutes of a shift gives one round a shift at most, and the lanes become very deep. Most often the interval was meant in another unit."),
		page(CodeOverFrontage, "The racks of a cell are wider than its frontage", "Frontage is the largest total width of racks along a cell. The racks that stand there are kept, but none can be added. Check the frontage, its unit, and which racks belong to the cell."),
		page(CodeDuplicateStation, "A station stands twice in its cell", "A station code is unique within its cell. With two rows it can not be known which place and walk limit hold. Rename one or take one row out."),
		page(CodeStationNoUsage, "A station uses no part", "No row of use names the station, so nothing is brought to it. Add what it uses or take it off the sheet."),
		page(CodeBreakOutside, "A break does not lie inside its shift", "Only the part of a break inside its shift takes working time away. Correct the times; for a night shift a break after midnight is written as it is on the clock."),
		page(CodeNoNetTime, "There is no working time", "Units per day become a rate over the net minutes of the shifts: those worked, without breaks. With none there is no rate. Check days, start, end and breaks."),
		page(CodeNoLevels, "A rack type has no levels", "A level is one sloped surface with lanes. A rack type without levels holds nothing. Add its levels to the sheet Levels, one row each."),
		page(CodeLevelTooWide, "A level is wider than its rack", "The usable width is what lanes may fill between the posts, so it can not exceed the width of the rack. Lanes planned on it would stand in the neighbour's place. Correct one of the two and check their units."),
		page(CodeLaneTooLong, "Lanes are longer than their rack is deep", "Such lanes stand out into the aisle, or the depth is wrong. Capacities are computed with the lane length as given."),
		page(CodeLevelAboveRack, "A level is higher than its rack", "The pick edge or the load edge of the level lies above the height of the rack. Correct the height of the level or of the rack."),
		page(CodeLevelsNotRising, "The heights of levels do not rise with their numbers", "Level 1 is the lowest. When a higher number has a lower pick height, the numbers or the heights were mixed up, and handlers will be sent to the wrong level."),
		page(CodeDropSign, "A level slopes the wrong way", "Drop is load edge minus pick edge. Full containers run from the load side to the pick side, so it is positive on a supply level; empties run back, so it is negative on a return level."),
		page(CodeFixedLanesTooWide, "Fixed lanes do not fit on their level", "The widths of the fixed lanes and the guides between them add up to more than the usable width of the level. Correct the widths or their unit, the guide width setting, or the usable width."),
		page(CodeFixedLanesLevel, "Fixed lanes are given for a level that is not there", "The rack type of the rack has no level of that number. Correct the level or the type of the rack."),
		page(CodeUnknownKit, "A rack type names a kit that is not there", "The kit says which tubes, rollers and joints a rack is built from. The sheets Kits and Kit parts have no kit of that name, so the program's own generic kit is used for build list and screening. Correct the name or add the kit."),
		page(CodeKitNoTube, "A kit has no tube", "Uprights, cross tubes and rails are tubes. Without one no rack can be built from the kit. Add its tubes to the sheet Kit parts, one row for each section."),
		page(CodeWall, "A tube's wall or corner radius is impossible", "A tube is hollow: its wall is above 0 and less than half of its smaller side, its corner radius at most half of it. Bending and buckling follow from the decimal wall, never from the number of a series, which means different walls for tube and for sheet. Correct the value and its unit."),
		page(CodeNoStock, "A tube has no stock length", "The lengths in which a tube is bought decide whether a rack's tubes can be cut from it and how little is wasted. List them in the sheet Kit parts, with commas between them."),
		page(CodeStockPart, "What lies in the store is of no part of a kit", "The sheet Stock on hand lists bars and offcuts by the code of the kit part that they are. Cut lists find them by that code only, so bars of a code that no kit has are bought again. Write the code as the sheet Kit parts does."),
		page(CodeNoAisles, "There are vehicles but no aisles", "Vehicles drive over the aisles between aisle points; with none, no rack can be reached and the plan has no routes. It still has lanes and racks. Add the sheet Aisles, one row for each way between two points."),
		page(CodeUnreachable, "No round can reach the aisle point of a rack and come back", "A round starts at a market, passes the aisle point and ends at the same market. Over the aisles, with one-way aisles in their direction only, there is no such way for this point. Add the missing aisle, or correct a one-way aisle or the aisle point."),
		page(CodeAisleToItself, "An aisle leads from a point to itself", "Nothing can be reached by it. One of its ends is probably mistyped, and then another aisle is missing."),
		page(CodeNoMarket, "There are vehicles but no market", "Rounds start and end at a market, where full containers are loaded. Give the kind market to that aisle point."),
		page(CodeMarketNotNamed, "There are several markets and a vehicle names none", "With one market it goes without saying where rounds start; with several it would be a guess. Fill in From market."),
		page(CodeNotAMarket, "A vehicle starts from a point that is no market", "Rounds start and end at a market. Name one, or give the point the kind market."),
		page(CodePinNoLoop, "A pinned part is not used there", "A pin keeps a part in a rack, but no row of use brings the part to that station, or to any station of the rack's cell. Add the use, correct the pin or take it out."),
		page(CodePinNotServed, "A part is pinned to a rack that does not serve its station", "A part may only lie on a rack that serves its station. Add the station to the rack, or correct the pin."),
		page(CodePinLevel, "A part is pinned to a level that can not hold it", "The rack type has no supply level of that number. Correct the level of the pin."),
		page(CodePinLane, "A part is pinned to a lane that is not there", "The level has fixed lanes, fewer than the number of the pinned lane. Correct the lane, or the fixed lanes of the rack."),
		page(CodePinContradicts, "Two pins can not both be kept", "A lane holds one part of one station, and all lanes of a pinned part stay on one rack and one level. Two pins ask for something else. Take one of them out."),
		page(CodeTurnNoAisle, "A turn speaks of an aisle that is not there", "A row of the sheet Turns names the next point along the aisle on which a vehicle comes and the next along the one into which it turns. No aisle joins one of them with the point between, so the row changes nothing. Correct the points or add the aisle."),
		page(CodeTurnTwice, "A turn is both allowed and forbidden", "Two rows of the sheet Turns say the opposite of the same turn. It counts as forbidden. Take one of the rows out."),
		page(CodeTourOrderTwice, "Two racks are the same stop of one of today's routes", "The stops of a route are driven in the order of their numbers. Two have the same number, so the one with the lower rack code is taken first. Number them one after another."),
		page(CodeTourDiffers, "One of today's routes has two vehicle types or intervals", "The rows of one route of the sheet Current routes disagree. The first vehicle type and the first interval that they give were taken. Give them once for a route."),
		page(CodeRuleIncomplete, "A rule about routes lacks something", "A pin needs a rack and a route, a rule that keeps racks apart or in order needs two racks, and a closed aisle needs its two ends. The row was not used. Fill in what is missing."),
		page(CodeRuleNoAisle, "A closed aisle is not there", "No row of the sheet Aisles joins the two points, so nothing was closed. Name the two ends of one aisle; a way over several aisles is closed by one row for each, or for the one that is blocked."),
		page(CodeRuleNoRoute, "A rack is pinned to a route that nobody drives today", "A plan names its routes anew, so a pin can only mean a route of the sheet Current routes. Racks that are pinned to the same name still stay on one route. Correct the name, or add the route of today."),
		page(CodeRuleContradicts, "Two rules about routes can not both be kept", "A rack is pinned to two routes, two racks shall each come before the other, or two racks shall be apart and on one route. Take one of the rules out."),
	}
}

func page(code, title, text string) finding.Page {
	return finding.Page{Code: code, Title: title, Text: text}
}
