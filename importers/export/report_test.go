package export_test

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"lanewright/importers"
	"lanewright/importers/export"
	"lanewright/planner"
	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/search"
	"lanewright/planner/simulation"
	"lanewright/planner/sizing"
	"lanewright/planner/structure"
	"lanewright/planner/units"
	"lanewright/testdata/plants"
)

var made = time.Date(2026, 11, 25, 9, 30, 0, 0, time.UTC)

// smallPlan is a plan made by hand: two cells, two racks of which one is to be
// added, three loops of which one is partly without a lane.
func smallPlan(lengthUnit, massUnit string) (*plant.Plant, *planner.Plan) {
	rackType := &plant.RackType{RackType: "=T", Width: 1830 * units.Millimetre, MassLimit: 900 * units.Kilogram}
	p := &plant.Plant{
		Name:      "=HYPERLINK(\"x\") & Sons",
		Parts:     []plant.Part{{Part: "00123", Description: "=1+1"}, {Part: "1E5", Description: "+24 V lead"}, {Part: "@c"}},
		Cells:     []plant.Cell{{Cell: "C1", Name: "-first"}, {Cell: "C2"}},
		RackTypes: []plant.RackType{*rackType},
		Racks:     []plant.Rack{{Rack: "R1", Cell: "C1"}},
	}
	settings := planner.DefaultSettings(p)
	settings.Plant = plant.DefaultSettings()
	settings.Plant.LengthUnit, settings.Plant.MassUnit, settings.Plant.Seed = lengthUnit, massUnit, 1<<60+7
	key := func(part, cell string) demand.Key {
		return demand.Key{Part: plant.PartCode(part), Cell: plant.CellCode(cell), Station: "010"}
	}
	a, b, c := key("00123", "C1"), key("1E5", "C1"), key("@c", "C2")
	loop := func(k demand.Key, hourly, pack int64, containers, lanes int, kg units.Mass, route string) planner.Loop {
		return planner.Loop{
			Loop: sizing.Loop{
				Loop: demand.Loop{Key: k, Container: "B", Pack: pack, Rate: units.R(hourly, 60), Interval: time.Hour, Response: time.Hour, ServiceLevel: units.R(995, 1000)},
				Mean: units.Int(2 * hourly), Covered: units.Int(2 * hourly), Cards: containers - 1, Rule: containers, Containers: containers,
				Sized: plant.SteadyModel, Gross: kg * units.Kilogram,
			},
			Capacity: 2, Lanes: lanes, Side: plant.LengthAlong, Route: route,
		}
	}
	lane := func(rack string, level, n int, k demand.Key, containers int) placement.Lane {
		l := placement.Lane{Rack: plant.RackCode(rack), Level: level, Lane: n, Kind: plant.Supply, Width: 254 * units.Millimetre, Offset: units.Length(n-1) * 254 * units.Millimetre, Loop: k}
		if k != (demand.Key{}) {
			l.Side, l.Capacity, l.Containers = plant.LengthAlong, 2, containers
		}
		return l
	}
	back := lane("R1", 1, 1, demand.Key{}, 0)
	back.Kind = plant.Return
	return p, &planner.Plan{
		Plant: p.Name, Revision: "abc123", Version: planner.Version, Settings: settings, Stopped: search.Limit,
		Loops: []planner.Loop{loop(a, 10, 5, 4, 2, 10, "A"), loop(b, 7, 3, 3, 1, 5, "A"), loop(c, 1, 9, 2, 1, 8, "B")},
		Racks: []structure.Rack{
			{Rack: "R1", Type: rackType, Cell: "C1", Stations: []plant.StationCode{"010", "020"}, Known: true, Place: plant.Place{X: 3 * units.Metre}, Point: "P1"},
			{Rack: "R2", Type: rackType, Cell: "C2", Proposed: true, Point: "P2"},
		},
		Lanes: []placement.Lane{
			back, lane("R1", 2, 1, a, 2), lane("R1", 2, 2, a, 2), lane("R1", 3, 1, b, 2), lane("R1", 3, 2, demand.Key{}, 0), lane("R2", 2, 1, c, 2),
		},
		Unplaced: []placement.Unplaced{{Loop: b, Containers: 1, Reason: "placement.full", Detail: "-12 mm are missing"}},
		Cells:    []placement.Bound{{Cell: "C1", Unplaced: 1, Effort: 12.5, EffortBound: 10}, {Cell: "C2", Effort: 2, EffortBound: 2, Optimal: true}},
		Balance: []placement.Balance{
			{Cell: "C1", Width: 254 * units.Millimetre, Needed: 4, Placed: 3, Room: 1}, {Cell: "C2", Width: 254 * units.Millimetre, Needed: 1, Placed: 1},
		},
		Routes: []routing.Route{
			{Route: "A", Vehicle: "V", Handler: "H1", Market: "M", Interval: time.Hour, Round: 20 * time.Minute, Travel: 120 * units.Metre, LoadMean: 4.5, LoadPlanned: 7, MassPlanned: 50 * units.Kilogram,
				Stops:     []routing.Stop{{Rack: "R1", Point: "P1", Loops: []demand.Key{a, b}, Arrive: 3 * time.Minute, Containers: 4.25, Empties: 3}},
				Timetable: []routing.ShiftTimes{{Shift: "early", Departures: []time.Duration{6 * time.Hour, 25 * time.Hour}}}},
			{Route: "B", Vehicle: "V", Handler: "H1", Market: "M", Interval: time.Hour, Round: 10 * time.Minute, Travel: 80*units.Metre + 1,
				Stops: []routing.Stop{{Rack: "R2", Point: "P2", Loops: []demand.Key{c}, Containers: 0.5}}},
		},
		RouteBounds: routing.Bounds{Routes: 2, RoutesBound: 1, Travel: 200*units.Metre + 1, Handlers: 1},
		Moves: []placement.Move{
			{Part: "00123", Cell: "C1", Station: "010", From: &placement.Spot{Rack: "R1", Level: 3, Lane: 1}, To: &placement.Spot{Rack: "R1", Level: 2, Lane: 1}, Containers: 4},
			{Part: "@c", Cell: "C2", Station: "010", To: &placement.Spot{Rack: "R2", Level: 2}, Containers: 2},
		},
		MoveSteps: []placement.Step{
			{Cell: "C1", Day: 1, Shift: "early", Step: 1, Kind: placement.StepAside, Part: "00123", Station: "010", Containers: 4, From: &placement.Spot{Rack: "R1", Level: 3, Lane: 1}, To: &placement.Spot{Rack: "R1"}, Time: 90 * time.Second},
			{Cell: "C1", Day: 1, Shift: "early", Step: 2, Kind: placement.StepBack, Part: "00123", Station: "010", Containers: 4, From: &placement.Spot{Rack: "R1"}, To: &placement.Spot{Rack: "R1", Level: 2, Lane: 1}, Time: 90 * time.Second},
			{Cell: "C2", Day: 1, Shift: "early", Step: 1, Kind: placement.StepBring, Part: "@c", Station: "010", Containers: 2, To: &placement.Spot{Rack: "R2", Level: 2, Lane: 1}, Time: time.Minute},
		},
		Findings: finding.List{
			{Severity: finding.Note, Code: "a.note", Summary: "=note"},
			{Severity: finding.Error, Code: "b.error", Summary: "@error", Detail: "\ttab", Origin: finding.Origin{File: "-f.xlsx", Sheet: "Parts", Row: 41, Column: "C"}, Measure: &finding.Measure{Value: 1.23456789, Limit: 1, Unit: "%"}},
			{Severity: finding.Warning, Code: "c.warning", Summary: "warning"},
		},
	}
}

