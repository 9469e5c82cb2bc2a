package placement

import "lanewright/planner/finding"

// Pages explains the codes of this package.
func Pages() []finding.Page {
	return append([]finding.Page{
		{Code: CodeNoRack, Title: "No rack serves the station of a loop",
			Text: "A loop may lie only on racks of its cell that serve its station. None does, and the cell allows no rack type of which one could be added. Add the station to a rack on the sheet Racks, leave its list of stations blank so that it serves the whole cell, or allow the cell a rack type."},
		{Code: CodeBeyondWalk, Title: "Every rack is beyond the walk limit of the station",
			Text: "The walk limit is the straight line from the station to the farthest rack its operator may be sent to. All racks that serve the station, added ones too, stand farther. Check the coordinates and their unit first; then raise the limit, move a rack, or say where a new rack of the cell would stand."},
		{Code: CodeNoSupply, Title: "The racks that serve the station have no supply level",
			Text: "Full containers lie on supply levels; return levels slope back and carry empties. The racks that this loop may use have return levels only. Check the kinds on the sheet Levels, or add a rack with a supply level."},
		{Code: CodeTooTall, Title: "A container is too tall for every level",
			Text: "The container's height and the hand clearance above it must fit the clear height of the level. The finding names the level that comes nearest and the millimetres that are missing. Raise a level, use a lower container, or allow the cell a rack type with more clear height."},
		{Code: CodeTooLong, Title: "A container is too long for every lane",
			Text: "The side of the container that runs along the lane must fit the lane's length. On no flow side that the container allows does it. Use deeper racks, allow the other flow side, or use another container."},
		{Code: CodeTooWide, Title: "A lane is too wide for every level",
			Text: "A lane is as wide as its container across and the side clearance on both sides. No level, or on levels with guides that can not be moved no lane, is that wide; on racks that a plan opens only the share of the fill limit counts. Use a wider level, another flow side or another container."},
		{Code: CodeTooHeavy, Title: "One container is heavier than every level carries",
			Text: "Already one full container is more than the mass limit of the level, or of the rack after its own mass. Take pieces out of the container by a smaller standard pack, or use a level that carries more. Check the units of the masses first."},
		{Code: CodePin, Title: "A pin can not be kept",
			Text: "A pinned loop lies on the pinned rack, level and lane or nowhere. Here a rule forbids that place: the finding says which. Take the pin out, pin it elsewhere, or change what stands in its way."},
		{Code: CodeNoRoom, Title: "There is no room left for a loop",
			Text: "Every level on which it may lie is full, and no more racks may be added. The finding names the largest free stretch and what its lanes need. A shorter refill interval needs fewer containers and so fewer lanes; a smaller container, a freed lane or one more rack help too."},
		{Code: CodeNoLoadLeft, Title: "There is room for a loop but no load left",
			Text: "A level has width for it, but the mass limit of the level or of its rack would be passed. Fewer containers by a shorter refill interval, moving heavy parts to other racks, or one more rack help."},
		{Code: CodeKeptApart, Title: "A loop can not be kept apart from its neighbours",
			Text: "Parts of one keep-apart group and look-alikes never lie in neighbouring lanes, pinned lanes keep their number and fixed lanes their width. There is room and load on the level, but no order of its lanes obeys all three. Free a lane, loosen the group, or add a rack."},
		{Code: CodeFrontageUsed, Title: "The frontage of the cell is used up",
			Text: "One more rack would hold the loop, but the racks along the cell may not be wider in all than its frontage. Give the cell more frontage, replace a rack by one with more levels, or shorten refill intervals so that fewer lanes are needed."},
		{Code: CodeTooMany, Title: "A cell would need more racks than the planner adds",
			Text: "The planner adds at most 400 racks to one cell. Where that does not hold its loops, mostly a rate, a standard pack or a refill interval is in another unit than its heading says, and a loop has thousands of containers. Look at the largest loops of the cell first."},
		{Code: CodeSplit, Title: "A loop is shared out over several places",
			Text: "A loop is laid side by side on one level where that costs no added rack. Here no level had the room, so its containers lie on several levels or racks. First in, first out holds in each place only, and the handler refills at several places."},
		{Code: CodeRacksAdded, Title: "A cell needs more racks",
			Text: "The racks that stand do not hold all loops of the cell, so the planner proposes the cheapest it found of the allowed types within the frontage; where the plant gives no costs, the narrowest. The cell's bound says how far from the cheapest possible that may be."},
		{Code: CodeNoCost, Title: "A rack type has no cost while others have one",
			Text: "Racks to add are chosen by their cost. A type without one would be free and win every time, so it counts as dear per millimetre of width as the dearest type that has a cost, rounded up. Give it its cost, or take all costs out: then racks are chosen by the frontage they take."},
		{Code: CodeCurrentLevel, Title: "A row of the current layout names a level that its rack does not have",
			Text: "Parts lie on supply levels. The rack's type has no supply level of that number, so the row was left out: its containers count neither as moved nor as staying. Correct the level on the sheet Current layout, or the levels of the rack type."},
		{Code: CodeRollerPitch, Title: "A container lies on fewer than three rollers",
			Text: "The shortest container of a lane should always lie on at least three rollers, so the pitch of the rollers is at most a third of its length along the lane. Use rollers closer together in these lanes, or let the other side run along them."},
		{Code: CodeReturnShort, Title: "The return lanes of a rack are too short",
			Text: "Between two visits empties wait on the return lanes of the rack. How many there are is taken from each loop's use and demand model, with the container in use as likely to be nearly full as nearly empty; the length that all loops of the rack do not exceed at the plant's service level is more than its lanes can take, so the operator would have to put some elsewhere. A stack counts as one container as long as empties nest below the least clear height of the return levels; a lane takes whole containers only. Visit the rack more often (the finding names the longest interval that fits), add return lanes (it says how many would do), or use containers that nest."},
		{Code: CodeNoReturn, Title: "A rack has no return level for its empties",
			Text: "Returnable containers lie on the rack, but its type has no return level. If the empties go elsewhere, nothing is wrong; else give the rack type a return level, which slopes back to the load side. The finding says how many return lanes, as long as the rack's supply lanes, would hold what waits between two visits."},
	}, editPages()...)
}
