package placement

import "lanewright/planner/finding"

// editPages explains the codes of layouts changed by hand.
func editPages() []finding.Page {
	return []finding.Page{
		{Code: CodeEditRefused, Title: "An edit could not be done",
			Text: "The edit names a loop, rack, level, lane or container that the plan does not have, or one that is not a single thing: two loops change places only where each lies on one level. It was left out; the edits before and after it were made."},
		{Code: CodeEditNotServed, Title: "A loop was laid on a rack that does not serve its station",
			Text: "An operator takes parts from the racks of the cell that serve the station. Lay the loop on one of these, or add the station to the rack on the sheet Racks."},
		{Code: CodeEditWalk, Title: "A loop was laid beyond the walk limit of its station",
			Text: "The rack stands farther from the station in a straight line than its operator may be sent. Choose a nearer rack, or raise the walk limit of the station."},
		{Code: CodeEditTooTall, Title: "A loop was laid on a level that is too low for it",
			Text: "The container's height and the hand clearance above it must fit the clear height of the level. Choose a level with more height or a lower container; where the level can be raised, the finding says by how much."},
		{Code: CodeEditTooLong, Title: "A loop was laid on lanes that are too short for its container",
			Text: "Not one container fits the length of the lane with that side along it. The layout shows one container in each lane, which overhangs. Take the other flow side where the container allows it, a deeper rack or another container."},
		{Code: CodeEditSide, Title: "A container was turned to a flow side that it does not allow",
			Text: "Some containers roll with one side along the lane only. Take the flow side that the sheet Containers allows, or allow both there."},
		{Code: CodeEditNarrow, Title: "A loop was laid in fixed lanes that are too narrow",
			Text: "The guides of the level can not be moved, and a lane must have the container's width and the side clearance on both sides. Choose wider lanes or turn the container."},
		{Code: CodeEditNoRoom, Title: "A level is over-full",
			Text: "The lanes on a level, with the guides between them, may not be wider together than the level; on racks that a plan opens only the share of the fill limit counts. Lanes beyond the width are shown all the same, so that it can be seen what is too much. On a level with fixed lanes a loop that finds its lanes taken stands beyond the last one. Take lanes off the level; the finding says how many millimetres are missing."},
		{Code: CodeEditLevelMass, Title: "A level is overloaded",
			Text: "The full containers that lie on the level weigh more than its mass limit. Lay heavy parts on other levels; the finding says how many kilograms are too much."},
		{Code: CodeEditRackMass, Title: "A rack is overloaded",
			Text: "The full containers of all levels and the rack's own mass are more than the mass limit of the rack. Lay heavy parts on other racks."},
		{Code: CodeEditApart, Title: "Parts that must be kept apart are neighbours",
			Text: "Parts of one keep-apart group and look-alikes never lie in neighbouring lanes of a level. Put another part or an empty lane between them."},
		{Code: CodeEditClosed, Title: "A loop lies in a closed lane",
			Text: "The lane was closed by hand, so no loop may use it. Loops are never moved without being told: the one that lies there has to be moved by another edit."},
		{Code: CodeEditPin, Title: "A loop does not lie where it is pinned",
			Text: "All lanes of a pinned loop are on the pinned rack and level, and one of them has the pinned number. Lane numbers change when something is laid before them. Move the loop back or take the pin off."},
		{Code: CodeEditUnplaced, Title: "Containers of a loop lost their lane",
			Text: "A loop that needs more containers, or whose place another took, keeps the lanes it has; what they do not hold has no lane. Move the loop to a place with room: a move takes along what has no lane."},
		{Code: CodeEditGrossLimit, Title: "A container is too heavy with the pack that an edit gave it",
			Text: "The pieces and the empty container weigh more than the gross limit of the container. Give it a smaller pack."},
	}
}
