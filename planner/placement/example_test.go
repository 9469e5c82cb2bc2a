package placement_test

import (
	"context"
	"fmt"
	"time"

	"lanewright/planner/demand"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/sizing"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// Give two loops of a lantern cell their lanes.
func ExamplePlace() {
	const mm, kg = units.Millimetre, units.Kilogram
	p := &plant.Plant{
		Settings:   plant.DefaultSettings(),
		Cells:      []plant.Cell{{Cell: "Lenses"}},
		Stations:   []plant.Station{{Station: "L1", Cell: "Lenses"}},
		Containers: []plant.Container{{Container: "tote", Length: 400 * mm, Width: 300 * mm, Height: 150 * mm, FlowSide: plant.LengthAlong}},
		Parts: []plant.Part{
			{Part: "Fresnel lens", PieceMass: 2 * kg, Container: "tote", Pack: 4},
			{Part: "Gasket", PieceMass: kg / 20, Container: "tote", Pack: 100},
		},
		RackTypes: []plant.RackType{{RackType: "flow", Width: 800 * mm, Levels: []plant.Level{
			{Level: 1, Kind: plant.Supply, PickHeight: 300 * mm, Drop: 50 * mm, LaneLength: 1200 * mm, UsableWidth: 700 * mm, ClearHeight: 300 * mm},
			{Level: 2, Kind: plant.Supply, PickHeight: 700 * mm, Drop: 50 * mm, LaneLength: 1200 * mm, UsableWidth: 700 * mm, ClearHeight: 300 * mm},
		}}},
		Racks: []plant.Rack{{Rack: "R1", RackType: "flow", Cell: "Lenses"}},
	}
	loop := func(part plant.PartCode, pack int64, perHour int64, containers int, gross units.Mass) sizing.Loop {
		return sizing.Loop{
			Loop: demand.Loop{
				Key: demand.Key{Part: part, Cell: "Lenses", Station: "L1"}, Container: "tote", Pack: pack,
				Rate: units.R(perHour, 60), Interval: time.Hour, Model: plant.SteadyModel,
			},
			Containers: containers, Gross: gross,
		}
	}
	x := plant.NewIndex(p)
	in := placement.Input{
		Index: x, Plant: p.Settings, Racks: structure.Racks(x),
		Loops: []sizing.Loop{loop("Fresnel lens", 4, 6, 4, 9*kg), loop("Gasket", 100, 6, 2, 6*kg)},
	}
	l := placement.Place(context.Background(), in, placement.DefaultSettings(), 1, 1, nil)
	for _, lane := range l.Lanes {
		what := string(lane.Loop.Part)
		if lane.Empty() {
			what = "empty"
		}
		fmt.Printf("%s level %d lane %d: %s, %d of %d\n", lane.Rack, lane.Level, lane.Lane, what, lane.Containers, lane.Capacity)
	}
	b := l.Bounds[0]
	fmt.Println("unplaced", b.Unplaced, "optimal", b.Optimal)
	// Output:
	// R1 level 1 lane 1: Gasket, 2 of 3
	// R1 level 1 lane 2: empty, 0 of 0
	// R1 level 2 lane 1: Fresnel lens, 3 of 3
	// R1 level 2 lane 2: Fresnel lens, 1 of 3
	// unplaced 0 optimal true
}