// report writes and opens the report.
func report(t *testing.T, p *plant.Plant, plan *planner.Plan) *excelize.File {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, export.Report(&out, p, plan, made, nil))
	return open(t, out.Bytes())
}

// column returns the raw texts of a column, by heading, from the header row on.
func column(t *testing.T, f *excelize.File, sheet, heading string) []string {
	t.Helper()
	rows, err := f.GetRows(sheet, excelize.Options{RawCellValue: true})
	require.NoError(t, err)
	for r, row := range rows {
		if c := slices.Index(row, heading); c >= 0 {
			var list []string
			for _, below := range rows[r+1:] {
				if c < len(below) {
					list = append(list, below[c])
				} else {
					list = append(list, "")
				}
			}
			return list
		}
	}
	require.Fail(t, "no column "+heading, sheet)
	return nil
}

// checkSum wants the last row of a column to hold the sum of the rows above
// it, and that to be want.
func checkSum(t *testing.T, f *excelize.File, sheet, heading string, want float64) {
	t.Helper()
	cells := column(t, f, sheet, heading)
	require.NotEmpty(t, cells)
	sum := 0.0
	for _, c := range cells[:len(cells)-1] {
		if c != "" {
			sum += parse(t, c)
		}
	}
	total := parse(t, cells[len(cells)-1])
	assert.InDelta(t, want, total, 1e-9*(1+want), "%s, %s: the total is the plan's", sheet, heading)
	assert.InDelta(t, want, sum, 1e-6*(1+want), "%s, %s: the rows add up to it", sheet, heading)
}

