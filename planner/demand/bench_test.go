package demand_test

import (
	"fmt"
	"testing"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// busy is a plant of so many loops, each used by three of 400 products.
func busy(loops int) *plant.Plant {
	p := &plant.Plant{
		Settings:   plant.DefaultSettings(),
		Shifts:     []plant.Shift{plant.DefaultShift()},
		Containers: []plant.Container{{Container: "X"}},
	}
	product := func(i int) plant.ProductCode { return plant.ProductCode(fmt.Sprintf("A%03d", i%400)) }
	for i := range 400 {
		p.Products = append(p.Products, plant.Product{Product: product(i), UnitsPerDay: units.Int(int64(20 + i)), Variation: units.R(int64(i%40), 100)})
	}
	for i := range loops {
		part, cell := plant.PartCode(fmt.Sprintf("P%05d", i)), plant.CellCode(fmt.Sprintf("C%03d", i%250))
		p.Parts = append(p.Parts, plant.Part{Part: part, Container: "X", Pack: 12})
		for j := range 3 {
			p.Usage = append(p.Usage, plant.Usage{Product: product(i + 7*j), Part: part, Cell: cell, Station: "S", PerUnit: units.R(int64(1+i%9), 4), Scrap: units.R(int64(i%4), 100)})
		}
	}
	for i := range 250 {
		p.Cells = append(p.Cells, plant.Cell{Cell: plant.CellCode(fmt.Sprintf("C%03d", i))})
	}
	return p
}

// BenchmarkLoops computes 20,000 loops from 60,000 rows of products.
func BenchmarkLoops(b *testing.B) {
	p := busy(20_000)
	x := plant.NewIndex(p)
	b.ReportAllocs()
	for b.Loop() {
		demand.Loops(x, p.Settings)
	}
}
