package importers

import "lanewright/planner/finding"

// Pages explains every code that reading and joining raise; the codes of files
// that are refused are explained by importers/sheet, those of plant.Check by
// planner/plant.
func Pages() []finding.Page {
	return append(append(pagesOfSheets(), pagesOfRows()...), pagesOfCodes()...)
}

func page(code, title, text string) finding.Page {
	return finding.Page{Code: code, Title: title, Text: text}
}

func pagesOfSheets() []finding.Page {
	return []finding.Page{
		page(CodeSheetUnknown, "A sheet was not read", "Neither the name of the sheet nor its headings are those of a plant's sheets, so its rows are kept out of the plan. That is fine for notes and pivots. If the sheet holds facts, give it the name and headings of the template (lanewright template)."),
		page(CodeSheetByHeadings, "A sheet was recognised by its headings", "The name of the sheet is none of a plant's sheets, but its headings are complete for one. Rename it if that is right; take it out of the file if it is something else."),
		page(CodeSheetSecond, "A second sheet of one kind was not read", "The headings fit a kind of sheet that is there under its own name as well. Old copies often stay in a workbook, and reading both would mix them, so only the named one was read."),
		page(CodeSheetHidden, "A hidden sheet was met", "Hidden sheets are treated like all others. Show the sheet to see what it holds, or take it out of the file."),
		page(CodeSheetMissing, "A sheet is missing without which nothing can be planned", "Parts say in which container and pack they come, Containers how large these are, Usage where parts are used and how fast. One flat table with all three does as well: one row per part and station. Any other sheet is missed when rows name what it defines: products in Usage, aisle points in Racks."),
		page(CodeSheetDerived, "Cells and stations were taken from the rows that name them", "There is no sheet Cells or Stations, so every code that a row names became a cell or a station. A mistyped code makes one of its own: look through the list. Without coordinates no walking is counted."),
		page(CodeColumnMissing, "A sheet lacks a column that it can not be read without", "None of its rows can be used. The finding lists the headings that were found. Name the column as the template does, or add it. Headings may stand below titles, within the first 50 rows."),
		page(CodeColumnUnknown, "A column is not known", "Its values are kept out of the plan. Nothing needs to be done for columns that the plan does not use."),
		page(CodeColumnNear, "A heading resembles a known column", "It was not taken for that column, for that would be a guess; its values are kept out of the plan. Correct the heading if it was meant."),
		page(CodeColumnRepeated, "Two columns mean the same", "Both headings are names of one column. A canonical name counts before other names, and the first before the second; the other column was not read. Take one of them out or rename it."),
		page(CodeColumnNoHeading, "A column has values but no heading", "Nothing says what its values are, so they are kept out of the plan. Give the column a heading if the plan needs it."),
		page(CodeColumnUnit, "A heading names a unit that its column does not have", "Pieces, packs and rates have no unit beside the one the column is named after, so nothing was converted: 10 under Units per day (dozen) is read as ten. Convert the values, or take the unit out of the heading."),
		page(CodeTitleUnit, "A title names a unit that a column was not read in", "A row above the headings says inches, say, while neither the headings nor the cells of a column with lengths name a unit: its values were read in the plant's own. What a title is about can not be known, so nothing was converted. Write the unit behind the heading, say it in a mapping, or set it in the sheet Plant."),
		page(CodeCellBySheet, "Sheets were taken for one cell each, after their names", "Two or more flat tables of one file have every column they need but Cell: that is a workbook with a sheet for each cell, and the sheet's name became the cell of its rows. If the names are something else, weeks or products say, add a column Cell. A single table without the column, and sheets that nobody named, are not read this way."),
		page(CodeSettingUnknown, "A setting is not known", "It changes nothing in the plan. The finding lists the settings that there are, and the one that was probably meant."),
		page(CodeSettingRepeated, "A setting stands twice", "With the same value that is harmless; with two values it can not be known which one holds. Take one of the rows out."),
		page(CodePlantNoName, "No Plant sheet names the plant", "The name of the file was taken. Add the sheet Plant with the setting Plant name, so that plans of one plant can be compared."),
		page(CodeShiftDefault, "No shifts are given", "One shift of 480 net minutes, Monday to Friday, was assumed. The net minutes of a day turn units per day into a rate, and departures are timed by them; add the sheet if the plant works other hours."),
		page(CodeRackTypesShipped, "No rack types are given", "Generic gravity flow racks that the program ships with were taken: measures by common practice, costs 0. Add the sheets Rack types and Levels with what the plant builds or buys before anything is ordered."),
		page(CodeFlatNoRows, "A flat table has headings and no rows", "The headings are those of a flat table, but nothing stands below them, so there is nothing to plan. A filter that was exported with the table, or an export that was broken off, does that. Fill in one row per part and station."),
		page(CodeFlatNamed, "Containers were named after their measures", "The flat table has no container codes in these rows, so rows with the same length, width and height share one container. Add a column Container to name them yourself."),
	}
}

