package importers

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/finding"
)

const (
	failure = finding.Error
	warning = finding.Warning
	note    = finding.Note
)

// findingCases break the sound workbook in one way each. place is where the
// finding points; used tells what became of the row.
var findingCases = []struct {
	code     string
	severity finding.Severity
	place    string
	says     string
	change   func(workbook)
}{
	// Sheets and headings.
	{CodeSheetUnknown, note, "Remarks", "Remarks", func(w workbook) { w.add("Remarks", "Ask Ingrid about the trays") }},
	{CodeSheetByHeadings, note, "Lieferanten", "Pins", func(w workbook) { w["Lieferanten"] = w["Pins"]; w.without("Pins") }},
	{CodeSheetSecond, warning, "Parts 2019", "looks like Parts", func(w workbook) { w["Parts 2019"] = w["Parts"][:2] }},
	{CodeSheetMissing, failure, "", "Containers", func(w workbook) { w.without("Containers") }},
	{CodeSheetMissing, failure, "", "no sheet Products", func(w workbook) { w.without("Products") }},
	{CodeSheetMissing, failure, "", "no sheet Aisle points", func(w workbook) { w.without("Aisle points") }},
	{CodeSheetMissing, failure, "", "name rack types (", func(w workbook) { w.without("Rack types") }},
	{CodeUsageProduct, failure, "Usage!A2", "There is no sheet Products", func(w workbook) { w.without("Products") }},
	{CodeUsagePart, failure, "Usage!B2", "lacks a column", func(w workbook) { w.set("Parts", "E1", "") }},
	{CodeUsageProduct, failure, "Usage!A2", "has no rows", func(w workbook) { w["Products"] = w["Products"][:1] }},
	{CodeSheetDerived, note, "", "2 cells and 4 stations", func(w workbook) { w.without("Cells", "Stations") }},
	{CodeColumnMissing, failure, "Parts!1", "Standard pack", func(w workbook) { w.set("Parts", "E1", "Stondard pakc") }},
	{CodeColumnMissing, failure, "Usage!1", "Pieces per hour", func(w workbook) {
		w.set("Usage", "E1", "a").set("Usage", "G1", "b")
	}},
	{CodeColumnUnknown, note, "Parts!K1", "Colour", func(w workbook) { w.set("Parts", "K1", "Colour") }},
	{CodeColumnNear, warning, "Parts!F1", "Market address", func(w workbook) { w.set("Parts", "F1", "Market addrss") }},
	{CodeColumnRepeated, warning, "Parts!K1", "Qty/Box", func(w workbook) { w.set("Parts", "K1", "Qty/Box") }},
	{CodeColumnUnit, warning, "Products!C1", "per week", func(w workbook) { w.set("Products", "C1", "Units per day (per week)") }},
	{CodeColumnUnit, warning, "Parts!E1", "dozen", func(w workbook) { w.set("Parts", "E1", "Standard pack [dozen]") }},
	{CodeColumnMissing, failure, "Usage!1", "look like weeks", func(w workbook) {
		w.set("Usage", "E1", "KW 40").set("Usage", "F1", "KW 41").set("Usage", "G1", "KW 42").set("Usage", "H1", "KW 43")
	}},
	{CodeTitleUnit, warning, "Containers!1", "inches", func(w workbook) {
		w["Containers"] = append([][]string{{"All dimensions in inches"}}, w["Containers"]...)
		w.set("Containers", "B2", "Length").set("Containers", "C2", "Width").set("Containers", "D2", "Height")
	}},
	{CodeColumnNoHeading, note, "Parts!K1", "Column K", func(w workbook) { w.set("Parts", "K3", "?!") }},
	{CodeSettingUnknown, warning, "Plant!A19", "Refil intervall", func(w workbook) { w.add("Plant", "Refil intervall", "20") }},
	{CodeSettingRepeated, failure, "Plant!B19", "60", func(w workbook) { w.add("Plant", "Hand clearance (mm)", "70") }},
	{CodeSettingRepeated, warning, "Plant!B19", "twice", func(w workbook) { w.add("Plant", "Hand clearance", "60") }},
	{CodePlantNoName, note, "", `"plant"`, func(w workbook) { w.without("Plant") }},
	{CodeShiftDefault, note, "", "480", func(w workbook) { w.without("Shifts").set("Cells", "D2", "").set("Cells", "D3", "") }},
	{CodeRackTypesShipped, note, "", "generic", func(w workbook) {
		w.without("Rack types", "Levels", "Racks", "Current layout", "Pins").set("Cells", "F2", "")
	}},

	{CodeColumnWords, note, "Parts!C1", "by its words", func(w workbook) { w.set("Parts", "C1", "Piece wgt (kg)") }},
	{CodeSheetSeveral, note, "Parts", "2 tables", func(w workbook) {
		w.add("Parts").add("Parts", "Carrier list").add("Parts", "Rack", "Level", "Lane", "Part").add("Parts", "R1", "1", "1", "L-100")
		w.without("Current layout")
	}},

	// Values.
	{CodeMissingValue, failure, "Parts!D3", "Container", func(w workbook) { w.set("Parts", "D3", " n/a ") }},
	{CodeMissingValue, failure, "Usage!A2", "Product", func(w workbook) { w.set("Usage", "A2", "") }},
	{CodeMissingValue, failure, "Shifts!B4", "Days", func(w workbook) { w.set("Shifts", "B4", "").set("Shifts", "C4", "").set("Shifts", "D4", "") }},
	{CodeBadValue, failure, "Parts!E2", `"twenty"`, func(w workbook) { w.set("Parts", "E2", "twenty") }},
	{CodeBadValue, failure, "Parts!E2", `"2.5"`, func(w workbook) { w.set("Parts", "E2", "2.5") }},
	{CodeBadValue, failure, "Containers!I3", "lengthways", func(w workbook) { w.set("Containers", "I3", "lengthways") }},
	{CodeBadValue, failure, "Racks!H2", "2 - 416", func(w workbook) { w.set("Racks", "H2", "2 - 416") }},
	{CodeBadValue, failure, "Racks!H2", "2: 416; 2: 317", func(w workbook) { w.set("Racks", "H2", "2: 416; 2: 317") }},
	{CodeBadValue, failure, "Racks!H2", "2: 416,", func(w workbook) { w.set("Racks", "H2", "2: 416,") }},
	{CodeBadValue, failure, "Racks!H2", "decimal mark or part", func(w workbook) { w.withDecimalCommas().set("Racks", "H2", "2: 416,5") }},
	{CodeBadValue, failure, "Plant!B10", "decimal mark or part", func(w workbook) { w.withDecimalCommas().set("Plant", "B10", "15,20") }},
	{CodeBadValue, failure, "Plant!B5", "Europe/Trondhjem", func(w workbook) { w.set("Plant", "B5", "Europe/Trondhjem") }},
	{CodeBadValue, failure, "Plant!B3", "furlong", func(w workbook) { w.set("Plant", "B3", "furlong") }},
	{CodeOutOfRange, failure, "Parts!E2", `"0"`, func(w workbook) { w.set("Parts", "E2", "0") }},
	{CodeOutOfRange, failure, "Containers!C2", `"-400"`, func(w workbook) { w.set("Containers", "C2", "-400") }},
	{CodeOutOfRange, failure, "Usage!K3", `"100"`, func(w workbook) { w.set("Usage", "K3", "100") }},
	{CodeOutOfRange, failure, "Products!D2", `"20"`, func(w workbook) { w.set("Products", "D2", "20") }},
	{CodeOutOfRange, failure, "Plant!B8", `"100"`, func(w workbook) { w.set("Plant", "B8", "100") }},
	{CodeOutOfRange, failure, "Plant!B10", `"0"`, func(w workbook) { w.set("Plant", "B10", "20, 0") }},
	{CodeBadValue, failure, "Plant!B19", "one of cycle, year, fill", func(w workbook) { w.add("Plant", "Service measure", "monthly") }},
	{CodeBadValue, failure, "Plant!B19", "one of empirical, variation, all", func(w workbook) { w.add("Plant", "History decides", "some") }},
	{CodeBadValue, failure, "Plant!B19", "names months", func(w workbook) { w.add("Plant", "Rack life (months)", "120") }},
	{CodeOutOfRange, failure, "Plant!B19", "above 0", func(w workbook) { w.add("Plant", "Shortages per year", "0") }},
	{CodeOutOfRange, failure, "Plant!B19", "above 0", func(w workbook) { w.add("Plant", "Shortages per year", "-2") }},
	{CodeOutOfRange, failure, "Plant!B19", "at most 53", func(w workbook) { w.add("Plant", "Weeks per year", "0") }},
	{CodeOutOfRange, failure, "Plant!B19", "at most 53", func(w workbook) { w.add("Plant", "Weeks per year", "54") }},
	{CodeOutOfRange, failure, "Plant!B19", "0 or more", func(w workbook) { w.add("Plant", "Handler cost per hour", "-31") }},
	{CodeOutOfRange, failure, "Plant!B19", "0 to 100", func(w workbook) { w.add("Plant", "Stock interest (%)", "800") }},
	{CodePercentOrShare, warning, "Plant!B19", "0.08", func(w workbook) { w.add("Plant", "Stock interest (%)", "0.08") }},
	{CodeIgnoredValue, warning, "Parts!G2", "cheap", func(w workbook) { w.set("Parts", "G2", "cheap") }},
	{CodeIgnoredValue, warning, "Usage!H2", "variation", func(w workbook) { w.set("Usage", "H2", "0.1") }},
	{CodeHalf, failure, "Stations!C2", "its X", func(w workbook) { w.set("Stations", "D2", "") }},
	{CodeHalf, failure, "Shifts!E2", "Break start", func(w workbook) { w.set("Shifts", "F2", "") }},
	{CodePercentOrShare, warning, "Plant!B8", "0.995", func(w workbook) { w.set("Plant", "B8", "0.995") }},

	// Rows.
	{CodeNothingKnown, note, "Parts!6", "Row 6", func(w workbook) { w.set("Parts", "K6", "checked by Ingrid") }},
	{CodeRemark, note, "Parts!6", "as of last week", func(w workbook) { w.add("Parts", "as of last week") }},
	{CodeTotal, note, "Usage!6", "total", func(w workbook) { w.add("Usage", "Gesamt:", "", "", "", "7") }},
	{CodeTotal, note, "Usage!6", "total", func(w workbook) { w.add("Usage", "Total", "", "", "", "7") }},
	{CodeRepeatedRow, warning, "Parts!6", "row 2", func(w workbook) { w.add("Parts", w["Parts"][1]...) }},
	{CodeRepeatedRow, warning, "Usage!6", "both", func(w workbook) { w.add("Usage", w["Usage"][4]...) }},
	{CodeDuplicate, failure, "Parts!A6", "L-100", func(w workbook) { w.add("Parts", "L-100", "", "", "BOX", "30") }},
	{CodeDuplicate, failure, "Racks!A5", "both are meant", func(w workbook) { w.add("Racks", w["Racks"][1]...) }},
	{CodeDuplicate, failure, "Racks!A5", "R1", func(w workbook) { w.add("Racks", "R1", "FR3", "C2", "", "", "", "P1") }},
	{CodeDuplicate, failure, "Levels!B5", "2", func(w workbook) { w.add("Levels", "FR3", "2", "supply", "700", "60", "1450", "1170", "345") }},
	{CodeDuplicate, failure, "Stations!A6", "10", func(w workbook) { w.add("Stations", "10", "C1", "1", "1") }},
	{CodeDuplicate, failure, "Containers!A4", "BOX", func(w workbook) { w.add("Containers", "box ", "", "300", "200", "100") }},
	{CodeDifferInCase, warning, "Usage!B2", "l-100", func(w workbook) { w.set("Usage", "B2", "l-100") }},
	{CodeDifferInCase, warning, "Parts!D3", `"tray\u00a0"`, func(w workbook) { w.set("Parts", "D3", "tray\u00a0") }},
	{CodeLookAlike, warning, "Parts!A6", "looks like", func(w workbook) {
		w.add("Parts", "L-1\uff100", "", "", "BOX", "30").add("Parts", "L-10", "", "", "BOX", "30")
	}},
	{CodeLookAlike, warning, "Parts!A6", "two scripts", func(w workbook) { w.add("Parts", "PА-7", "", "", "BOX", "30") }},
	{CodeOuterSpace, note, "Parts!A6", "was cut", func(w workbook) { w.add("Parts", "P7 ", "", "", "BOX", "30") }},
	{CodeNoRate, failure, "Usage!A2", "how much", func(w workbook) { w.set("Usage", "E2", "") }},
	{CodeNoRate, failure, "Usage!B5", "how much", func(w workbook) { w.set("Usage", "G5", "tbd") }},
	{CodeTwoRates, failure, "Usage!G2", "two ways", func(w workbook) { w.set("Usage", "G2", "60") }},
	{CodeHistoryBoth, failure, "History!A2", "not both", func(w workbook) { w.set("History", "B2", "1E5") }},
	{CodeShiftConflict, failure, "Shifts!C3", "early", func(w workbook) { w.set("Shifts", "C3", "07:00") }},
	{CodeCurrentTwice, warning, "Current layout!C4", "Lane 1", func(w workbook) { w.add("Current layout", "R1", "2", "1", "1E5") }},

	// Names of things that are not there.
	{CodeUnknownContainer, failure, "Parts!D3", `"TRAI"`, func(w workbook) { w.set("Parts", "D3", "TRAI") }},
	{CodeUnknownLookAlike, warning, "Parts!J3", `"4-3"`, func(w workbook) { w.set("Parts", "J3", "4-3") }},
	{CodeProductCell, failure, "Products!E3", `"C9"`, func(w workbook) { w.set("Products", "E3", "C9") }},
	{CodeUsagePart, failure, "Usage!B3", `"123"`, func(w workbook) { w.set("Usage", "B3", "123") }},
	{CodeUsagePart, failure, "Usage!B3", "left out itself", func(w workbook) { w.set("Parts", "E3", "") }},
	{CodeUsageProduct, failure, "Usage!A2", `"MASTS"`, func(w workbook) { w.set("Usage", "A2", "MASTS") }},
	{CodeUsageCell, failure, "Usage!C2", `"C9"`, func(w workbook) { w.set("Usage", "C2", "C9") }},
	{CodeUsageStation, failure, "Usage!D2", `"30" in cell C1`, func(w workbook) { w.set("Usage", "D2", "30") }},
	{CodeHistoryUnknown, warning, "History!A2", `"MAST2"`, func(w workbook) { w.set("History", "A2", "MAST2") }},
	{CodeStationCell, failure, "Stations!B2", `"C9"`, func(w workbook) { w.set("Stations", "B2", "C9") }},
	{CodeCellShift, failure, "Cells!D2", `"late"`, func(w workbook) { w.set("Cells", "D2", "early, late") }},
	{CodeCellRackType, failure, "Cells!F2", `"FR9"`, func(w workbook) { w.set("Cells", "F2", "FR9") }},
	{CodeCellPoint, failure, "Cells!I2", `"P9"`, func(w workbook) { w.set("Cells", "I2", "P9") }},
	{CodeLevelRackType, failure, "Levels!A2", `"FR9"`, func(w workbook) { w.set("Levels", "A2", "FR9") }},
	{CodeKitPartKit, failure, "Kit parts!A2", `"tube30"`, func(w workbook) { w.withKit().set("Kit parts", "A2", "tube30") }},
	{CodeBadValue, failure, "Kit parts!C3", `"wheels"`, func(w workbook) { w.withKit().set("Kit parts", "C3", "wheels") }},
	{CodeBadValue, failure, "Kit parts!D2", "upright", func(w workbook) { w.withKit().set("Kit parts", "D2", "upright, shelf") }},
	{CodeBadValue, failure, "Kit parts!H2", "a length above 0", func(w workbook) { w.withKit().set("Kit parts", "H2", "3000, 0") }},
	{CodeBadValue, failure, "Kit parts!J2", "kg", func(w workbook) { w.withKit().set("Kit parts", "J2", "235 kg") }},
	{CodeOutOfRange, failure, "Kits!B2", `"-1"`, func(w workbook) { w.withKit().set("Kits", "B2", "-1") }},
	{CodeOutOfRange, failure, "Stock on hand!B2", "a length from 1 mm", func(w workbook) {
		w.withKit().add("Stock on hand", "Part", "Length").add("Stock on hand", "t30", "0")
	}},
	{CodeDuplicate, failure, "Kit parts!B4", "t30", func(w workbook) { w.withKit().add("Kit parts", "tube28", "t30", "foot") }},
	{CodeRackType, failure, "Racks!B2", `"FR9"`, func(w workbook) { w.set("Racks", "B2", "FR9") }},
	{CodeRackCell, failure, "Racks!C2", `"C9"`, func(w workbook) { w.set("Racks", "C2", "C9") }},
	{CodeRackStation, failure, "Racks!D3", `"30"`, func(w workbook) { w.set("Racks", "D3", "10, 30") }},
	{CodeRackPoint, failure, "Racks!G2", `"P9"`, func(w workbook) { w.set("Racks", "G2", "P9") }},
	{CodeAislePoint, failure, "Aisles!B2", `"P9"`, func(w workbook) { w.set("Aisles", "B2", "P9") }},
	{CodeVehicleMarket, failure, "Vehicles!J2", `"P9"`, func(w workbook) { w.set("Vehicles", "J2", "P9") }},
	{CodeCurrentUnknown, warning, "Current layout!D2", `"L-900"`, func(w workbook) { w.set("Current layout", "D2", "L-900") }},
	{CodePinPart, failure, "Pins!A2", `"L-900"`, func(w workbook) { w.set("Pins", "A2", "L-900") }},
	{CodePinRack, failure, "Pins!C2", `"R9"`, func(w workbook) { w.set("Pins", "C2", "R9") }},
	{CodeTurnPoint, failure, "Turns!A2", `"P9"`, func(w workbook) { w.add("Turns", "From point", "At point", "To point").add("Turns", "P9", "P1", "M") }},
	{CodeVehicleParking, failure, "Vehicles!K2", `"P9"`, func(w workbook) { w.set("Vehicles", "K1", "Parking").set("Vehicles", "K2", "P9") }},
	{CodeTourUnknown, warning, "Current routes!C2", `"R9"`, func(w workbook) {
		w.add("Current routes", "Route", "Order", "Rack").add("Current routes", "1", "1", "R9")
	}},
	{CodeTourUnknown, warning, "Current routes!D2", `"TRUCK"`, func(w workbook) {
		w.add("Current routes", "Route", "Order", "Rack", "Vehicle type").add("Current routes", "1", "1", "R1", "TRUCK")
	}},
	{CodeRuleUnknown, failure, "Route rules!C2", `"R9"`, func(w workbook) {
		w.add("Route rules", "Rule", "Rack", "Other rack").add("Route rules", "apart", "R1", "R9")
	}},
	{CodeBadValue, failure, "Route rules!A2", "one of pin, apart, before, closed", func(w workbook) { w.add("Route rules", "Rule", "Rack").add("Route rules", "hold", "R1") }},
	{CodeBadValue, failure, "Aisles!F2", "one of all, vehicles, people", func(w workbook) { w.set("Aisles", "F1", "Traffic").set("Aisles", "F2", "cats") }},
	{CodePinStation, failure, "Pins!B2", `"30"`, func(w workbook) { w.set("Pins", "B2", "30") }},
}

