package buildlist

import "lanewright/planner/finding"

// Pages explains the codes of this package.
func Pages() []finding.Page {
	return []finding.Page{
		{Code: CodeJoints, Title: "A kit has nothing that holds two tubes together",
			Text: "A build list counts connectors and fasteners by the joints of a rack: wherever the end of a tube meets the side of another. The kit has no connector and no fastener with a count per joint, so the list is short of them. Add them to the sheet Kit parts."},
		{Code: CodeSupport, Title: "A kit has no foot or caster for a rack",
			Text: "Every upright stands on a foot, or on a caster where the rack type says so. Without feet the rack can not be levelled, and a level that leans sideways lets containers drift against their guides. Add the part with its building height and the maker's limit to the sheet Kit parts."},
		{Code: CodeUncover, Title: "Nobody knows whether a guide or track covers the lane",
			Text: "Guides and roller tracks are laid along the whole lane, in as few pieces as the lengths allow in which they are bought. The kit gives none for this part, so each lane counts one piece and no cut list can be made of them. List the stock lengths in the sheet Kit parts."},
		{Code: CodeHoleEnd, Title: "A hole lies too near to the end of a tube",
			Text: "Where a tube is bolted to the very end of another the hole tears out of it. The least distance of its middle from the end is 1.2 hole diameters. Mostly a return level slopes so low at the load side that it meets the uprights at their feet: raise it, slope it less, or take a lower foot."},
		{Code: CodeNarrow, Title: "Guides leave a container no way",
			Text: "A plan leaves so much between two lanes as the plant's guide width says. The guides of the kit are wider, and reach so far into a lane that its container does not pass. Set the plant's guide width to that of the kit and plan anew, or take narrower guides."},
		{Code: CodeStruck, Title: "Outer guides run into uprights",
			Text: "Deep racks have uprights between the first and the last row, and the outer guides pass them. Here the usable width and a guide on each side take more than there is between the uprights. Make the usable width smaller or the rack wider, or cut the guides out where they pass the uprights."},
		{Code: CodeLoose, Title: "Two pieces of a track or guide meet in the air",
			Text: "A lane longer than the longest stock takes several pieces, and these should meet over a cross tube. With the fewest pieces there is none in reach. Tie the two pieces to each other, move a cross tube there, or take a longer stock."},
		{Code: CodeTooLong, Title: "Pieces are longer than any stock",
			Text: "A cut list leaves out pieces that no stock length of their part is long enough for, and says which. A tube is not spliced, for it would be weak where it is joined. Add a longer stock length to the kit, or make the racks smaller."},
		{Code: CodeStore, Title: "Bars in the store are of no part that is needed",
			Text: "Bars and offcuts in the store are cut first, where a piece is made of the same part. No piece of these racks is cut from the part that is named: most often it is written differently in the kit."},
		{Code: CodeUnpriced, Title: "The cost of a build list is partial",
			Text: "The kit gives no price for some parts. The cost is then that of the others only, and where no part has a price it is not known at all. A price that is not known never counts as 0. Fill in the prices in the sheet Kit parts."},
	}
}
