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

// Ask whether a rack's return lane of 1000 mm takes the empties between two
// rounds: 1.5 totes of 400 mm and half a bin of 300 mm an hour. At one visit in
// four there are two totes and a bin.
func ExampleEmpties() {
	const mm = units.Millimetre
	p := &plant.Plant{
		Settings: plant.DefaultSettings(),
		Cells:    []plant.Cell{{Cell: "Lenses"}},
		Stations: []plant.Station{{Station: "L1", Cell: "Lenses"}},
		Containers: []plant.Container{
			{Container: "tote", Length: 400 * mm, Width: 300 * mm, Height: 150 * mm, FlowSide: plant.LengthAlong, Returnable: true},
			{Container: "bin", Length: 300 * mm, Width: 200 * mm, Height: 150 * mm, FlowSide: plant.LengthAlong, Returnable: true},
		},
		Parts: []plant.Part{{Part: "Fresnel lens", Container: "tote", Pack: 4}, {Part: "Gasket", Container: "bin", Pack: 100}},
		RackTypes: []plant.RackType{{RackType: "flow", Width: 800 * mm, Levels: []plant.Level{
			{Level: 1, Kind: plant.Supply, PickHeight: 700 * mm, Drop: 50 * mm, LaneLength: 1200 * mm, UsableWidth: 700 * mm, ClearHeight: 300 * mm},
			{Level: 2, Kind: plant.Return, PickHeight: 300 * mm, Drop: -50 * mm, LaneLength: 1000 * mm, UsableWidth: 400 * mm, ClearHeight: 300 * mm},
		}}},
		Racks: []plant.Rack{{Rack: "R1", RackType: "flow", Cell: "Lenses"}},
	}
	loop := func(part plant.PartCode, box plant.ContainerCode, pack, perHour int64) sizing.Loop {
		return sizing.Loop{Containers: 3, Loop: demand.Loop{
			Key: demand.Key{Part: part, Cell: "Lenses", Station: "L1"}, Container: box, Pack: pack,
			Rate: units.R(perHour, 60), Interval: time.Hour, Model: plant.SteadyModel,
		}}
	}
	x := plant.NewIndex(p)
	in := placement.Input{
		Index: x, Plant: p.Settings, Racks: structure.Racks(x),
		Loops: []sizing.Loop{loop("Fresnel lens", "tote", 4, 6), loop("Gasket", "bin", 100, 50)},
	}
	l := placement.Place(context.Background(), in, placement.DefaultSettings(), 1, 1, nil)
	for _, f := range placement.Empties(in, l, nil) {
		fmt.Println(f.Summary)
		fmt.Println(f.Remedy)
	}
	// Output:
	// Rack R1 needs 1100 mm of return lane, it has 1000 mm
	// Visit it every 40 min, or add return lanes: 2 lanes would do.
}