func TestFindings(t *testing.T) {
	t.Parallel()
	for _, c := range findingCases {
		t.Run(c.code, func(t *testing.T) {
			t.Parallel()
			w := loadWorkbook(t, "lantern")
			c.change(w)
			r := w.readZip(t)
			found := ofCode(r.Findings, c.code)
			require.NotEmpty(t, found, "found instead: %v", r.Findings)
			assert.Contains(t, places(found), c.place)
			for _, f := range found {
				assert.Equal(t, c.severity, f.Severity)
				assert.NotEmpty(t, f.Detail)
				assert.NotEmpty(t, f.Remedy)
			}
			assert.Contains(t, found[0].Summary+found[0].Detail, c.says)
		})
	}
}

func TestDidYouMean(t *testing.T) {
	t.Parallel()
	cases := []struct {
		code, hint string
		change     func(workbook)
	}{
		{CodeUnknownContainer, `Did you mean "TRAY"?`, func(w workbook) { w.set("Parts", "D3", "TRAI") }},
		{CodeUsageProduct, `Did you mean "MAST"?`, func(w workbook) { w.set("Usage", "A2", "MSAT") }},
		{CodeColumnMissing, `Did you mean "Stondard pakc" to be Standard pack?`, func(w workbook) { w.set("Parts", "E1", "Stondard pakc") }},
		{CodeSettingUnknown, `Did you mean "Refill interval"?`, func(w workbook) { w.add("Plant", "Refil intervall (min)", "20") }},
		{CodeBadValue, `Did you mean "poisson"?`, func(w workbook) { w.set("Usage", "M2", "poison") }},
	}
	for _, c := range cases {
		t.Run(c.code, func(t *testing.T) {
			t.Parallel()
			w := loadWorkbook(t, "lantern")
			c.change(w)
			found := ofCode(w.readZip(t).Findings, c.code)
			require.NotEmpty(t, found)
			assert.Contains(t, found[0].Remedy, c.hint)
		})
	}
}

func TestEveryCodeHasACaseAndAPage(t *testing.T) {
	t.Parallel()
	cases := map[string]bool{}
	for _, c := range fileCases {
		cases[c.code] = true
	}
	for _, c := range findingCases {
		cases[c.code] = true
	}
	for _, p := range Pages() {
		assert.True(t, cases[p.Code], "no case raises %s", p.Code)
		delete(cases, p.Code)
		assert.NotEmpty(t, p.Title)
		assert.NotEmpty(t, p.Text)
	}
	assert.Empty(t, cases, "codes without a page")
}
