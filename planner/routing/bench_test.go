package routing_test

import (
	"context"
	"math/rand/v2"
	"testing"
	"time"

	"lanewright/planner/routing"
)

// BenchmarkRoutes makes the routes of a plant like the made-up one and of 250
// and of 500 cells with 1,250 and 2,500 racks.
func BenchmarkRoutes(b *testing.B) {
	for _, c := range []struct {
		name string
		size size
	}{
		{"70 racks", size{columns: 8, rows: 6, racks: 70, loops: 10, vehicles: 3, intervals: hourly, used: 0.6}},
		{"1250 racks", size{columns: 25, rows: 20, racks: 1250, loops: 16, vehicles: 3, intervals: hourly, used: 0.6}},
		{"2500 racks", size{columns: 40, rows: 25, racks: 2500, loops: 16, vehicles: 3, intervals: hourly, used: 0.6}},
		{"1250 racks, 3 intervals", size{columns: 25, rows: 20, racks: 1250, loops: 16, vehicles: 3, intervals: []time.Duration{30 * time.Minute, time.Hour, 2 * time.Hour}, used: 0.6}},
	} {
		in := random(rand.New(rand.NewPCG(1, 1)), c.size)
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				p := routing.Routes(context.Background(), in, routing.DefaultSettings(), 1, 2, nil)
				b.ReportMetric(float64(p.Bounds.Handlers), "handlers")
				b.ReportMetric(float64(p.Bounds.HandlersBound), "handlers-bound")
				b.ReportMetric(float64(p.Bounds.Routes), "routes")
				b.ReportMetric(float64(p.Bounds.RoutesBound), "routes-bound")
				b.ReportMetric(p.Bounds.Travel.Metres(), "m")
				b.ReportMetric(p.Bounds.TravelBound.Metres(), "m-bound")
			}
		})
	}
}
