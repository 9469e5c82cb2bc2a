package demand_test

import (
	"fmt"
	"time"

	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// lamps builds 240 lanterns a day with two lenses each and 5 % scrap, over 435 net
// minutes.
func lamps() *plant.Plant {
	day := plant.DefaultShift()
	day.Breaks = []plant.Break{{Start: 9 * time.Hour, Length: 15 * time.Minute}, {Start: 12 * time.Hour, Length: 30 * time.Minute}}
	return &plant.Plant{
		Settings:   plant.DefaultSettings(),
		Shifts:     []plant.Shift{day},
		Products:   []plant.Product{{Product: "LANTERN", UnitsPerDay: units.Int(240), Origin: finding.Origin{Sheet: "Products", Row: 3}}},
		Parts:      []plant.Part{{Part: "LENS", Container: "TOTE", Pack: 20}},
		Containers: []plant.Container{{Container: "TOTE"}},
		Cells:      []plant.Cell{{Cell: "C"}},
		Usage:      []plant.Usage{{Product: "LANTERN", Part: "LENS", Cell: "C", Station: "10", PerUnit: units.Int(2), Scrap: units.R(5, 100), Origin: finding.Origin{Sheet: "Usage", Row: 14}}},
		Columns:    []plant.Column{{Sheet: "Usage", Field: "Quantity per unit", Letters: "C"}, {Sheet: "Products", Field: "Units per day", Letters: "C"}},
	}
}

func ExampleLoops() {
	p := lamps()
	loops, _ := demand.Loops(plant.NewIndex(p), p.Settings)
	fmt.Printf("%.4g pieces a minute, %s\n", loops[0].Rate.Float64(), loops[0].Model)
	// Output: 1.159 pieces a minute, steady
}

// How a rate came about, row by row.
func ExampleTerms() {
	p := lamps()
	x := plant.NewIndex(p)
	loops, _ := demand.Loops(x, p.Settings)
	for _, t := range demand.Terms(x, p.Settings, loops[0]) {
		fmt.Printf("%s (%s, %s)\n", t, t.Origin, t.ProductOrigin)
	}
	// Output: 240 LANTERN a day x 2 x 1.05 / 435 min = 1.159 pieces a minute (Usage!C14, Products!C3)
}

// One shortage a year and loop: what that asks of one refill cycle of an hour.
func ExampleLoops_shortagesPerYear() {
	p := lamps()
	p.Settings.Measure = plant.ServicePerYear
	loops, _ := demand.Loops(plant.NewIndex(p), p.Settings)
	fmt.Println(demand.NetWeek(p.Shifts).Mul(p.Settings.WeeksPerYear), "minutes a year, level", loops[0].ServiceLevel)
	// Output: 104400 minutes a year, level 1739/1740
}

// Twenty-five days that the history decides on.
func ExampleLoops_history() {
	p := lamps()
	p.Settings.History = plant.HistoryAll
	for d := range 25 {
		p.History = append(p.History, plant.History{Product: "LANTERN", Date: time.Date(2025, 3, 3+d, 0, 0, 0, 0, time.UTC), Units: units.Int(int64(190 + 10*(d%3)))})
	}
	loops, findings := demand.Loops(plant.NewIndex(p), p.Settings)
	fmt.Printf("%.4g pieces a minute, %s\n", loops[0].Rate.Float64(), loops[0].Model)
	fmt.Println(findings[0].Summary)
	// Output:
	// 0.9636 pieces a minute, normal
	// Taken from 25 days of history of product LANTERN: mean 199.6 instead of 240 units a day, variation 0.042116 instead of 0
}

// Is demand rising?
func ExampleSummaries() {
	p := lamps()
	for d := range 60 {
		p.History = append(p.History, plant.History{Product: "LANTERN", Date: time.Date(2025, 3, 3+d, 0, 0, 0, 0, time.UTC), Units: units.Int(int64(210 + d + 5*(d%2)))})
	}
	s := demand.Summaries(plant.NewIndex(p))[0]
	fmt.Printf("%d days, mean %s, variation %.3f, %+.2f units a day each day, by chance: %t\n", s.Days, s.Mean, s.Variation, s.Trend.PerDay, s.Trend.Chance > 0.01)
	// Output: 60 days, mean 242, variation 0.073, +1.00 units a day each day, by chance: false
}

// What a cell builds on a day and what each unit takes.
func ExampleMixes() {
	p := lamps()
	for _, m := range demand.Mixes(plant.NewIndex(p), p.Settings) {
		for _, product := range m.Products {
			fmt.Println(m.Cell, product.Product, product.UnitsPerDay, product.Takes[0].Loop.Part, product.Takes[0].Pieces)
		}
	}
	// Output: C LANTERN 240 LENS 2.1
}

// Four lanterns, two beacons and a buoy light, spread over the day.
func ExampleLevelled() {
	for _, i := range demand.Levelled([]int{4, 2, 1}) {
		fmt.Print([]string{"lantern", "beacon", "buoy"}[i], " ")
	}
	// Output: lantern beacon lantern buoy lantern beacon lantern
}
