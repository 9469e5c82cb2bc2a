package floor_test

import (
	"fmt"
	"testing"

	"lanewright/planner/floor"
	"lanewright/planner/plant"
)

// BenchmarkQuickest finds all ways among 1,250 points of a grid of 40 by 40.
func BenchmarkQuickest(b *testing.B) {
	const side = 40
	p := &plant.Plant{}
	code := func(x, y int) plant.PointCode { return plant.PointCode(fmt.Sprintf("%d-%d", x, y)) }
	var points []plant.PointCode
	for x := range side {
		for y := range side {
			points = append(points, code(x, y))
			p.AislePoints = append(p.AislePoints, plant.AislePoint{Point: code(x, y)})
			if x > 0 {
				p.Aisles = append(p.Aisles, plant.Aisle{From: code(x-1, y), To: code(x, y), Length: 10 * metre, OneWay: y%2 == 1})
			}
			if y > 0 {
				p.Aisles = append(p.Aisles, plant.Aisle{From: code(x, y-1), To: code(x, y), Length: 8 * metre})
			}
		}
	}
	n, _ := floor.New(p)
	for b.Loop() {
		n.Quickest(points[:1250], floor.Ride{Speed: mps}, 2)
	}
}