func pagesOfRows() []finding.Page {
	return []finding.Page{
		page(CodeMissingValue, "A value that its row needs is blank", "Blank, a dash, n/a and tbd all mean that there is no value. The row was left out. Fill in the cell, or delete the row if it is not needed."),
		page(CodeBadValue, "A value can not be read", "The finding says what was expected in that cell and what stands there. The row was left out, for a wrong value would change the plan. Numbers may have a decimal point or comma and a unit; a mark that could be either is not guessed."),
		page(CodeOutOfRange, "A value lies outside its range", "It was read, but nothing in a plant has such a value: a length of 0, a service level of 100 %. Most often its unit or decimal mark is wrong. The row was left out."),
		page(CodeIgnoredValue, "A value was left away", "It is for information only, or it counts nothing in this row. The row was used without it."),
		page(CodeHalf, "Only half of what belongs together is given", "A place needs both coordinates, and a break its start and its minutes. Fill in the other half or clear this one. The row was left out."),
		page(CodePercentOrShare, "A percentage may have been meant as a share", "Columns in percent take 99.5 for 99.5 %. A value of at most one percent without its sign is probably a share, such as 0.995; it was used as it stands. Write it with its percent sign."),
		page(CodeNothingKnown, "A row has no value in a known column", "It was skipped: it may be a note, or a line between two blocks."),
		page(CodeRemark, "A row was taken for a remark", "All it holds is one text, a sentence rather than a code, and its sheet needs several values in each row, so it was skipped. If it is the beginning of a row, fill in the rest."),
		page(CodeRowsHidden, "A sheet has hidden rows", "Somebody hid them, or a filter does. They are read like all others, for what is hidden is easily forgotten and still counts. Delete them if they should not."),
		page(CodeColumnsHidden, "A sheet has hidden columns", "They are read like all others. Show them to see what they hold."),
		page(CodeColumnWords, "A column is known by the words of its heading", "The heading as a whole is no known name, but word by word it is: abbreviations written out and words of four languages taken for one. If it means something else, rename it or say in a mapping what it means."),
		page(CodeSheetSeveral, "A sheet holds several tables", "Tables that stand one below the other with a blank row between, or side by side with a blank column between, are read each by its own headings. If they are one table, take the blank row or column and the second headings out."),
		page(CodeTooManyRows, "There are more rows than are read at once", "A workbook can be filled down to a million rows by one careless gesture, and reading them all would take the machine's memory from everybody. No row was read. Take out what was filled or copied by mistake and old days of history; a plant that is really larger is handed in as several, by area."),
		page(CodeSheetKept, "A sheet was kept from an earlier revision", "The files were read onto an earlier revision and do not bring this sheet, so its facts were taken over as they were. Hand in the sheet to change it; a whole sheet is replaced, not single rows."),
		page(CodeMappingUsed, "A sheet was read by a mapping", "Somebody said earlier, or with this file, what its columns mean. What the mapping does not say was recognised as usual. lanewright map writes a mapping; it can be edited in any text editor."),
		page(CodeMappingDecimal, "The mapping names another decimal mark than the file has", "Every number of the file that is clear by itself has the other mark, so one such as 1.250 would be read as something else than was meant. Correct the line in the mapping, or write the file as before."),
		page(CodeMappingNoTable, "A mapping is about a table that is not there", "No sheet has all the headings that the mapping names for it. Propose a mapping for the file anew, or correct the headings in it."),
		page(CodeTotal, "A row was taken for a total", "It begins with a word for a sum and lacks a value that every row of the sheet needs, so it was skipped."),
		page(CodeRepeatedRow, "A row says exactly what an earlier one says", "Rows of use add up, so both were counted; a row copied by mistake doubles the use. In other sheets the second row was left out and nothing is lost. Take one of them out."),
		page(CodeDuplicate, "A code stands twice", "A part, container, cell, rack and so on is defined by one row. Which of the two holds can not be known, so the later one was left out. Take one out, or give one another code."),
		page(CodeDateAsCode, "A code is a date in the sheet", "Spreadsheet programs turn codes such as 3-4 or 1/2 into dates when they are typed, and what was typed is lost. The date was used as the code. Give the column the format Text and type the code again."),
		page(CodeDifferInCase, "A code is written in two ways", "Codes that differ only in upper and lower case, or in space around them, are one code; the first spelling is used throughout. Reported once for each code."),
		page(CodeLookAlike, "A code looks like another one", "Letters of another script (a Cyrillic А), full-width digits or another kind of hyphen look the same and are not. Codes that only look alike are kept apart and never made one; if one thing is meant, type the code anew in both places."),
		page(CodeOuterSpace, "A code has space around it", "Space around a code is no part of it and was cut, no-break spaces too. Everything inside the code stays as it is."),
		page(CodeNumber, "Codes are numbers in the sheet", "A spreadsheet forgets zeros in front and turns 1E5 into 100000 when a code is typed as a number. Where the format of the cell fixes what is shown (00123), that is the code; elsewhere the number is. Give the column the format Text to keep codes as they are typed."),
		page(CodeNoRate, "A row of use does not say how much is used", "A row with a product needs Quantity per unit; a row without needs Pieces per hour or Pieces per day. 0 is allowed."),
		page(CodeTwoRates, "A row gives its use in two ways", "A row with a product gives Quantity per unit, a row without gives Pieces per hour or Pieces per day. With two of them it can not be known which one holds, or whether they add up."),
		page(CodeHistoryBoth, "A row of history names no product and no part, or both", "A row is what was built of a product, or what was used of a part, on one day. Fill in one of the two."),
		page(CodeShiftConflict, "A shift stands twice with different hours", "Several rows with one shift name add breaks to one shift; days, start and end must then be the same, or blank. Give the second shift another name if it is one."),
		page(CodeFlatContainer, "A row of a flat table gives no container", "It needs a container code, or the length, width and height of its container."),
		page(CodeFlatConflict, "Rows of a flat table contradict each other", "A part has one container and standard pack, and a container one size, whichever station they go to. The row that differs from an earlier one was left out. Make the rows the same, or give one of the things another code."),
		page(CodeFlatDiffers, "Rows of a flat table differ in what is for information", "Description, market address or unit cost of one part differ between rows; the first was used. The plan does not depend on it."),
		page(CodeCurrentTwice, "A lane stands twice in the current layout", "A lane holds one part. The later row was left out; moves are counted against the first one."),
	}
}

