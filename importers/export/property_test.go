package export_test

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/importers"
	"lanewright/importers/export"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// oddCodes are codes that spreadsheets and lists are apt to spoil.
var oddCodes = []string{
	"00123", "1E5", "1e-3", "3-4", "1/2", "1234567890123456789", "0x1F", "TRUE", "yes", "2026-01-05", "06:00", "#REF!", "=A1", "+7", "@x", "'q",
	`15"`, `"A"`, `"B`, "a,b", "c;d", `e,"f`, "g\nh", "i\tj", "k  l", "m\u00a0n", "１２３", "А1", "ß", "é", "e\u0301", "µ", "𝟙", "_x0041_", "Total", "Part", "99 %", "1,5", "1.234",
}

// anyPlant draws a plant of few facts with odd codes and uneven measures.
func anyPlant(t *rapid.T) *plant.Plant {
	left := rapid.Permutation(oddCodes).Draw(t, "codes")
	code := func() string {
		c := left[0]
		left = left[1:]
		return c
	}
	ratio := func(name string) units.Ratio {
		return units.R(rapid.Int64Range(0, 99_999).Draw(t, name), rapid.SampledFrom([]int64{1, 7, 8, 1000, 99_991}).Draw(t, name+" parts"))
	}
	length := func(name string) units.Length {
		step := rapid.SampledFrom([]units.Length{units.Nanometre, units.Millimetre / 8, units.Inch / 16, units.Millimetre}).Draw(t, name+" step")
		return units.Length(rapid.Int64Range(1, 2000).Draw(t, name)) * step
	}
	mass := func(name string) units.Mass { return units.Mass(rapid.Int64Range(0, 1e9).Draw(t, name)) }
	k, part, other, product, cell, shift, rackType, rack, point, market := code(), code(), code(), code(), code(), code(), code(), code(), code(), code()
	stations := []plant.StationCode{plant.StationCode(code()), plant.StationCode(code())}
	p := &plant.Plant{Name: code(), Settings: plant.DefaultSettings()}
	p.Settings.ServiceLevel = units.R(rapid.Int64Range(1, 998).Draw(t, "service"), 999)
	p.Settings.Interval = time.Duration(rapid.Int64Range(1, 1e12).Draw(t, "interval"))
	p.Settings.IntervalChoices = []time.Duration{p.Settings.Interval, p.Settings.Interval + 7125*time.Millisecond}
	p.Settings.Measure = rapid.SampledFrom(plant.ServiceMeasures()).Draw(t, "measure")
	p.Settings.History = rapid.SampledFrom(plant.HistoryUses()).Draw(t, "history use")
	p.Settings.ShortagesPerYear = units.R(rapid.Int64Range(1, 999).Draw(t, "shortages"), 7)
	p.Settings.WeeksPerYear = units.R(rapid.Int64Range(1, 371).Draw(t, "weeks"), 7)
	p.Settings.Prices = plant.Prices{
		HandlerHour: units.Money(rapid.Int64Range(0, 1e9).Draw(t, "handler")), VehicleYear: units.Money(rapid.Int64Range(0, 1e12).Draw(t, "vehicle")),
		RackYears: units.R(rapid.Int64Range(1, 99).Draw(t, "life"), 4), FloorYear: units.Money(rapid.Int64Range(0, 1e9).Draw(t, "floor")),
		StockInterest: units.R(rapid.Int64Range(0, 7).Draw(t, "interest"), 7),
	}
	p.Shifts = []plant.Shift{{Shift: plant.ShiftCode(shift), Days: [7]bool{1: true}, Start: 6 * time.Hour, End: 14*time.Hour + 30*time.Second}}
	p.Containers = []plant.Container{{
		Container: plant.ContainerCode(k), Description: "x " + code(), Length: length("length"), Width: length("width"), Height: length("height"),
		EmptyMass: mass("empty"), Returnable: true, FlowSide: plant.EitherAlong, Handles: plant.GoodHandles, Nests: units.R(1, 3),
	}}
	p.Parts = []plant.Part{
		{Part: plant.PartCode(part), Container: plant.ContainerCode(k), Pack: 20, PieceMass: mass("piece"), KeepApart: code(), UnitCost: units.Money(rapid.Int64Range(0, 1e9).Draw(t, "cost"))},
		{Part: plant.PartCode(other), Container: plant.ContainerCode(k), Pack: 1, LookAlike: plant.PartCode(part)},
	}
	p.Products = []plant.Product{{Product: plant.ProductCode(product), UnitsPerDay: ratio("units"), Variation: units.R(1, 7), Cell: plant.CellCode(cell)}}
	p.Cells = []plant.Cell{{Cell: plant.CellCode(cell), Shifts: []plant.ShiftCode{plant.ShiftCode(shift)}, RackTypes: []plant.RackTypeCode{plant.RackTypeCode(rackType)}, Frontage: length("frontage"), NewRackPoint: plant.PointCode(point)}}
	for _, s := range stations {
		p.Stations = append(p.Stations, plant.Station{Station: s, Cell: plant.CellCode(cell), Place: &plant.Place{X: length("x"), Y: -length("y")}, WalkLimit: plant.DefaultWalkLimit})
		p.Usage = append(p.Usage,
			plant.Usage{Product: plant.ProductCode(product), Part: plant.PartCode(part), Cell: plant.CellCode(cell), Station: s, PerUnit: ratio("quantity"), Scrap: units.R(1, 300)},
			plant.Usage{Part: plant.PartCode(other), Cell: plant.CellCode(cell), Station: s, PerHour: ratio("rate")})
	}
	p.RackTypes = []plant.RackType{{RackType: plant.RackTypeCode(rackType), Width: units.Metre, Depth: units.Metre, Height: units.Metre, Levels: []plant.Level{
		{Level: 1, Kind: plant.Supply, PickHeight: length("pick"), Drop: length("drop"), LaneLength: length("lane"), UsableWidth: units.Metre, ClearHeight: length("clear")},
	}}}
	p.AislePoints = []plant.AislePoint{{Point: plant.PointCode(market), Kind: plant.Market}, {Point: plant.PointCode(point), Kind: plant.StopAt, Place: plant.Place{X: length("point")}}}
	p.Aisles = []plant.Aisle{{From: plant.PointCode(market), To: plant.PointCode(point), Length: length("aisle")}}
	p.Racks = []plant.Rack{{
		Rack: plant.RackCode(rack), RackType: plant.RackTypeCode(rackType), Cell: plant.CellCode(cell), AislePoint: plant.PointCode(point), Stations: stations,
		FixedLanes: []plant.FixedLanes{{Level: 1, Widths: []units.Length{length("left"), length("right")}}},
	}}
	p.Vehicles = []plant.Vehicle{{Vehicle: "cart", Count: 1, Containers: 9, Speed: units.Speed(rapid.Int64Range(1, 1e9).Draw(t, "speed")), LoadTime: time.Duration(rapid.Int64Range(0, 1e10).Draw(t, "load"))}}
	p.AislePoints[0].Places = rapid.IntRange(0, 3).Draw(t, "places")
	a := &p.Aisles[0]
	a.Traffic = rapid.SampledFrom([]plant.Traffic{plant.AllTraffic, plant.OnlyDriven, plant.OnlyWalkers}).Draw(t, "traffic")
	a.SingleFile, a.NoTurning = rapid.Bool().Draw(t, "single file"), rapid.Bool().Draw(t, "no turning")
	p.Vehicles[0].OnFoot, p.Vehicles[0].Parking = rapid.Bool().Draw(t, "on foot"), plant.PointCode(point)
	p.Turns = []plant.Turn{{At: plant.PointCode(point), To: plant.PointCode(market), Allowed: rapid.Bool().Draw(t, "turn")}}
	tour := plant.TourCode(code())
	p.CurrentRoutes = []plant.CurrentStop{{Route: tour, Order: 1, Rack: plant.RackCode(rack), Vehicle: "cart", Interval: time.Duration(rapid.Int64Range(0, 1e12).Draw(t, "today's interval"))}}
	p.StockOnHand = []plant.StockBar{{Part: "tube, \"long\"", Length: 1850_500_000, Count: 3, Place: "Fach 7"}, {Part: "T2", Length: 2400 * units.Millimetre, Count: 1}}
	p.RouteRules = []plant.RouteRule{
		{Kind: plant.RulePin, Rack: plant.RackCode(rack), Route: tour, Reason: "x " + code()},
		{Kind: plant.RuleApart, Rack: plant.RackCode(rack), Other: plant.RackCode(rack)},
		{Kind: plant.RuleBefore, Rack: plant.RackCode(rack), Other: plant.RackCode(rack)},
		{Kind: plant.RuleClosed, From: plant.PointCode(market), To: plant.PointCode(point)},
	}
	return p
}

