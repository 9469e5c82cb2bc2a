package plant

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/finding"
	"lanewright/planner/units"
)

const mm = units.Millimetre

// lantern is a small plant in which Check finds nothing.
func lantern() *Plant {
	level := func(n int, kind LevelKind, pick, drop units.Length) Level {
		return Level{Level: n, Kind: kind, PickHeight: pick * mm, Drop: drop * mm, LaneLength: 1450 * mm, UsableWidth: 1170 * mm, ClearHeight: 345 * mm, Origin: at("Levels", n+1)}
	}
	return &Plant{
		Name:     "Skerrow Lantern Works",
		Settings: DefaultSettings(),
		Shifts: []Shift{{
			Shift: "early", Days: DefaultShift().Days, Start: 6 * time.Hour, End: 14 * time.Hour,
			Breaks: []Break{{Start: 9 * time.Hour, Length: 15 * time.Minute, Origin: at("Shifts", 2)}}, Origin: at("Shifts", 2),
		}},
		Products:   []Product{{Product: "LAMP", UnitsPerDay: units.Int(400), Cell: "C1", Origin: at("Products", 2)}},
		Parts:      []Part{{Part: "LENS", Container: "BOX", Pack: 20, PieceMass: 300 * units.Gram, Origin: at("Parts", 2)}, {Part: "BASE", Container: "BOX", Pack: 10, Origin: at("Parts", 3)}},
		Containers: []Container{{Container: "BOX", Length: 400 * mm, Width: 300 * mm, Height: 220 * mm, EmptyMass: units.Kilogram, GrossLimit: 10 * units.Kilogram, Nests: units.Int(1), Origin: at("Containers", 2)}},
		Cells:      []Cell{{Cell: "C1", Shifts: []ShiftCode{"early"}, Frontage: 3000 * mm, NewRackPoint: "P1", Origin: at("Cells", 2)}},
		Stations:   []Station{{Station: "10", Cell: "C1", WalkLimit: DefaultWalkLimit, Origin: at("Stations", 2)}, {Station: "20", Cell: "C1", WalkLimit: DefaultWalkLimit, Origin: at("Stations", 3)}},
		Usage: []Usage{
			{Product: "LAMP", Part: "LENS", Cell: "C1", Station: "10", PerUnit: units.Int(2), Origin: at("Usage", 2)},
			{Part: "BASE", Cell: "C1", Station: "20", PerHour: units.Int(40), Interval: 30 * time.Minute, Origin: at("Usage", 3)},
			{Part: "LENS", Cell: "C1", Station: "20", PerHour: units.Int(5), Origin: at("Usage", 4)},
		},
		RackTypes: []RackType{{
			RackType: "FR", Width: 1250 * mm, Depth: 1500 * mm, Height: 1800 * mm, Origin: at("Rack types", 2),
			Levels: []Level{level(1, Return, 200, -60), level(2, Supply, 600, 60), level(3, Supply, 1000, 60)},
		}},
		Racks: []Rack{
			{Rack: "R1", RackType: "FR", Cell: "C1", AislePoint: "P1", FixedLanes: []FixedLanes{{Level: 2, Widths: []units.Length{416 * mm, 320 * mm}}}, Origin: at("Racks", 2)},
			{Rack: "R2", RackType: "FR", Cell: "C1", Stations: []StationCode{"20"}, AislePoint: "P1", Origin: at("Racks", 3)},
		},
		AislePoints: []AislePoint{{Point: "M", Kind: Market, Origin: at("Aisle points", 2)}, {Point: "P1", Kind: StopAt, Origin: at("Aisle points", 3)}},
		Aisles:      []Aisle{{From: "M", To: "P1", Origin: at("Aisles", 2)}},
		Vehicles:    []Vehicle{{Vehicle: "CART", Count: 1, Containers: 12, Speed: units.MetrePerSecond, From: "M", Origin: at("Vehicles", 2)}},
		Pins:        []Pin{{Part: "LENS", Station: "10", Rack: "R1", Level: 2, Lane: 1, Origin: at("Pins", 2)}},
		Columns:     []Column{{File: "plant.xlsx", Sheet: "Parts", Field: "Standard pack", Letters: "E", Heading: "Qty/Box"}},
	}
}

