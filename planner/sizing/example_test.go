package sizing_test

import (
	"cmp"
	"fmt"
	"time"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/sizing"
	"lanewright/planner/units"
)

// A part used twice a minute in packs of 20, refilled every hour: the loop
// lives through two intervals, the train carries one interval's use.
func ExampleSize() {
	p := &plant.Plant{
		Parts:      []plant.Part{{Part: "LENS", Container: "TOTE", Pack: 20}},
		Containers: []plant.Container{{Container: "TOTE"}},
	}
	loop := demand.Loop{
		Key: demand.Key{Part: "LENS", Cell: "C", Station: "10"}, Container: "TOTE", Pack: 20,
		Rate: units.Int(2), Interval: time.Hour, Response: time.Hour, Model: plant.SteadyModel,
	}
	sized, _ := sizing.Size(plant.NewIndex(p), []demand.Loop{loop})
	fmt.Println(sized[0].Cards, "cards,", sized[0].Containers, "containers,", loop.Containers(time.Hour), "on each round")
	// Output: 12 cards, 13 containers, 6 on each round
}

// Ten containers of 400 x 300 mm on a level 1300 mm deep: three to a lane.
func ExampleLaneOn() {
	tote := plant.Container{Length: 400 * units.Millimetre, Width: 300 * units.Millimetre, Height: 200 * units.Millimetre}
	level := plant.Level{LaneLength: 1300 * units.Millimetre, ClearHeight: 300 * units.Millimetre}
	lane, fits := sizing.LaneOn(tote, 10, level, plant.DefaultSettings(), plant.LengthAlong)
	fmt.Println(fits, lane.Capacity, "to a lane,", lane.Lanes, "lanes of", lane.Width)
	// Output: true 3 to a lane, 4 lanes of 320 mm
}

// lenses is a plant with one part and its loop: two a minute in packs of 20,
// refilled every hour.
func lenses() (*plant.Index, sizing.Loop) {
	p := &plant.Plant{
		Parts: []plant.Part{{Part: "LENS", Container: "TOTE", Pack: 20, PieceMass: units.Kilogram / 2}},
		Containers: []plant.Container{
			{Container: "TOTE", Length: 400 * units.Millimetre, Width: 300 * units.Millimetre, Height: 200 * units.Millimetre, EmptyMass: units.Kilogram},
			{Container: "TRAY", Length: 400 * units.Millimetre, Width: 300 * units.Millimetre, Height: 120 * units.Millimetre, EmptyMass: units.Kilogram / 2},
			{Container: "CRATE", Length: 600 * units.Millimetre, Width: 400 * units.Millimetre, Height: 320 * units.Millimetre, EmptyMass: 2 * units.Kilogram},
		},
		RackTypes: plant.ShippedRackTypes(),
	}
	loop := demand.Loop{
		Key: demand.Key{Part: "LENS", Cell: "C", Station: "10"}, Container: "TOTE", Pack: 20, Day: units.Int(480),
		Rate: units.Int(2), Interval: time.Hour, Response: time.Hour, Model: plant.SteadyModel, ServiceLevel: units.R(99, 100),
	}
	x := plant.NewIndex(p)
	sized, _ := sizing.Size(x, []demand.Loop{loop})
	return x, sized[0]
}

// Two intervals for the loop, one for the train; and what the loop would need
// were its signal called in at once.
func ExampleOneInterval_compareTwoLoops() {
	_, l := lenses()
	fmt.Println("exchange of empties:", l.Containers, "containers")
	fmt.Println("called in at once:", sizing.OneInterval(l), "containers")
	fmt.Println("on each round:", sizing.TrainSpace(l))
	// Output:
	// exchange of empties: 13 containers
	// called in at once: 7 containers
	// on each round: 6
}

