package simulation_test

import (
	"fmt"
	"runtime"
	"testing"
	"time"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/simulation"
	"lanewright/planner/units"
)

// fleetOf is a plan of so many loops of all models, 80 on each route.
func fleetOf(loops int) simulation.Input {
	models := []plant.DemandModel{plant.SteadyModel, plant.NormalModel, plant.PoissonModel, plant.NegativeBinomialModel}
	list := make([]demand.Loop, loops)
	for i := range list {
		l := steady("1", int64(8+i%40), 30*time.Minute, 30*time.Minute)
		l.Model, l.Rate, l.Variance = models[i%4], units.R(int64(1+i%97), 40), units.R(int64(1+i%97), 10)
		list[i] = l
	}
	in := alone(list)
	one := onRoute(in, 30*time.Minute, 400)
	route := one.Routes[0]
	one.Routes = nil
	for from := 0; from < loops; from += 80 {
		r := route
		r.Route, r.Handler = fmt.Sprintf("R%03d", from/80), fmt.Sprintf("H%03d", from/80)
		r.Stops = []routing.Stop{{Rack: "R"}}
		for i := from; i < min(from+80, loops); i++ {
			r.Stops[0].Loops = append(r.Stops[0].Loops, in.Loops[i].Key)
		}
		one.Routes = append(one.Routes, r)
	}
	return one
}

// BenchmarkPlay plays 20 shifts of 2,000 and 20,000 loops on one thread and on all.
func BenchmarkPlay(b *testing.B) {
	for _, loops := range []int{2_000, 20_000} {
		in := fleetOf(loops)
		for _, threads := range []int{1, runtime.GOMAXPROCS(0)} {
			b.Run(fmt.Sprintf("%d loops, %d threads", loops, threads), func(b *testing.B) {
				events := int64(0)
				for range b.N {
					events += play(b, in, simulation.Settings{Weeks: 4, Replications: 1}, threads).Events
				}
				b.ReportMetric(float64(events)/float64(b.N), "events/op")
				b.ReportMetric(float64(events)/b.Elapsed().Seconds(), "events/s")
			})
		}
	}
}

// BenchmarkLeastContainers finds by play what a steady loop needs.
func BenchmarkLeastContainers(b *testing.B) {
	in := alone([]demand.Loop{steady("2", 20, time.Hour, time.Hour)})
	for range b.N {
		simulation.LeastContainers(in.Loops[0], 1000)
	}
}
