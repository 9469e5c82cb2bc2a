package apitest

import (
	"context"
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"lanewright/planner"
	"lanewright/planner/archive"
	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/search"
	"lanewright/planner/sizing"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// Name is the made-up plant.
const Name = "Skerrow Lantern Works"

// Filled returns a store with one revision of the made-up plant and one plan
// of it.
func Filled(t testing.TB) *Store {
	t.Helper()
	s := NewStore()
	facts := Facts()
	sheets := []archive.SheetCount{{File: "skerrow.xlsx", Sheet: "Parts", Rows: 14, Used: 12, Reported: 1, Skipped: 1}}
	_, _, err := s.SaveRevision(context.Background(), Name, facts, plant.Revision(facts), sheets, Findings()[:1])
	require.NoError(t, err)
	_, err = s.SavePlan(context.Background(), Name, 1, Plan())
	require.NoError(t, err)
	return s
}

// cells of the made-up plant: one with room, one that lacks lanes, and one
// whose code needs care in an address.
var cells = []plant.Cell{
	{Cell: "LENS", Name: "Lens assembly", Area: "Hall 1", Frontage: 6 * units.Metre},
	{Cell: "WIRE", Name: "Wiring", Area: "Hall 1"},
	{Cell: "TEST/2", Name: "Test & <seal>", Area: "Hall 2"},
}

// Facts returns the made-up plant. Only what the API tells of it is there.
func Facts() *plant.Plant {
	p := &plant.Plant{
		Name: Name, Settings: plant.DefaultSettings(), Cells: cells,
		Shifts: []plant.Shift{plant.DefaultShift()},
	}
	p.Settings.TimeZone = "Europe/London"
	for _, c := range cells {
		p.Stations = append(p.Stations, plant.Station{Cell: c.Cell, Station: "10"}, plant.Station{Cell: c.Cell, Station: "20"})
	}
	p.Containers = []plant.Container{{
		Container: "SLC-4315", Length: 400 * units.Millimetre, Width: 300 * units.Millimetre, Height: 150 * units.Millimetre,
		EmptyMass: units.Kilogram, Returnable: true, FlowSide: plant.EitherAlong, Handles: plant.FairHandles, Nests: units.Int(1),
	}}
	for i, cell := range rackCells {
		for n := range 4 {
			use(p, loop(cell, i*10+5+n).Key)
		}
	}
	return p
}

// rackCells are the cells of the four racks.
var rackCells = []plant.CellCode{"LENS", "LENS", "WIRE", "TEST/2"}

// use adds a part and its use.
func use(p *plant.Plant, k demand.Key) {
	rate := loop(k.Cell, 0).Rate.Mul(units.Int(60))
	p.Parts = append(p.Parts, plant.Part{Part: k.Part, Container: "SLC-4315", Pack: 24, PieceMass: units.Kilogram / 4})
	p.Usage = append(p.Usage, plant.Usage{Part: k.Part, Cell: k.Cell, Station: k.Station, PerHour: rate})
}

// rackType has two supply levels and a return level.
var rackType = plant.RackType{
	RackType: "FR-3", Width: 1200 * units.Millimetre, Depth: 1500 * units.Millimetre, Height: 1700 * units.Millimetre,
	OwnMass: 60 * units.Kilogram, MassLimit: 600 * units.Kilogram, Cost: 900 * units.Unit,
	Levels: []plant.Level{
		level(1, plant.Return, 300, -60), level(2, plant.Supply, 700, 60), level(3, plant.Supply, 1150, 60),
	},
}

func level(n int, kind plant.LevelKind, pick, drop units.Length) plant.Level {
	return plant.Level{
		Level: n, Kind: kind, PickHeight: pick * units.Millimetre, Drop: drop * units.Millimetre,
		LaneLength: 1400 * units.Millimetre, UsableWidth: 1140 * units.Millimetre, ClearHeight: 350 * units.Millimetre,
		MassLimit: 150 * units.Kilogram,
	}
}

// Plan returns a plan of the made-up plant: four racks, one of them proposed;
// eighteen loops, two of which have no lane; two routes of one handler; and its
// proof.
func Plan() *planner.Plan {
	facts := Facts()
	p := &planner.Plan{
		Plant: Name, Revision: plant.Revision(facts), Version: planner.Version,
		Settings: planner.DefaultSettings(facts), Stopped: search.Limit, Findings: Findings(),
	}
	for i, cell := range rackCells {
		addRack(p, i, cell)
	}
	p.Racks[3].Proposed = true
	for _, part := range []plant.PartCode{"WR-901", "WR-902"} {
		leaveOut(p, demand.Key{Part: part, Cell: "WIRE", Station: "20"})
	}
	p.Cells = []placement.Bound{
		{Cell: "LENS", Effort: 41.5, EffortBound: 41.5, Optimal: true, Stopped: search.Proved},
		{Cell: "WIRE", Unplaced: 8, UnplacedBound: 6, Effort: 20, EffortBound: 17.25, Stopped: search.Limit},
		{Cell: "TEST/2", AddedCost: 900, AddedCostBound: 900, Effort: 12, EffortBound: 11, Stopped: search.Exhausted},
	}
	p.Balance = []placement.Balance{
		{Cell: "LENS", Width: 320 * units.Millimetre, Needed: 8, Placed: 8, Room: 2},
		{Cell: "WIRE", Width: 320 * units.Millimetre, Needed: 5, Placed: 4, Room: 0},
		{Cell: "WIRE", Width: 420 * units.Millimetre, Needed: 1, Placed: 0, Room: 0},
		{Cell: "TEST/2", Width: 320 * units.Millimetre, Needed: 4, Placed: 4, Room: 2},
	}
	p.Routes = []routing.Route{route(p, "A", 0, 1), route(p, "B", 2, 3)}
	p.RouteBounds = routing.Bounds{Routes: 2, RoutesBound: 1, Travel: 240 * units.Metre, TravelBound: 180 * units.Metre, Handlers: 1}
	p.Moves = []placement.Move{
		{Part: "TE-100", Cell: "TEST/2", Station: "10", To: &placement.Spot{Rack: "R4", Level: 2, Lane: 1}, Containers: 4},
		{Part: "WR-100", Cell: "WIRE", Station: "10", From: &placement.Spot{Rack: "R3", Level: 3, Lane: 2}, To: &placement.Spot{Rack: "R3", Level: 2, Lane: 1}, Containers: 3},
	}
	p.MoveSteps = []placement.Step{
		{Cell: "WIRE", Day: 1, Shift: "early", Step: 1, Kind: placement.StepMove, Part: "WR-100", Station: "10", Containers: 3, From: &placement.Spot{Rack: "R3", Level: 3, Lane: 2}, To: &placement.Spot{Rack: "R3", Level: 2, Lane: 1}, Time: 90 * time.Second},
		{Cell: "TEST/2", Day: 1, Shift: "early", Step: 1, Kind: placement.StepBring, Part: "TE-100", Station: "10", Containers: 4, To: &placement.Spot{Rack: "R4", Level: 2, Lane: 1}, Time: 3 * time.Minute},
	}
	p.Proof = Played(p)
	return p
}

// addRack adds a rack with four loops on two levels, an empty lane on each
// supply level and one return lane.
func addRack(p *planner.Plan, i int, cell plant.CellCode) {
	rack := structure.Rack{
		Rack: plant.RackCode(fmt.Sprintf("R%d", i+1)), Type: &rackType, Cell: cell, Stations: []plant.StationCode{"10", "20"},
		Place: plant.Place{X: units.Length(i) * 4 * units.Metre, Y: 12 * units.Metre}, Known: true, Point: plant.PointCode(fmt.Sprintf("P%d", i+1)),
	}
	for _, l := range rackType.Levels {
		rack.Levels = append(rack.Levels, structure.Level{Level: l})
	}
	p.Racks = append(p.Racks, rack)
	lane := placement.Lane{Rack: rack.Rack, Level: 1, Lane: 1, Kind: plant.Return, Width: 1140 * units.Millimetre}
	p.Lanes = append(p.Lanes, lane)
	for lvl := 2; lvl <= 3; lvl++ {
		for n := 1; n <= 3; n++ {
			lane := placement.Lane{
				Rack: rack.Rack, Level: lvl, Lane: n, Kind: plant.Supply,
				Offset: units.Length(n-1) * 330 * units.Millimetre, Width: 320 * units.Millimetre,
			}
			if n < 3 {
				l := loop(cell, i*10+lvl*2+n)
				p.Loops = append(p.Loops, l)
				lane.Loop, lane.Side, lane.Capacity, lane.Containers = l.Key, l.Side, l.Capacity, l.Containers
			}
			p.Lanes = append(p.Lanes, lane)
		}
	}
}

func loop(cell plant.CellCode, n int) planner.Loop {
	rate := units.R(int64(20+n), 60)
	l := planner.Loop{Capacity: 4, Lanes: 1, Side: plant.WidthAlong, Route: "A"}
	l.Loop = sizing.Loop{
		Mean: rate.Mul(units.Int(60)), Covered: rate.Mul(units.Int(66)), Cards: 2, Rule: 3, Containers: 3,
		Sized: plant.SteadyModel, Gross: 7 * units.Kilogram,
	}
	l.Loop.Loop = demand.Loop{
		Key:       demand.Key{Part: plant.PartCode(fmt.Sprintf("%.2s-%d", cell, 100+n)), Cell: cell, Station: "10"},
		Container: "SLC-4315", Pack: 24, Rate: rate, Day: units.Int(480),
		Interval: 30 * time.Minute, Response: 30 * time.Minute, ServiceLevel: units.R(995, 1000), Safety: units.R(1, 10), Measure: plant.ServicePerCycle, Model: plant.SteadyModel,
		Origin: finding.Origin{File: "skerrow.xlsx", Sheet: "Usage", Row: n + 2},
	}
	return l
}

// leaveOut adds a loop without a lane.
func leaveOut(p *planner.Plan, k demand.Key) {
	l := loop(k.Cell, 99)
	l.Key, l.Containers, l.Capacity, l.Lanes, l.Side, l.Route = k, 4, 0, 0, "", ""
	p.Loops = append(p.Loops, l)
	p.Unplaced = append(p.Unplaced, placement.Unplaced{
		Loop: k, Containers: 4, Reason: "placement.no-width", Detail: "Needs a lane of 420 mm; the widest room left is 140 mm on rack R3, level 2.",
	})
}

func route(p *planner.Plan, name string, racks ...int) routing.Route {
	r := routing.Route{
		Route: name, Vehicle: "TUG", Handler: "H1", Market: "MARKET", Interval: 30 * time.Minute,
		Round: 13*time.Minute + 30*time.Second, Travel: 120 * units.Metre,
		LoadMean: 9.5, LoadPlanned: 14.25, MassPlanned: 99 * units.Kilogram,
		Timetable: []routing.ShiftTimes{
			{Shift: "early", Departures: []time.Duration{6 * time.Hour, 6*time.Hour + 30*time.Minute}},
			{Shift: "night", Departures: []time.Duration{22 * time.Hour, 24*time.Hour + 15*time.Minute}},
		},
	}
	for i, n := range racks {
		rack := p.Racks[n]
		r.Stops = append(r.Stops, routing.Stop{
			Rack: rack.Rack, Point: rack.Point, Loops: loopsOn(p, rack.Rack),
			Arrive: time.Duration(90*(i+1)) * time.Second, Containers: 4.75, Empties: 4.75,
		})
	}
	return r
}

// loopsOn lists the loops that lie on a rack.
func loopsOn(p *planner.Plan, rack plant.RackCode) (keys []demand.Key) {
	for _, l := range p.Lanes {
		if l.Rack == rack && !l.Empty() {
			keys = append(keys, l.Loop)
		}
	}
	return keys
}

// Findings returns three findings: an error, a warning and a note.
func Findings() finding.List {
	return finding.List{
		{
			Severity: finding.Error, Code: "parts.unknown-container", Summary: `Part LN-777 names the container "SLC-9999", which is not listed`,
			Detail: "Without its container a part can not be laid.", Remedy: "Add the container to the sheet Containers, or correct the code.",
			Origin: finding.Origin{File: "skerrow.xlsx", Sheet: "Parts", Row: 13, Column: "D"}, Subject: finding.Subject{Part: "LN-777", Container: "SLC-9999"},
		},
		{
			Severity: finding.Warning, Code: "placement.no-width", Summary: "Cell WIRE lacks 2 lanes: 8 containers of 2 loops have no lane",
			Detail: "Needs a lane of 420 mm; the widest room left is 140 mm.", Remedy: "Allow a rack type for the cell, shorten the refill interval, or use a narrower container.",
			Subject: finding.Subject{Cell: "WIRE"}, Measure: &finding.Measure{Value: 420, Limit: 140, Unit: "mm"},
		},
		{
			Severity: finding.Note, Code: "racks.slope", Summary: "Rack R1 level 2 slopes 4.3 %", Detail: "Fine for most containers.", Remedy: "Nothing needs doing.",
			Subject: finding.Subject{Rack: "R1", Level: 2}, Measure: &finding.Measure{Value: 4.3, Limit: 8.8, Unit: "%"}, Source: "common practice, no source",
		},
	}
}
