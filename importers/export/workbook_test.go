package export_test

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"lanewright/importers"
	"lanewright/importers/export"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
	"lanewright/testdata/plants"
)

// sheets are the canonical sheets and columns; a star marks what is required.
var sheets = []struct {
	name    string
	columns []string
}{
	{"Plant", []string{"Setting*", "Value*"}},
	{"Shifts", []string{"Shift*", "Days*", "Start*", "End*", "Break start", "Break minutes"}},
	{"Products", []string{"Product*", "Description", "Units per day*", "Variation", "Cell"}},
	{"Usage", []string{"Product", "Part*", "Cell*", "Station*", "Quantity per unit", "Scrap (%)", "Pieces per hour", "Variation",
		"Refill interval (min)", "Response time (min)", "Service level (%)", "Safety (%)", "Demand model", "Containers"}},
	{"History", []string{"Product", "Part", "Date*", "Units*"}},
	{"Parts", []string{"Part*", "Description", "Piece mass (kg)", "Container*", "Standard pack*", "Market address", "Unit cost",
		"Pick hand", "Keep apart", "Look-alike of"}},
	{"Containers", []string{"Container*", "Description", "Length (mm)*", "Width (mm)*", "Height (mm)*", "Empty mass (kg)",
		"Gross mass limit (kg)", "Returnable", "Flow side", "Handles", "Nests"}},
	{"Cells", []string{"Cell*", "Name", "Area", "Shifts", "Frontage (mm)", "Rack types allowed", "New rack X (m)", "New rack Y (m)", "New rack aisle point"}},
	{"Stations", []string{"Station*", "Cell*", "X (m)", "Y (m)", "Walk limit (m)"}},
	{"Rack types", []string{"Rack type*", "Width (mm)*", "Depth (mm)*", "Height (mm)*", "Own mass (kg)", "Mass limit (kg)", "Cost", "On casters", "Kit"}},
	{"Levels", []string{"Rack type*", "Level*", "Kind*", "Pick height (mm)*", "Drop (mm)*", "Lane length (mm)*", "Usable width (mm)*", "Clear height (mm)*", "Mass limit (kg)"}},
	{"Racks", []string{"Rack*", "Rack type*", "Cell*", "Stations", "X (m)", "Y (m)", "Aisle point*", "Fixed lanes (mm)"}},
	{"Aisle points", []string{"Point*", "X (m)*", "Y (m)*", "Kind", "Places"}},
	{"Aisles", []string{"From*", "To*", "Length (m)", "One way", "Speed limit (m/s)", "Traffic", "Single file", "Turn round"}},
	{"Vehicles", []string{"Vehicle type*", "Count*", "Containers*", "Mass limit (kg)", "Speed (m/s)*", "Stop time (s)", "Load time (s)", "Unload time (s)", "Empty time (s)", "From market", "On foot", "Parking"}},
	{"Current layout", []string{"Rack*", "Level*", "Lane*", "Part*", "Station", "Containers"}},
	{"Pins", []string{"Part*", "Station", "Rack*", "Level", "Lane", "Reason"}},
	{"Kits", []string{"Kit*", "Description", "Cut step (mm)", "Kerf (mm)", "Hole pitch (mm)", "First hole (mm)", "Hole diameter (mm)", "Hole walls",
		"Rollers under", "Side clearance (mm)", "Return slope (%)", "Centre support (mm)"}},
	{"Kit parts", []string{"Kit*", "Part*", "Kind*", "Description", "Uses", "Shape", "Width (mm)", "Height (mm)", "Wall (mm)", "Corner radius (mm)",
		"Stock lengths (mm)", "Pitch (mm)", "Mass (kg)", "Mass per metre (kg)", "Price", "Price per metre", "Material", "Yield stress (MPa)", "Elastic modulus (GPa)",
		"Mass limit (kg)", "Per joint"}},
	{"Stock on hand", []string{"Part*", "Length (mm)*", "Count", "Place"}},
	{"Turns", []string{"From point", "At point*", "To point", "Allowed"}},
	{"Current routes", []string{"Route*", "Order*", "Rack*", "Vehicle type", "Interval (min)"}},
	{"Route rules", []string{"Rule*", "Rack", "Other rack", "Route", "From", "To", "Reason"}},
}