func parse(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err)
	return v
}

// checkSums compares every sum of the report with the plan's own.
func checkSums(t *testing.T, f *excelize.File, plan *planner.Plan) {
	t.Helper()
	s := plan.Summary()
	placed := float64(s.Containers - s.ContainersUnplaced)
	for _, c := range []struct {
		sheet, heading string
		want           float64
	}{
		{"Loops", "Containers", float64(s.Containers)}, {"Loops", "Containers without a lane", float64(s.ContainersUnplaced)},
		{"Loops", "Pieces per hour", s.PiecesPerHour}, {"Loops", "Containers per hour", s.ContainersPerHour},
		{"Loops", "Lanes", float64(s.LanesUsed)},
		{"Lanes", "Containers", placed}, {"Racks", "Containers", placed},
		{"Racks", "Lanes used", float64(s.LanesUsed)}, {"Racks", "Lanes free", float64(s.LanesFree)}, {"Racks", "Return lanes", float64(s.ReturnLanes)},
		{"Moves", "Containers", float64(s.MovedContainers)},
		{"Routes and stops", "Travel (m)", plan.RouteBounds.Travel.Metres()},
	} {
		checkSum(t, f, c.sheet, c.heading, c.want)
	}
	if minutes, containers := 0.0, 0; len(plan.MoveSteps) > 0 {
		for _, m := range plan.MoveSteps {
			minutes, containers = minutes+m.Time.Minutes(), containers+m.Containers
		}
		checkSum(t, f, "Move list", "Containers", float64(containers))
		checkSum(t, f, "Move list", "Minutes", minutes)
	}
	assert.Len(t, column(t, f, "Loops", "Part"), s.Loops+1)
	assert.Len(t, column(t, f, "Lanes", "Rack"), s.LanesUsed+s.LanesFree+s.ReturnLanes+1)
	assert.Len(t, column(t, f, "Findings", "Severity"), s.Errors+s.Warnings+s.Notes)
	checkCells(t, f, s)
}

// checkCells checks the sums of the table of cells on the Summary sheet.
func checkCells(t *testing.T, f *excelize.File, s planner.Summary) {
	t.Helper()
	rows, err := f.GetRows("Summary", excelize.Options{RawCellValue: true})
	require.NoError(t, err)
	first := func(word string) []string {
		at := slices.IndexFunc(rows, func(row []string) bool { return len(row) > 0 && row[0] == word })
		require.GreaterOrEqual(t, at, 0, word)
		return rows[at]
	}
	heads, totals := first("Cell"), first("Sum")
	for heading, want := range map[string]float64{
		"Loops placed": float64(s.LoopsPlaced), "Containers": float64(s.Containers), "Containers without a lane": float64(s.ContainersUnplaced),
		"Lanes there": float64(s.LanesUsed + s.LanesFree), "Lanes used": float64(s.LanesUsed), "Lanes free": float64(s.LanesFree),
		"Racks": float64(s.Racks), "Racks to add": float64(s.RacksProposed), "Effort (kg per h)": s.Effort,
	} {
		total := parse(t, totals[slices.Index(heads, heading)])
		assert.InDelta(t, want, total, 1e-9*(1+want), heading)
	}
}

func TestReportSumsAreThePlans(t *testing.T) {
	t.Parallel()
	p, plan := smallPlan("mm", "kg")
	checkSums(t, report(t, p, plan), plan)
}

func TestReportHasItsSheetsAndTheyPrint(t *testing.T) {
	t.Parallel()
	p, plan := smallPlan("mm", "kg")
	f := report(t, p, plan)
	assert.Equal(t, []string{"Summary", "Charts", "Rack fronts", "Racks", "Lanes", "Loops", "Routes and stops", "Moves", "Move list", "Findings"}, f.GetSheetList())
	names := map[string]string{}
	for _, n := range f.GetDefinedName() {
		names[n.Name+" of "+n.Scope] = n.RefersTo
	}
	for _, sheet := range f.GetSheetList() {
		drawn := sheet == "Charts" || sheet == "Rack fronts"
		panes, err := f.GetPanes(sheet)
		require.NoError(t, err)
		assert.Equal(t, !drawn, panes.Freeze, sheet)
		layout, err := f.GetPageLayout(sheet)
		require.NoError(t, err)
		assert.Equal(t, "landscape", *layout.Orientation, sheet)
		assert.Equal(t, 1, *layout.FitToWidth, sheet)
		assert.Contains(t, names["_xlnm.Print_Area of "+sheet], "$A$1:$", sheet)
		if sheet != "Summary" && !drawn {
			assert.Contains(t, names["_xlnm.Print_Titles of "+sheet], "$1:$1", sheet)
			assert.Contains(t, names["_xlnm._FilterDatabase of "+sheet], "$A$1:$", sheet)
		}
	}
}