func at(sheet string, row int) finding.Origin {
	return finding.Origin{File: "plant.xlsx", Sheet: sheet, Row: row}
}

func TestCheckFindsNothingInASoundPlant(t *testing.T) {
	t.Parallel()
	assert.Empty(t, Check(lantern()))
}

// checkCases break the sound plant in one way each.
var checkCases = []struct {
	code     string
	severity finding.Severity
	place    string
	change   func(*Plant)
}{
	{CodeOverGrossLimit, finding.Error, "plant.xlsx, Parts!E2", func(p *Plant) { p.Parts[0].Pack = 31 }},
	{CodePartNoUsage, finding.Note, "plant.xlsx, Parts!3", func(p *Plant) { p.Usage = append(p.Usage[:1], p.Usage[2]) }},
	{CodeProductNoUsage, finding.Note, "plant.xlsx, Products!2", func(p *Plant) { p.Usage = p.Usage[1:] }},
	{CodeFitsNoLane, finding.Warning, "plant.xlsx, Containers!2", func(p *Plant) { p.Containers[0].Height = 286 * mm }},
	{CodeOtherCell, finding.Warning, "plant.xlsx, Usage!2", func(p *Plant) {
		p.Cells = append(p.Cells, Cell{Cell: "C2"})
		p.Products[0].Cell = "C2"
	}},
	{CodeIntervalTooLong, finding.Warning, "plant.xlsx, Usage!3", func(p *Plant) { p.Usage[1].Interval = 466 * time.Minute }},
	{CodeIntervalTooLong, finding.Warning, "", func(p *Plant) { p.Settings.Interval = 466 * time.Minute }},
	{CodeOverFrontage, finding.Warning, "plant.xlsx, Cells!2", func(p *Plant) { p.Cells[0].Frontage = 2499 * mm }},
	{CodeDuplicateStation, finding.Error, "plant.xlsx, Stations!9", func(p *Plant) {
		p.Stations = append(p.Stations, Station{Station: "10", Cell: "C1", Origin: at("Stations", 9)})
	}},
	{CodeStationNoUsage, finding.Note, "plant.xlsx, Stations!9", func(p *Plant) {
		p.Stations = append(p.Stations, Station{Station: "30", Cell: "C1", Origin: at("Stations", 9)})
	}},
	{CodeBreakOutside, finding.Warning, "plant.xlsx, Shifts!2", func(p *Plant) { p.Shifts[0].Breaks[0].Start = 13*time.Hour + 50*time.Minute }},
	{CodeNoNetTime, finding.Error, "", func(p *Plant) { p.Shifts[0].Breaks[0] = Break{Start: 6 * time.Hour, Length: 8 * time.Hour} }},
	{CodeNoNetTime, finding.Error, "plant.xlsx, Cells!2", func(p *Plant) {
		p.Shifts = append(p.Shifts, Shift{Shift: "never", Start: 6 * time.Hour, End: 14 * time.Hour})
		p.Cells[0].Shifts = []ShiftCode{"never"}
	}},
	{CodeNoLevels, finding.Error, "plant.xlsx, Rack types!9", func(p *Plant) {
		p.RackTypes = append(p.RackTypes, RackType{RackType: "BARE", Width: mm, Depth: mm, Height: mm, Origin: at("Rack types", 9)})
	}},
	{CodeLevelTooWide, finding.Error, "plant.xlsx, Levels!3", func(p *Plant) { p.RackTypes[0].Levels[1].UsableWidth = 1251 * mm }},
	{CodeLaneTooLong, finding.Warning, "plant.xlsx, Levels!3", func(p *Plant) { p.RackTypes[0].Levels[1].LaneLength = 1501 * mm }},
	{CodeLevelAboveRack, finding.Warning, "plant.xlsx, Levels!4", func(p *Plant) { p.RackTypes[0].Levels[2].PickHeight = 1741 * mm }},
	{CodeLevelsNotRising, finding.Warning, "plant.xlsx, Levels!4", func(p *Plant) { p.RackTypes[0].Levels[2].PickHeight = 600 * mm }},
	{CodeDropSign, finding.Warning, "plant.xlsx, Levels!2", func(p *Plant) { p.RackTypes[0].Levels[0].Drop = 60 * mm }},
	{CodeDropSign, finding.Warning, "plant.xlsx, Levels!3", func(p *Plant) { p.RackTypes[0].Levels[1].Drop = 0 }},
	{CodeFixedLanesTooWide, finding.Error, "plant.xlsx, Racks!2", func(p *Plant) { p.Racks[0].FixedLanes[0].Widths[1] = 745 * mm }},
	{CodeUnknownKit, finding.Warning, "plant.xlsx, Rack types!2", func(p *Plant) { p.Kits, p.RackTypes[0].Kit = []Kit{ownKit()}, "other" }},
	{CodeKitNoTube, finding.Warning, "plant.xlsx, Kits!2", func(p *Plant) { p.Kits = []Kit{{Kit: "empty", Origin: at("Kits", 2)}} }},
	{CodeWall, finding.Error, "plant.xlsx, Kit parts!2", func(p *Plant) {
		p.Kits = []Kit{ownKit()}
		p.Kits[0].Parts[0].Wall = 16 * mm
	}},
	{CodeNoStock, finding.Warning, "plant.xlsx, Kit parts!2", func(p *Plant) {
		p.Kits = []Kit{ownKit()}
		p.Kits[0].Parts[0].StockLengths = nil
	}},
	{CodeStockPart, finding.Warning, "plant.xlsx, Stock on hand!2", func(p *Plant) {
		p.StockOnHand = []StockBar{{Part: "tube", Length: 1850 * mm, Count: 2, Origin: at("Stock on hand", 2)}}
	}},
	{CodeFixedLanesLevel, finding.Error, "plant.xlsx, Racks!3", func(p *Plant) { p.Racks[1].FixedLanes = []FixedLanes{{Level: 4, Widths: []units.Length{mm}}} }},
	{CodeUnreachable, finding.Error, "plant.xlsx, Racks!2", func(p *Plant) { p.Aisles[0].OneWay = true }},
	{CodeUnreachable, finding.Error, "plant.xlsx, Cells!2", func(p *Plant) { p.Aisles[0].To = "M" }},
	{CodeNoAisles, finding.Error, "plant.xlsx, Vehicles!2", func(p *Plant) { p.Aisles = nil }},
	{CodeAisleToItself, finding.Warning, "plant.xlsx, Aisles!9", func(p *Plant) {
		p.Aisles = append(p.Aisles, Aisle{From: "M", To: "M", Origin: at("Aisles", 9)})
	}},
	{CodeNoMarket, finding.Error, "plant.xlsx, Vehicles!2", func(p *Plant) { p.AislePoints[0].Kind = Crossing }},
	{CodeMarketNotNamed, finding.Error, "plant.xlsx, Vehicles!2", func(p *Plant) { p.AislePoints[1].Kind, p.Vehicles[0].From = Market, "" }},
	{CodeNotAMarket, finding.Error, "plant.xlsx, Vehicles!2", func(p *Plant) { p.Vehicles[0].From = "P1" }},
	{CodePinNoLoop, finding.Error, "plant.xlsx, Pins!2", func(p *Plant) { p.Pins[0].Part = "BASE" }},
	{CodePinNotServed, finding.Error, "plant.xlsx, Pins!2", func(p *Plant) { p.Pins[0].Rack = "R2" }},
	{CodePinLevel, finding.Error, "plant.xlsx, Pins!2", func(p *Plant) { p.Pins[0].Level = 9 }},
	{CodePinLevel, finding.Error, "plant.xlsx, Pins!2", func(p *Plant) { p.Pins[0].Level = 1 }},
	{CodePinLane, finding.Error, "plant.xlsx, Pins!2", func(p *Plant) { p.Pins[0].Lane = 3 }},
	{CodePinContradicts, finding.Error, "plant.xlsx, Pins!9", func(p *Plant) { // one loop on two levels
		p.Pins = append(p.Pins, Pin{Part: "LENS", Station: "10", Rack: "R1", Level: 3, Origin: at("Pins", 9)})
	}},
	{CodePinContradicts, finding.Error, "plant.xlsx, Pins!9", func(p *Plant) { // two loops in one lane
		p.Pins = append(p.Pins, Pin{Part: "BASE", Rack: "R1", Level: 2, Lane: 1, Origin: at("Pins", 9)})
	}},
	{CodePinContradicts, finding.Error, "plant.xlsx, Pins!2", func(p *Plant) { p.Pins[0].Station = "" }}, // both loops of the part in one lane
	{CodeTurnNoAisle, finding.Warning, "plant.xlsx, Turns!2", func(p *Plant) { p.Turns = []Turn{{From: "M", At: "P1", To: "P1", Origin: at("Turns", 2)}} }},
	{CodeTurnTwice, finding.Error, "plant.xlsx, Turns!3", func(p *Plant) {
		p.Turns = []Turn{{From: "M", At: "P1", To: "M", Origin: at("Turns", 2)}, {From: "M", At: "P1", To: "M", Allowed: true, Origin: at("Turns", 3)}}
	}},
	{CodeTourOrderTwice, finding.Warning, "plant.xlsx, Current routes!3", func(p *Plant) { today(p); p.CurrentRoutes[1].Order = 1 }},
	{CodeTourDiffers, finding.Warning, "plant.xlsx, Current routes!3", func(p *Plant) {
		today(p)
		p.CurrentRoutes[0].Interval, p.CurrentRoutes[1].Interval = time.Hour, 30*time.Minute
	}},
	{CodeRuleIncomplete, finding.Error, "plant.xlsx, Route rules!2", func(p *Plant) { rules(p, RouteRule{Kind: RulePin, Rack: "R1"}) }},
	{CodeRuleIncomplete, finding.Error, "plant.xlsx, Route rules!2", func(p *Plant) { rules(p, RouteRule{Kind: RuleApart, Rack: "R1", Other: "R1"}) }},
	{CodeRuleIncomplete, finding.Error, "plant.xlsx, Route rules!2", func(p *Plant) { rules(p, RouteRule{Kind: RuleClosed, From: "M"}) }},
	{CodeRuleNoAisle, finding.Warning, "plant.xlsx, Route rules!2", func(p *Plant) { rules(p, RouteRule{Kind: RuleClosed, From: "M", To: "M"}) }},
	{CodeUnreachable, finding.Error, "plant.xlsx, Racks!2", func(p *Plant) { rules(p, RouteRule{Kind: RuleClosed, From: "P1", To: "M"}) }},
	{CodeRuleNoRoute, finding.Warning, "plant.xlsx, Route rules!2", func(p *Plant) { rules(p, RouteRule{Kind: RulePin, Rack: "R1", Route: "9"}) }},
	{CodeRuleContradicts, finding.Error, "plant.xlsx, Route rules!3", func(p *Plant) { // pinned to two routes
		today(p)
		p.CurrentRoutes[1].Route = "2"
		rules(p, RouteRule{Kind: RulePin, Rack: "R1", Route: "1"}, RouteRule{Kind: RulePin, Rack: "R1", Route: "2"})
	}},
	{CodeRuleContradicts, finding.Error, "plant.xlsx, Route rules!3", func(p *Plant) { // each before the other
		rules(p, RouteRule{Kind: RuleBefore, Rack: "R1", Other: "R2"}, RouteRule{Kind: RuleBefore, Rack: "R2", Other: "R1"})
	}},
	{CodeRuleContradicts, finding.Error, "plant.xlsx, Route rules!4", func(p *Plant) { // apart, and on one route
		today(p)
		rules(p, RouteRule{Kind: RulePin, Rack: "R1", Route: "1"}, RouteRule{Kind: RulePin, Rack: "R2", Route: "1"}, RouteRule{Kind: RuleApart, Rack: "R2", Other: "R1"})
	}},
	{CodeUnknownReference, finding.Error, "plant.xlsx, Turns!2", func(p *Plant) { p.Turns = []Turn{{At: "P9", Origin: at("Turns", 2)}} }},
	{CodeUnknownReference, finding.Error, "plant.xlsx, Current routes!2", func(p *Plant) { today(p); p.CurrentRoutes[0].Rack = "R9" }},
	{CodeUnknownReference, finding.Error, "plant.xlsx, Route rules!2", func(p *Plant) { rules(p, RouteRule{Kind: RuleApart, Rack: "R1", Other: "R9"}) }},
	{CodeUnknownReference, finding.Error, "plant.xlsx, Vehicles!2", func(p *Plant) { p.Vehicles[0].Parking = "P9" }},
	{CodeOutOfRange, finding.Error, "plant.xlsx, Aisle points!2", func(p *Plant) { p.AislePoints[0].Places = -1 }},
	{CodeOutOfRange, finding.Error, "plant.xlsx, Aisles!2", func(p *Plant) { p.Aisles[0].Traffic = "cats" }},
	{CodeOutOfRange, finding.Error, "plant.xlsx, Current routes!2", func(p *Plant) { today(p); p.CurrentRoutes[0].Order = 0 }},
	{CodeOutOfRange, finding.Error, "plant.xlsx, Route rules!2", func(p *Plant) { rules(p, RouteRule{Kind: "never", Rack: "R1"}) }},
	{CodeUnknownReference, finding.Error, "plant.xlsx, Parts!2", func(p *Plant) { p.Parts[0].Container = "CRATE" }},
	{CodeUnknownReference, finding.Error, "plant.xlsx, Usage!2", func(p *Plant) { p.Usage[0].Station = "99" }},
	{CodeUnknownReference, finding.Error, "plant.xlsx, Cells!2", func(p *Plant) { p.Cells[0].Shifts = []ShiftCode{"early", "late"} }},
	{CodeUnknownReference, finding.Error, "plant.xlsx, Aisles!2", func(p *Plant) { p.Aisles[0].To = "P9" }},
	{CodeUnknownReference, finding.Error, "plant.xlsx, Pins!2", func(p *Plant) { p.Pins[0].Rack = "R9" }},
	{CodeOutOfRange, finding.Error, "plant.xlsx, Parts!2", func(p *Plant) { p.Parts[0].Pack = 0 }},
	{CodeOutOfRange, finding.Error, "plant.xlsx, Containers!2", func(p *Plant) { p.Containers[0].Width = -1 }},
	{CodeOutOfRange, finding.Error, "plant.xlsx, Products!2", func(p *Plant) { p.Products[0].Variation = units.Int(-1) }},
	{CodeOutOfRange, finding.Error, "plant.xlsx, Usage!2", func(p *Plant) { p.Usage[0].ServiceLevel = units.Int(1) }},
	{CodeOutOfRange, finding.Error, "plant.xlsx, Levels!3", func(p *Plant) { p.RackTypes[0].Levels[1].ClearHeight = 0 }},
	{CodeOutOfRange, finding.Error, "plant.xlsx, Vehicles!2", func(p *Plant) { p.Vehicles[0].Speed = 0 }},
	{CodeOutOfRange, finding.Error, "", func(p *Plant) { p.Settings.ServiceLevel = units.Int(1) }},
	{CodeOutOfRange, finding.Error, "", func(p *Plant) { p.Settings.Measure = "" }},
	{CodeOutOfRange, finding.Error, "", func(p *Plant) { p.Settings.ShortagesPerYear = units.Int(0) }},
	{CodeOutOfRange, finding.Error, "", func(p *Plant) { p.Settings.History = "some" }},
	{CodeOutOfRange, finding.Error, "", func(p *Plant) { p.Settings.WeeksPerYear = units.R(531, 10) }},
	{CodeOutOfRange, finding.Error, "", func(p *Plant) { p.Settings.Prices.FloorYear = -1 }},
	{CodeOutOfRange, finding.Error, "", func(p *Plant) { p.Settings.Prices.StockInterest = units.Int(-1) }},
	{CodeOutOfRange, finding.Error, "", func(p *Plant) { p.Settings.Prices.RackYears = units.Int(0) }},
}