func TestTemplateHasEverySheetAndColumn(t *testing.T) {
	t.Parallel()
	tables := export.Template()
	require.Len(t, tables, len(sheets))
	for i, want := range sheets {
		var got []string
		for c, head := range tables[i].Header {
			if tables[i].Required[c] {
				head += "*"
			}
			got = append(got, head)
		}
		assert.Equal(t, want.name, tables[i].Sheet)
		assert.Equal(t, want.columns, got, want.name)
		if want.name != "Plant" {
			assert.Empty(t, tables[i].Rows, want.name)
		}
	}
}

func TestTemplateReadsAsAnEmptyPlant(t *testing.T) {
	t.Parallel()
	read := reread(t, export.Template())
	want := plant.DefaultSettings()
	got := read.Plant.Settings
	got.Origin = finding.Origin{}
	assert.Equal(t, plant.Revision(&plant.Plant{Settings: want}), plant.Revision(&plant.Plant{Settings: got}), "settings are the defaults")
	assert.Zero(t, read.Findings.Count(finding.Error), "%v", read.Findings)
	for _, f := range read.Findings {
		assert.NotEqual(t, "columns.unknown", f.Code, f.Summary)
	}
}

func TestTemplateMarksAndExplains(t *testing.T) {
	t.Parallel()
	f := open(t, xlsx(t, export.Template()))
	comments, err := f.GetComments("Parts")
	require.NoError(t, err)
	assert.Greater(t, len(comments), 5)
	assert.True(t, bold(t, f, "Parts", "A1"), "Part is required")
	assert.False(t, bold(t, f, "Parts", "B1"), "Description is not")
}

// oddPlant has what a rounded export would lose.
func oddPlant() *plant.Plant {
	safety := units.R(0, 1)
	s := plant.DefaultSettings()
	s.LengthUnit, s.MassUnit, s.Seed, s.Response = "in", "lb", 1<<60+7, 45*time.Minute
	s.SideClearance = units.Inch / 64
	s.Measure, s.ShortagesPerYear, s.History, s.WeeksPerYear = plant.ServicePerYear, units.R(1, 3), plant.HistoryAll, units.R(93, 2)
	s.Prices = plant.Prices{HandlerHour: 31_250_001, VehicleYear: 4200 * units.Unit, RackYears: units.R(22, 3), FloorYear: units.Unit / 8, StockInterest: units.R(1, 12)}
	return &plant.Plant{
		Name: "Odd & <sons>", Settings: s,
		Shifts: []plant.Shift{{
			Shift: "night", Days: [7]bool{time.Sunday: true, time.Friday: true}, Start: 22 * time.Hour, End: 30 * time.Hour,
			Breaks: []plant.Break{{Start: 25*time.Hour + 30*time.Minute, Length: 30 * time.Minute}, {Start: 28 * time.Hour, Length: 90 * time.Second}},
		}},
		Products: []plant.Product{{Product: "00123", UnitsPerDay: units.R(1, 3), Variation: units.MustRatio("0.1")}},
		Parts: []plant.Part{
			{Part: "1E5", Description: "=1+1", PieceMass: units.Pound / 16, Container: "3-4", Pack: 7, TwoHands: true, UnitCost: units.Unit / 8},
			{Part: "0x1F", Description: "µ ≤ 5 \"sea\"", Container: "3-4", Pack: 1, LookAlike: "1E5", KeepApart: "k"},
		},
		Containers: []plant.Container{{
			Container: "3-4", Length: 15*units.Inch + units.Inch/64, Width: 12 * units.Inch, Height: units.Millimetre * 1475 / 10,
			EmptyMass: units.Pound * 3, GrossLimit: 20 * units.Kilogram, FlowSide: plant.WidthAlong, Handles: plant.PoorHandles, Nests: units.R(1, 3),
		}},
		Cells:    []plant.Cell{{Cell: "C", NewRack: &plant.Place{X: units.Metre / 3, Y: -units.Metre}, NewRackPoint: "P"}},
		Stations: []plant.Station{{Station: "010", Cell: "C", Place: &plant.Place{X: 1, Y: 2 * units.Metre}, WalkLimit: 16 * units.Foot}},
		Usage: []plant.Usage{
			{Product: "00123", Part: "1E5", Cell: "C", Station: "010", PerUnit: units.R(2, 7), Scrap: units.R(1, 300), Safety: &safety, Interval: 90 * time.Second},
			{Part: "0x1F", Cell: "C", Station: "010", PerHour: units.R(22, 7), Variation: units.R(1, 4), ServiceLevel: units.MustRatio("0.9999"), Model: plant.PoissonModel, Containers: 3},
		},
		RackTypes: []plant.RackType{{
			RackType: "T", Width: 60 * units.Inch, Depth: 48 * units.Inch, Height: 72 * units.Inch, Cost: 10 * units.Unit, OnCasters: true,
			Levels: []plant.Level{{Level: 1, Kind: plant.Supply, PickHeight: 30 * units.Inch, Drop: 2 * units.Inch, LaneLength: 44 * units.Inch, UsableWidth: 57 * units.Inch, ClearHeight: 14 * units.Inch}},
		}},
		Racks:       []plant.Rack{{Rack: "R", RackType: "T", Cell: "C", Stations: []plant.StationCode{"010"}, AislePoint: "P", FixedLanes: []plant.FixedLanes{{Level: 1, Widths: []units.Length{13 * units.Inch, 13*units.Inch + units.Inch/32}}}}},
		AislePoints: []plant.AislePoint{{Point: "P", Kind: plant.Market}, {Point: "Q", Place: plant.Place{X: 7 * units.Metre}, Kind: plant.StopAt}},
		Aisles:      []plant.Aisle{{From: "P", To: "Q", Length: 23 * units.Foot, SpeedLimit: units.MetrePerSecond / 3}},
		Vehicles:    []plant.Vehicle{{Vehicle: "V", Count: 0, Containers: 9, Speed: units.MetrePerSecond, LoadTime: 1500 * time.Millisecond, From: "P"}},
		Current:     []plant.CurrentLane{{Rack: "R", Level: 1, Lane: 2, Part: "1E5", Station: "010"}},
		Pins:        []plant.Pin{{Part: "1E5", Rack: "R", Level: 1, Reason: "-why not"}},
		Kits:        []plant.Kit{oddKit()},
		History:     []plant.History{{Part: "1E5", Date: time.Date(2024, 2, 29, 0, 0, 0, 0, time.UTC), Units: units.R(5, 2)}},
	}
}