// Whatever its codes and measures, a plant that is written and read again is
// the same plant, as a workbook and as CSV files.
func TestAnyPlantReadsBackAsItself(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := anyPlant(t)
		tables := export.Workbook(p)
		var data bytes.Buffer
		name, write := "plant.xlsx", export.WriteXLSX
		if rapid.Bool().Draw(t, "as CSV files") {
			name, write = "plant.zip", export.WriteZip
		}
		require.NoError(t, write(&data, tables))
		read, err := importers.ReadBytes(t.Context(), name, data.Bytes())
		require.NoError(t, err)
		if plant.Revision(p) != plant.Revision(&read.Plant) {
			t.Fatalf("%s: %s%s", name, differences(p, &read.Plant), errorsIn(read.Findings))
		}
	})
}

// differences shows, sheet by sheet, the rows that differ.
func differences(want, got *plant.Plant) string {
	var b strings.Builder
	a, c := export.Workbook(want), export.Workbook(got)
	for i := range a {
		if x, y := fmt.Sprint(a[i].Rows), fmt.Sprint(c[i].Rows); x != y {
			fmt.Fprintf(&b, "\n%s: wrote %q, read %q", a[i].Sheet, x, y)
		}
	}
	return b.String()
}

func errorsIn(list finding.List) string {
	list = slices.DeleteFunc(slices.Clone(list), func(f finding.Finding) bool { return f.Severity != finding.Error })
	var b strings.Builder
	for _, f := range list {
		fmt.Fprintf(&b, "\n%s %s: %s %s", f.Origin, f.Code, f.Summary, f.Detail)
	}
	return b.String()
}
