package structure_test

import (
	"fmt"

	"lanewright/planner/plant"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// Find levels on which containers may not start, or run away.
func ExampleCheck() {
	const mm = units.Millimetre
	p := &plant.Plant{RackTypes: []plant.RackType{{RackType: "lens rack", Width: 1250 * mm, Depth: 1500 * mm, Height: 1800 * mm, Levels: []plant.Level{
		{Level: 1, Kind: plant.Return, PickHeight: 300 * mm, Drop: -60 * mm, LaneLength: 1450 * mm},
		{Level: 2, Kind: plant.Supply, PickHeight: 700 * mm, Drop: 20 * mm, LaneLength: 1450 * mm},
		{Level: 3, Kind: plant.Supply, PickHeight: 1100 * mm, Drop: 145 * mm, LaneLength: 1450 * mm},
	}}}}
	for _, f := range structure.Check(plant.NewIndex(p)) {
		fmt.Println(f.Severity, f.Summary)
	}
	// Output:
	// note Level 2 of rack type lens rack slopes 1.38 %, less than 3 %
	// note Level 3 of rack type lens rack slopes 10 %, more than 8.8 %
}

// Build a rack type from a kit, with the lanes planned on it, and list its
// uprights and rails with their lengths and holes.
func ExampleBuild() {
	const mm = units.Millimetre
	t := plant.ShippedRackTypes()[1]
	k := plant.ShippedKit("mm")
	box := structure.Box{Container: "BOX", Flow: 400 * mm, Across: 300 * mm, Height: 220 * mm, Gross: 12 * units.Kilogram}
	f, _ := structure.Build(&t, &k, []structure.Lane{{Level: 2, Width: 320 * mm, Box: box, Capacity: 3, Containers: 3}})
	fmt.Println(f.Width, f.Depth, f.Height, len(f.Members), "pieces")
	for i, m := range f.Members {
		if m.Mark == "U1" || m.Level == 2 && m.Role == structure.Rail {
			fmt.Println(m.Mark, m.Role, m.Cut, "of", m.Part.Part, "holes at", f.Holes(i))
		}
	}
	s, _ := structure.Screen(f, structure.DefaultLimits())
	u, _ := s.Governing()
	fmt.Printf("%s: %s at %.0f %% of its limit\n", u.Mark, u.By, 100*u.Share)
	// Output:
	// 1250 mm 1500 mm 1800 mm 70 pieces
	// U1 upright 1740 mm of tube 30 x 30 x 2.5 holes at [15 mm 105.383841 mm 504.556255 mm 904.556255 mm 1304.556255 mm 1725 mm]
	// 2R1 rail 1439 mm of tube 30 x 30 x 2.5 holes at [474.785795 mm 965.205116 mm]
	// 2R2 rail 1439 mm of tube 30 x 30 x 2.5 holes at [474.785795 mm 965.205116 mm]
	// U3: slenderness at 40 % of its limit
}