// oddKit has every field of a kit and of its parts.
func oddKit() plant.Kit {
	k := plant.ShippedKit("in")
	k.Kit, k.HolePitch, k.FirstHole, k.HoleWalls, k.RollersUnder, k.CentreSupport = "007", units.Inch, units.Inch/2, plant.HolesBoth, 4, 0
	k.Parts = []plant.KitPart{
		{Part: "=tube, long", Kind: plant.TubePart, Description: "-x", Uses: []plant.TubeUse{plant.AsCrossTube, plant.AsUpright}, Shape: plant.RoundTube,
			Width: units.Inch, Height: units.Inch, Wall: units.Inch * 65 / 1000, StockLengths: []units.Length{95 * units.Inch, 20 * units.Foot},
			MassPerMetre: 1_179_340_162, PricePerMetre: 3_333_333, Material: "A513", Yield: 220_632_233, Modulus: 199_947_961_500},
		{Part: "caster", Kind: plant.CasterPart, Height: units.Inch * 41 / 8, Mass: 2 * units.Pound, Price: 7, MassLimit: 220 * units.Pound, PerJoint: 2},
		{Part: "roller", Kind: plant.RollerPart, Pitch: units.Inch / 3, StockLengths: []units.Length{3 * units.Metre}, CornerRadius: 1},
	}
	return k
}

func TestWorkbookReadsBackAsTheSamePlant(t *testing.T) {
	t.Parallel()
	made, err := importers.ReadBytes(t.Context(), plants.SkerrowName, plants.Skerrow)
	require.NoError(t, err)
	for name, p := range map[string]*plant.Plant{"odd": oddPlant(), "made-up works": &made.Plant} {
		tables := export.Workbook(p)
		for form, read := range map[string]*importers.Result{"xlsx": reread(t, tables), "folder": refolder(t, tables), "zip": rezip(t, tables)} {
			assert.Equal(t, plant.Revision(p), plant.Revision(&read.Plant), "%s as %s: %v", name, form, read.Findings)
			if name == "odd" {
				same(t, *p, read.Plant)
			}
		}
	}
}

