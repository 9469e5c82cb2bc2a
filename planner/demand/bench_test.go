package demand_test

import (
	"fmt"
	"testing"
	"time"

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

// BenchmarkHistory computes loops and their trends from 100,000 rows of history:
// the last 250 days of 400 products, or 2,000 days of 50 whose use rises.
func BenchmarkHistory(b *testing.B) {
	for _, c := range []struct{ products, days int }{{400, 250}, {50, 2000}} {
		p := busy(400)
		p.Settings.History = plant.HistoryAll
		for i := range c.products * c.days {
			p.History = append(p.History, plant.History{
				Product: p.Products[i%c.products].Product, Date: time.Date(2020, 1, 1+i/c.products, 0, 0, 0, 0, time.UTC),
				Units: units.Int(int64(100 + i/c.products + i*7919%31)),
			})
		}
		x := plant.NewIndex(p)
		b.Run(fmt.Sprintf("%d of %d days", c.products, c.days), func(b *testing.B) {
			for b.Loop() {
				demand.Loops(x, p.Settings)
			}
		})
	}
}
