package planner_test

import (
	"context"
	"fmt"

	"lanewright/importers"
	"lanewright/planner"
)

// One table is enough: racks are proposed from the types the program ships
// with.
func ExampleRun() {
	table := "Part,Cell,Station,Pieces per hour,Container,Length (mm),Width (mm),Height (mm),Standard pack\n" +
		"LENS,OPTIC,10,120,TOTE,400,300,150,20\n"
	read, err := importers.ReadBytes(context.Background(), "lamps.csv", []byte(table))
	if err != nil {
		fmt.Println(err)
		return
	}
	in := planner.Input{Plant: &read.Plant, Findings: read.Findings}
	plan, err := planner.Run(context.Background(), in, planner.DefaultSettings(in.Plant), planner.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	l := plan.Loops[0]
	fmt.Println(l.Containers, "containers in", l.Lanes, "lanes on rack", plan.Racks[0].Rack)
	// Output: 13 containers in 2 lanes on rack OPTIC-N1
}