// same compares sheet by sheet, so that a failure says which.
func same(t *testing.T, want, got plant.Plant) {
	t.Helper()
	a, b := export.Workbook(&want), export.Workbook(&got)
	for i := range a {
		assert.Equal(t, a[i].Rows, b[i].Rows, a[i].Sheet)
	}
}

func TestPiecesPerDayKeepTheirColumn(t *testing.T) {
	t.Parallel()
	p := &plant.Plant{Settings: plant.DefaultSettings(), Usage: []plant.Usage{{Part: "A", Cell: "C", Station: "S", PerDay: units.Int(48)}}}
	for _, table := range export.Workbook(p) {
		if table.Sheet == "Usage" {
			assert.Equal(t, "Pieces per day", table.Header[len(table.Header)-1])
			assert.Len(t, table.Rows[0], len(table.Header))
		}
	}
}

func TestSameTablesSameBytes(t *testing.T) {
	t.Parallel()
	tables := export.Workbook(oddPlant())
	assert.Equal(t, xlsx(t, tables), xlsx(t, tables))
	var a, b bytes.Buffer
	require.NoError(t, export.WriteZip(&a, tables))
	require.NoError(t, export.WriteZip(&b, tables))
	assert.Equal(t, a.Bytes(), b.Bytes())
}

func TestTextNeverBecomesAFormula(t *testing.T) {
	t.Parallel()
	hostile := []string{"=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "=cmd|' /C x'!A0", "00123", "1E5", "<b>&", "_x0041_"}
	table := export.Table{Sheet: "Text", Header: []string{"What"}}
	for _, s := range hostile {
		table.Rows = append(table.Rows, []any{s})
	}
	f := open(t, xlsx(t, []export.Table{table}))
	for i, want := range hostile {
		assertText(t, f, "Text", i+2, want)
	}
}

// assertText wants column A of a row to be text, and quoted where it looks
// like a formula.
func assertText(t *testing.T, f *excelize.File, sheet string, row int, want string) {
	t.Helper()
	at, err := excelize.CoordinatesToCellName(1, row)
	require.NoError(t, err)
	kind, err := f.GetCellType(sheet, at)
	require.NoError(t, err)
	formula, err := f.GetCellFormula(sheet, at)
	require.NoError(t, err)
	value, err := f.GetCellValue(sheet, at)
	require.NoError(t, err)
	style, err := f.GetCellStyle(sheet, at)
	require.NoError(t, err)
	prefix := f.Styles.CellXfs.Xf[style].QuotePrefix
	assert.Equal(t, excelize.CellTypeInlineString, kind, want)
	assert.Empty(t, formula, want)
	assert.Equal(t, want, value)
	assert.Equal(t, bytes.ContainsRune([]byte("=+-@\t\r"), rune(want[0])), prefix != nil && *prefix, "quote prefix of %q", want)
}

func TestFolderThatCanNotBeWritten(t *testing.T) {
	t.Parallel()
	file := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(file, nil, 0o600))
	require.ErrorContains(t, export.WriteFolder(filepath.Join(file, "below"), export.Template()), "make folder")
}

func xlsx(t *testing.T, tables []export.Table) []byte {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, export.WriteXLSX(&out, tables))
	return out.Bytes()
}

func open(t *testing.T, data []byte) *excelize.File {
	t.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(data))
	require.NoError(t, err)
	t.Cleanup(func() { _ = f.Close() })
	return f
}

func bold(t *testing.T, f *excelize.File, sheet, at string) bool {
	t.Helper()
	id, err := f.GetCellStyle(sheet, at)
	require.NoError(t, err)
	style, err := f.GetStyle(id)
	require.NoError(t, err)
	return style.Font != nil && style.Font.Bold
}

func reread(t *testing.T, tables []export.Table) *importers.Result {
	t.Helper()
	read, err := importers.ReadBytes(t.Context(), "plant.xlsx", xlsx(t, tables))
	require.NoError(t, err)
	return read
}

func refolder(t *testing.T, tables []export.Table) *importers.Result {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "plant")
	require.NoError(t, export.WriteFolder(dir, tables))
	read, err := importers.ReadFiles(t.Context(), dir)
	require.NoError(t, err)
	return read
}

func rezip(t *testing.T, tables []export.Table) *importers.Result {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, export.WriteZip(&out, tables))
	read, err := importers.ReadBytes(t.Context(), "plant.zip", out.Bytes())
	require.NoError(t, err)
	return read
}