func TestReportIsSafeToOpen(t *testing.T) {
	t.Parallel()
	p, plan := smallPlan("mm", "kg")
	f := report(t, p, plan)
	for _, sheet := range f.GetSheetList() {
		rows, err := f.GetRows(sheet, excelize.Options{RawCellValue: true})
		require.NoError(t, err)
		for r, row := range rows {
			for c, value := range row {
				at, err := excelize.CoordinatesToCellName(c+1, r+1)
				require.NoError(t, err)
				formula, err := f.GetCellFormula(sheet, at)
				require.NoError(t, err)
				assert.Empty(t, formula, at)
				if value == "" || !strings.ContainsAny(value[:1], "=+-@\t\r") {
					continue
				}
				kind, err := f.GetCellType(sheet, at)
				require.NoError(t, err)
				assert.Equal(t, excelize.CellTypeInlineString, kind, "%s!%s %q", sheet, at, value)
			}
		}
	}
	assert.Equal(t, "00123", column(t, f, "Loops", "Part")[0], "zeros in front stay")
	kind, err := f.GetCellType("Loops", "A3")
	require.NoError(t, err)
	assert.Equal(t, excelize.CellTypeInlineString, kind, "1E5 stays text")
	kind, err = f.GetCellType("Loops", "P2")
	require.NoError(t, err)
	assert.NotEqual(t, excelize.CellTypeInlineString, kind, "containers are a number")
}

func TestReportUsesThePlantsUnits(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ length, mass, width, load, lane, full string }{
		{"mm", "kg", "Lane width (mm)", "Load (kg)", "254", "10"},
		{"in", "lb", "Lane width (in)", "Load (lb)", "10", "22.046"},
		{"Inches", "LBS", "Lane width (in)", "Load (lb)", "10", "22.046"},
		{"cubit", "stone", "Lane width (mm)", "Load (kg)", "254", "10"},
	} {
		p, plan := smallPlan(c.length, c.mass)
		f := report(t, p, plan)
		assert.Equal(t, c.lane, column(t, f, "Lanes", c.width)[1], c.length)
		column(t, f, "Racks", c.load)
		assert.Equal(t, c.full, column(t, f, "Loops", "Full container ("+c.load[6:])[0], c.mass)
	}
}

func TestReportTellsWhatItIs(t *testing.T) {
	t.Parallel()
	p, plan := smallPlan("mm", "kg")
	rows, err := report(t, p, plan).GetRows("Summary")
	require.NoError(t, err)
	text := fmt.Sprint(rows)
	for _, want := range []string{plan.Plant, plan.Revision, fmt.Sprint(plan.Settings.Plant.Seed), plan.Version, "2026-11-25 09:30", "Screening only", "qualified people"} {
		assert.Contains(t, text, want)
	}
}

func TestReportSaysWhatTheServiceLevelPromises(t *testing.T) {
	t.Parallel()
	for measure, want := range map[plant.ServiceMeasure]string{
		plant.ServicePerCycle: "99.5 % of refill cycles pass with no shortage",
		plant.ServicePerYear:  "a loop may run short 2.5 times in a year of 48 weeks",
		plant.ServiceFillRate: "99.5 % of pieces are there when they are wanted",
	} {
		p, plan := smallPlan("mm", "kg")
		plan.Settings.Plant.Measure, plan.Settings.Plant.ShortagesPerYear = measure, units.R(5, 2)
		plan.Settings.Plant.History = plant.HistoryAll
		rows, err := report(t, p, plan).GetRows("Summary")
		require.NoError(t, err)
		assert.Contains(t, fmt.Sprint(rows), want)
		assert.Contains(t, fmt.Sprint(rows), "mean and variation, where it has days enough")
	}
}

func TestReportOrdersFindingsAndSaysWhere(t *testing.T) {
	t.Parallel()
	p, plan := smallPlan("mm", "kg")
	f := report(t, p, plan)
	assert.Equal(t, []string{"error", "warning", "note"}, column(t, f, "Findings", "Severity"))
	assert.Equal(t, "41", column(t, f, "Findings", "Row")[0])
	assert.Equal(t, "1.23457", column(t, f, "Findings", "Value")[0])
	assert.Equal(t, "a.note", plan.Findings[0].Code, "the plan itself is not changed")
}

