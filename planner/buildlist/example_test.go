package buildlist_test

import (
	"context"
	"fmt"

	"lanewright/planner/buildlist"
	"lanewright/planner/plant"
	"lanewright/planner/structure"
)

// What a rack of the shipped types takes of the metric kit, and how its tubes are
// cut from bars of 3 and 6 m.
func ExampleMake() {
	kit, rackType := plant.ShippedKit("mm"), plant.ShippedRackTypes()[1]
	frame, _ := structure.Build(&rackType, &kit, nil)
	list, _ := buildlist.Make("R1", frame, buildlist.MM)
	for _, b := range list.Buys[:2] {
		fmt.Println(b.Count, b.Part.Part, b.Length)
	}
	fmt.Println(list.Pieces[0].Mark, list.Pieces[0].Length, list.Pieces[0].Where)
	cuts, _, err := buildlist.CutLists(context.Background(), []buildlist.List{list}, buildlist.CutOptions{})
	fmt.Println(cuts[0].Part.Part, len(cuts[0].Bars), "bars,", cuts[0].Bought, cuts[0].Proved, err)
	for _, s := range list.Steps[:2] {
		fmt.Println(s.Title)
	}
	// Output:
	// 35 tube 30 x 30 x 2.5 46842 mm
	// 28 roller track 33 40628 mm
	// U1 1740 mm row 1, left
	// tube 30 x 30 x 2.5 8 bars, 48000 mm true <nil>
	// Cut, mark and drill
	// Uprights
}
