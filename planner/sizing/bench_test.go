package sizing_test

import (
	"fmt"
	"testing"
	"time"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/sizing"
	"lanewright/planner/units"
)

// BenchmarkSize sizes 20,000 loops of each model, by the chance for each cycle
// and by the fill rate.
func BenchmarkSize(b *testing.B) {
	p := &plant.Plant{Parts: []plant.Part{{Part: "P", Container: "B", Pack: 24}}, Containers: []plant.Container{{Container: "B"}}}
	x := plant.NewIndex(p)
	models := []plant.DemandModel{
		plant.SteadyModel, plant.NormalModel, plant.PoissonModel, plant.NegativeBinomialModel, plant.EmpiricalModel,
	}
	for _, model := range models {
		for _, measure := range []plant.ServiceMeasure{plant.ServicePerCycle, plant.ServiceFillRate} {
			loops := manyLoops(model, measure)
			b.Run(fmt.Sprint(model, "/", measure), func(b *testing.B) {
				for range b.N {
					sizing.Size(x, loops)
				}
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(loops)), "ns/loop")
			})
		}
	}
}

// manyLoops uses 1 to 997 pieces a day with a variation of 0.1 to 2 (at least
// a tenth above Poisson's for the negative binomial), with 250 days of history.
func manyLoops(model plant.DemandModel, measure plant.ServiceMeasure) []demand.Loop {
	loops := make([]demand.Loop, 20_000)
	for i := range loops {
		rate := units.R(int64(1+i%997), 480)
		days := make([]units.Ratio, 250)
		for d := range days {
			days[d] = units.R(int64(1+(i*31+d*17)%997)*23, 10)
		}
		loops[i] = demand.Loop{
			Key: demand.Key{Part: "P"}, Container: "B", Pack: 24, Model: model, Measure: measure,
			Rate: rate, Variance: rate.Mul(units.R(int64(11+i%331), 10)), Days: days, Day: units.Int(480),
			Interval: time.Hour, Response: time.Hour, ServiceLevel: units.R(995, 1000), Safety: units.R(1, 10),
		}
	}
	return loops
}

// BenchmarkSteps asks what moves the containers of one loop.
func BenchmarkSteps(b *testing.B) {
	for _, model := range []plant.DemandModel{plant.SteadyModel, plant.NormalModel, plant.NegativeBinomialModel, plant.EmpiricalModel} {
		l := sized(manyLoops(model, plant.ServicePerCycle)[500])
		b.Run(fmt.Sprint(model), func(b *testing.B) {
			for range b.N {
				sizing.Steps(l)
			}
		})
	}
}