func pagesOfCodes() []finding.Page {
	const leftOut = " The row was left out. Correct the code, or add what it names to its sheet."
	return []finding.Page{
		page(CodeUnknownContainer, "A part names a container that is not there", "Without its container a part has no size, and no lane can be planned."+leftOut),
		page(CodeUnknownLookAlike, "A part names a look-alike that is not there", "The part was used without its look-alike, so the two may come to lie side by side. Correct the code or clear the cell."),
		page(CodeProductCell, "A product names a cell that is not there", "The cell is only needed for a product that runs in one cell."+leftOut),
		page(CodeUsagePart, "A row of use names a part that is not there", "Without the part's container and pack its use can not be turned into containers."+leftOut),
		page(CodeUsageProduct, "A row of use names a product that is not there", "Without its units per day there is no rate."+leftOut),
		page(CodeUsageCell, "A row of use names a cell that is not there", "A point of use is a station of a cell."+leftOut),
		page(CodeUsageStation, "A row of use names a station that its cell does not have", "Station codes are unique within their cell; the same code in another cell is another station."+leftOut),
		page(CodeHistoryUnknown, "A row of history names something that is not there", "The row was left out; the plan can do without it."),
		page(CodeStationCell, "A station names a cell that is not there", "Every station belongs to a cell."+leftOut),
		page(CodeCellShift, "A cell names a shift that is not there", "The shifts of a cell decide over how many minutes its use is spread."+leftOut),
		page(CodeCellRackType, "A cell allows a rack type that is not there", "Only these types may be added to the cell."+leftOut),
		page(CodeCellPoint, "A cell names an aisle point that is not there", "It is where a new rack of the cell would be served."+leftOut),
		page(CodeKitPartKit, "A part belongs to a kit that is not there", "Each part of a kit is a row with its kit, which the sheet Kits defines."+leftOut),
		page(CodeLevelRackType, "A level belongs to a rack type that is not there", "Each level is a row with its rack type."+leftOut),
		page(CodeRackType, "A rack is of a type that is not there", "The type gives a rack its levels and measures."+leftOut),
		page(CodeRackCell, "A rack stands in a cell that is not there", "A rack serves stations of its cell."+leftOut),
		page(CodeRackStation, "A rack serves a station that its cell does not have", "Blank means all stations of the cell."+leftOut),
		page(CodeRackPoint, "A rack is served at an aisle point that is not there", "Routes stop at the aisle points of racks."+leftOut),
		page(CodeAislePoint, "An aisle leads to a point that is not there", "An aisle joins two points of the sheet Aisle points."+leftOut),
		page(CodeVehicleMarket, "A vehicle starts from a point that is not there", "Rounds start and end at a market of the sheet Aisle points."+leftOut),
		page(CodeCurrentUnknown, "The current layout names something that is not there", "The row was left out; only moves are counted from the current layout, so the plan can do without it."),
		page(CodePinPart, "A pin names a part that is not there", "A pin keeps a part where it is."+leftOut),
		page(CodePinRack, "A pin names a rack that is not there", "A pin keeps a part in a rack of the sheet Racks."+leftOut),
		page(CodePinStation, "A pin names a station that the rack's cell does not have", "Blank means every loop of the part in that cell."+leftOut),
		page(CodeTurnPoint, "A turn names an aisle point that is not there", "From point and To point are the next points along two aisles that meet At point; a blank one means any."+leftOut),
		page(CodeVehicleParking, "A vehicle is parked at a point that is not there", "Parking is a point of the sheet Aisle points; blank is the market."+leftOut),
		page(CodeTourUnknown, "Today's routes name something that is not there", "A row names a rack or a vehicle type that the plant does not have. The row was left out; a plan can be made without it, but the comparison with today lacks the stop."),
		page(CodeRuleUnknown, "A rule about routes names something that is not there", "Racks and aisle points of a rule must be those of the sheets Racks and Aisle points."+leftOut),
	}
}