// today gives p one route that serves both racks.
func today(p *Plant) {
	p.CurrentRoutes = []CurrentStop{
		{Route: "1", Order: 1, Rack: "R1", Vehicle: "CART", Origin: at("Current routes", 2)},
		{Route: "1", Order: 2, Rack: "R2", Origin: at("Current routes", 3)},
	}
}

// rules gives p rules about routes.
func rules(p *Plant, list ...RouteRule) {
	for i := range list {
		list[i].Origin = at("Route rules", i+2)
	}
	p.RouteRules = list
}

func TestSoundToursAndRules(t *testing.T) {
	t.Parallel()
	p := lantern()
	today(p)
	p.Turns = []Turn{{From: "M", At: "P1", To: "M", Allowed: true}, {At: "P1"}}
	rules(p, RouteRule{Kind: RulePin, Rack: "R1", Route: "1"}, RouteRule{Kind: RuleBefore, Rack: "R1", Other: "R2"}, RouteRule{Kind: RuleApart, Rack: "R1", Other: "R2"})
	assert.Empty(t, Check(p))
}

func TestCheck(t *testing.T) {
	t.Parallel()
	for _, c := range checkCases {
		t.Run(c.code, func(t *testing.T) {
			t.Parallel()
			p := lantern()
			c.change(p)
			found := Check(p)
			var of finding.List
			for _, f := range found {
				if f.Code == c.code {
					of = append(of, f)
				}
			}
			require.NotEmpty(t, of, "found instead: %v", found)
			assert.Equal(t, c.severity, of[0].Severity)
			var places []string
			for _, f := range of {
				places = append(places, f.Origin.String())
				assert.NotEmpty(t, f.Summary)
				assert.NotEmpty(t, f.Detail)
				assert.NotEmpty(t, f.Remedy)
			}
			assert.Contains(t, places, c.place)
		})
	}
}