// The sign at a lane whose full containers come half an hour after the signal.
func ExampleMarks_writeTheSign() {
	x, l := lenses()
	l.Response = 30 * time.Minute
	sized, _ := sizing.Size(x, []demand.Loop{l.Loop})
	m := sizing.Marks(sized[0])
	fmt.Println("max", m.Max, "min", m.Min, "containers; signal at", m.Reorder, "pieces")
	// Output: max 10 min 4 containers; signal at 180 pieces
}

// What moves the number of containers, and how far each fact is from it.
func ExampleSteps_askWhatIf() {
	_, l := lenses()
	for _, s := range sizing.Steps(l) {
		than := "at"
		if s.Exclusive {
			than = "beyond"
		}
		fmt.Printf("%d containers %s %s %.4g (%+.2g %%)\n", s.Containers, than, s.Input, s.To.Float64(), s.ChangePercent.Float64())
	}
	// Output:
	// 14 containers beyond usage 120 (+0 %)
	// 12 containers at usage 110 (-8.3 %)
	// 14 containers beyond cycle 60 (+0 %)
	// 12 containers at cycle 55 (-8.3 %)
	// 12 containers at pack 22 (+10 %)
	// 14 containers at pack 19 (-5 %)
	// 14 containers beyond safety 0 (+0 %)
}

// Where the whole loop would lie, level by level.
func ExampleLaneChoices_findALevel() {
	x, l := lenses()
	for _, c := range sizing.LaneChoices(x, l, plant.DefaultSettings()) {
		if c.Level == 2 && c.Side == plant.LengthAlong {
			fmt.Println(c.RackType, "|", c.Lanes, "lanes of", c.Capacity, "|", c.TotalWidth, "|", cmp.Or(c.Obstacle, "fits"))
		}
	}
	// Output:
	// generic 1250 x 1500, 2 supply levels | 5 lanes of 3 | 1640 mm | width
	// generic 1250 x 1500, 3 supply levels | 5 lanes of 3 | 1640 mm | width
	// generic 1250 x 1500, 4 supply levels | 0 lanes of 0 | 0 mm | height
	// generic 1250 x 2500, 3 supply levels | 3 lanes of 6 | 980 mm | fits
	// generic 1850 x 1500, 3 supply levels | 5 lanes of 3 | 1640 mm | fits
}

// What the loop would be with each container of the plant that is worth a look.
func ExampleContainerChoices_adviseAContainer() {
	x, l := lenses()
	level := plant.ShippedRackTypes()[1].Levels[2]
	choices, out := sizing.ContainerChoices(x, l, plant.DefaultSettings(), sizing.DefaultLimits(level))
	for _, c := range choices {
		fmt.Printf("%s: %d pieces, %d containers, %.3g refills an hour, %v wide, effort %.1f kg/h\n",
			c.Container, c.Pack, c.Containers, c.RefillsPerHour.Float64(), c.TotalWidth, c.Effort)
	}
	for _, e := range out {
		fmt.Println(e.Container, "is out:", e.Reason, e.By)
	}
	// Output:
	// TOTE: 20 pieces, 13 containers, 6 refills an hour, 1640 mm wide, effort 9.3 kg/h
	// TRAY: 12 pieces, 21 containers, 10 refills an hour, 2300 mm wide, effort 8.1 kg/h
	// CRATE is out: height
}

// Size a loop for 99 pieces in 100 that are there when they are wanted, instead
// of 99 cycles in 100 with no shortage.
func ExampleCovered_promiseAFillRate() {
	_, l := lenses()
	l.Model, l.Variance = plant.NegativeBinomialModel, units.Int(40)
	fmt.Println("by the cycle:", sizing.Covered(l.Loop), "pieces")
	l.Measure = plant.ServiceFillRate
	d := sizing.Covered(l.Loop)
	fmt.Printf("by the fill rate: %s pieces, %.2f short in a cycle\n", d, sizing.ExpectedShort(l.Loop, d))
	// Output:
	// by the cycle: 429 pieces
	// by the fill rate: 385 pieces, 1.18 short in a cycle
}
