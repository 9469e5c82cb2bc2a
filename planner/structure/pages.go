package structure

import "lanewright/planner/finding"

// Pages explains the codes of this package.
func Pages() []finding.Page {
	return []finding.Page{
		{Code: CodeSlopeLow, Title: "Lanes slope so little that containers may not start",
			Text: "The slope of a lane is its drop divided by its length. Under 3 % a light container, a soft carton or one that has stood for long may not start to roll by itself. The evidence for the figure is thin: try your own containers on your own rollers. Raise the upper edge where they stick."},
		{Code: CodeSlopeHigh, Title: "Lanes slope so much that containers may run away",
			Text: "The slope of a lane is its drop divided by its length. Over 8.8 % (5°) a heavy container gathers speed and strikes the stop or the container before it. The evidence for the figure is thin: try your heaviest container over the whole lane. Lower the upper edge or fit brakes."},
		{Code: CodeTall, Title: "A rack is tall for its base",
			Text: "A rack higher than four times its least base width may tip over when it is pushed, moved on casters or loaded on one side. Fix it to the floor or to its neighbour, or widen the base. This is a screening only: a licensed engineer, the makers' tables and local code decide."},
		{Code: CodeOwnMass, Title: "A rack type may carry no more than itself",
			Text: "The mass limit of a rack type holds for everything on it and its own mass together. Here the own mass alone reaches the limit, so no container can be placed on such a rack. Mostly one of the two figures is in another unit than its heading says."},
		{Code: CodeKitLacks, Title: "A kit lacks a part that every rack needs",
			Text: "A frame takes tubes for uprights, cross tubes, rails and braces, rollers, guides and stops. The rack type's kit has no such part, so neither build list nor drawing can be made. Add the part to the sheet Kit parts, or give the rack type another kit."},
		{Code: CodeTubeTooLong, Title: "A rack needs a tube longer than any the kit has",
			Text: "Each tube of a rack is cut from one stock length; a spliced tube is weak where it is joined. Add a longer stock length to the kit, make the rack smaller, or part it into two."},
		{Code: CodeTooNarrow, Title: "A rack becomes wider than its type says",
			Text: "The usable width of a level lies between the uprights, and these have the width of the kit's tube on each side. Together they are more than the width of the rack type, so a built rack would take more frontage than planned. Make the type wider, the usable width smaller, or take narrower uprights."},
		{Code: CodeRollersWide, Title: "Rollers stand too far apart for the shortest container",
			Text: "A container should lie on at least three rollers, else it drops between two of them and stops. So the pitch of the rollers is at most a third of the side that runs along the lane. Take closer rollers or turn the container."},
		{Code: CodeNoPassage, Title: "A container does not pass under what is above it",
			Text: "A container slides down its lane tilted by the slope. Its top must pass under every tube above, over the whole lane: where a return level stands over a supply level the two slope against each other and meet at the load side. The finding names the free height, square to the lane. Raise what is above, lower the level, or use lower containers."},
		{Code: CodeTubeInLane, Title: "A tube stands among those of another level",
			Text: "Two levels, or a level and a brace, are so close that a tube of the lower one stands where the upper one's tracks and cross tubes lie. The rack can not be built so. Raise the upper level by what the finding says."},
		{Code: CodeHand, Title: "A hand has too little room over a container",
			Text: "To take a piece a hand goes in over the front edge of the container, under the tube above. The plant's setting says how much room it wants there. Raise what is above or use a lower container."},
		{Code: CodeReach, Title: "The far wall of a container is out of easy reach",
			Text: "A piece at the far wall of a long container makes the operator bend forward and reach over the front edge, many times an hour. The limit is common practice, no source. Turn the container so that its shorter side runs along the lane, or use a shorter one."},
		{Code: CodeLevelLoad, Title: "A level is overloaded",
			Text: "With all its lanes full a cross tube or rail of the level bends more than its span over 180, or is stressed beyond six tenths of its yield stress, or a roller carries more than its maker allows. The finding names the one that governs. This screens only: the makers' load tables and a licensed engineer decide."},
		{Code: CodeUpright, Title: "An upright is overloaded or too slender",
			Text: "An upright buckles sideways long before its steel yields. What counts is its longest stretch that no tube ties, taken 1.7 times because the frame may sway. Tie the uprights in between, carry less, or take a wider tube. This screens only: a licensed engineer decides."},
		{Code: CodeSupport, Title: "A foot or caster is overloaded",
			Text: "The load of full lanes and the rack's own mass stand on its feet or casters, and the middle ones of a deep rack carry most. The maker's limit of one is passed. Take stronger ones or carry less."},
		{Code: CodeNoDesign, Title: "No rack can be designed for what it is to hold",
			Text: "The needs are put on levels between the lowest and the highest pick height, under each other's containers with room for a hand, no wider than the kit's longest cross tube and no heavier than the levels carry. Within these limits there is no rack for all of them. Share them out to two racks, make the rack deeper, take a stronger kit, or allow more levels or a wider range of pick heights."},
		{Code: CodeTips, Title: "A rack may tip over",
			Text: "The rack is judged over each edge with the containers that make it least firm: full top levels over empty ones, containers at one end of the lanes, one side only. It should lean by 10° before it falls, and be held one and a half times as firmly as a person's push lifts it. Anchor it, brace it to its neighbour, widen its base, or keep heavy containers low. The figures are common practice, no source, and screen only."},
	}
}