func TestReportPlacesAndTimes(t *testing.T) {
	t.Parallel()
	p, plan := smallPlan("mm", "kg")
	f := report(t, p, plan)
	assert.Equal(t, []string{"R1 level 2 lanes 1-2", "R1 level 3 lane 1", "R2 level 2 lane 1", ""}, column(t, f, "Loops", "Place"))
	assert.Equal(t, "early: 06:00, 01:00", column(t, f, "Routes and stops", "Departures")[0])
	assert.Equal(t, []string{"moved", "new", ""}, column(t, f, "Moves", "Change"))
	assert.Equal(t, "A", column(t, f, "Racks", "Routes")[0])
	assert.Equal(t, []string{"R1 level 3 lane 1", "floor beside R1", "market", ""}, column(t, f, "Move list", "From"))
	assert.Equal(t, []string{"put aside for now", "put in place from aside", "bring from the market", ""}, column(t, f, "Move list", "What to do"))
	assert.Equal(t, []string{"1.5", "3", "1", ""}, column(t, f, "Move list", "Minutes of the shift"))
}

func TestSameReportSameBytes(t *testing.T) {
	t.Parallel()
	p, plan := smallPlan("mm", "kg")
	var a, b bytes.Buffer
	require.NoError(t, export.Report(&a, p, plan, made, nil))
	require.NoError(t, export.Report(&b, p, plan, made, nil))
	assert.True(t, bytes.Equal(a.Bytes(), b.Bytes()))
}

func TestReportOfAnEmptyPlan(t *testing.T) {
	t.Parallel()
	plan := &planner.Plan{}
	checkSums(t, report(t, &plant.Plant{}, plan), plan)
}

// broken fails after some bytes, as a full disk does.
type broken struct{ left int }

func (b *broken) Write(p []byte) (int, error) {
	if b.left -= len(p); b.left < 0 {
		return 0, fmt.Errorf("no space")
	}
	return len(p), nil
}

func TestReportThatCanNotBeWritten(t *testing.T) {
	t.Parallel()
	p, plan := smallPlan("mm", "kg")
	require.ErrorContains(t, export.Report(&broken{left: 100}, p, plan, made, nil), "write workbook: no space")
}

func TestReportOfTheMadeUpPlant(t *testing.T) {
	t.Parallel()
	read, err := importers.ReadBytes(t.Context(), plants.SkerrowName, plants.Skerrow)
	require.NoError(t, err)
	in := planner.Input{Plant: &read.Plant, Findings: read.Findings}
	plan, err := planner.Run(t.Context(), in, planner.DefaultSettings(&read.Plant), planner.Options{Threads: 2})
	require.NoError(t, err)
	checkSums(t, report(t, &read.Plant, plan), plan)
}

// TestReportOfAProvedPlan has a sheet of what was played, the worst loop first;
// of a plan that was not played the Summary says so.
func TestReportOfAProvedPlan(t *testing.T) {
	t.Parallel()
	p, plan := smallPlan("mm", "kg")
	rows, err := report(t, p, plan).GetRows("Summary")
	require.NoError(t, err)
	assert.Contains(t, fmt.Sprint(rows), "was not tried")
	plan.Proof = &simulation.Result{Settings: simulation.DefaultSettings()}
	for i, l := range plan.Loops {
		plan.Proof.Loops = append(plan.Proof.Loops, simulation.LoopResult{
			Loop: l.Key, Verdict: simulation.Proved, Rate: float64(i) / 100, Allowed: 0.005, ShortMean: 90 * time.Second,
		})
	}
	last := &plan.Proof.Loops[len(plan.Loops)-1]
	last.Verdict, last.Cause, last.Enough = simulation.Short, simulation.CauseGap, 9
	plan.Proof.Loops[0].Verdict = simulation.NotPlayed
	f := report(t, p, plan)
	assert.Equal(t, string(last.Loop.Part), column(t, f, "Played", "Part")[0])
	assert.Equal(t, "runs short", column(t, f, "Played", "Verdict")[0])
	assert.Equal(t, "9", column(t, f, "Played", "Would need")[0])
	assert.Equal(t, "1.5", column(t, f, "Played", "Mean length (min)")[0])
	assert.Equal(t, simulation.CauseGap.Words(), column(t, f, "Played", "Mostly because")[0])
	rows, err = f.GetRows("Summary")
	require.NoError(t, err)
	assert.Contains(t, fmt.Sprint(rows), fmt.Sprintf("%d loops proved, 1 run short, 1 without", len(plan.Loops)-2))
}