func TestEveryCodeHasACaseAndAPage(t *testing.T) {
	t.Parallel()
	cases := map[string]bool{}
	for _, c := range checkCases {
		cases[c.code] = true
	}
	for _, page := range Pages() {
		assert.True(t, cases[page.Code], "no case raises %s", page.Code)
		delete(cases, page.Code)
		assert.NotEmpty(t, page.Title)
		assert.NotEmpty(t, page.Text)
	}
	assert.Empty(t, cases, "codes without a page")
}

func TestNightShiftBreakAfterMidnightIsInside(t *testing.T) {
	t.Parallel()
	p := lantern()
	p.Shifts[0].Start, p.Shifts[0].End = 22*time.Hour, 30*time.Hour
	p.Shifts[0].Breaks[0].Start = 26 * time.Hour
	assert.Empty(t, Check(p))
}

func TestShippedRackTypesAreSound(t *testing.T) {
	t.Parallel()
	p := lantern()
	p.RackTypes = append(p.RackTypes, ShippedRackTypes()...)
	assert.Empty(t, Check(p))
	for _, r := range ShippedRackTypes() {
		for _, l := range r.Levels {
			slope := float64(max(l.Drop, -l.Drop)) / float64(l.LaneLength)
			assert.True(t, slope > 0.03 && slope < 0.088, "slope %v of %s", slope, r.RackType)
		}
	}
}

func TestAtNarrowsARowToItsColumn(t *testing.T) {
	t.Parallel()
	p := lantern()
	assert.Equal(t, "E", p.At(at("Parts", 2), "Standard pack").Column)
	assert.Equal(t, "", p.At(at("Parts", 2), "Description").Column)
	assert.Equal(t, finding.Origin{}, p.At(finding.Origin{}, "Standard pack"))
}
