package plant_test

import (
	"fmt"
	"time"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// A pack that is too heavy for its container is found before anything is
// planned with it.
func ExampleCheck() {
	p := &plant.Plant{
		Settings:   plant.DefaultSettings(),
		Shifts:     []plant.Shift{plant.DefaultShift()},
		Containers: []plant.Container{{Container: "BOX", Length: 400 * units.Millimetre, Width: 300 * units.Millimetre, Height: 220 * units.Millimetre, GrossLimit: 12 * units.Kilogram, Nests: units.Int(1)}},
		Parts:      []plant.Part{{Part: "LENS", Container: "BOX", Pack: 50, PieceMass: 300 * units.Gram}},
	}
	for _, f := range plant.Check(p) {
		fmt.Println(f.Severity, f.Code+":", f.Summary)
	}
	// Output:
	// error parts.over-gross-limit: A full container of part LENS weighs 15 kg, container BOX may weigh 12 kg
	// note parts.no-usage: Part LENS is used at no station
}

// Net time of a shift is what its breaks leave.
func ExampleShift_Clock() {
	s := plant.DefaultShift()
	s.Breaks = []plant.Break{{Start: 9 * time.Hour, Length: 30 * time.Minute}}
	at, _ := s.Clock(3 * time.Hour)
	fmt.Println(s.Net(), at)
	// Output: 7h30m0s 9h30m0s
}

// A revision names the facts, whatever the order of their rows.
func ExampleRevision() {
	a := plant.Plant{Parts: []plant.Part{{Part: "LENS"}, {Part: "BASE"}}}
	b := plant.Plant{Parts: []plant.Part{{Part: "BASE"}, {Part: "LENS"}}}
	fmt.Println(plant.Revision(&a) == plant.Revision(&b))
	// Output: true
}
