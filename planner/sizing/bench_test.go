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

// BenchmarkSize sizes 20,000 loops of each model.
func BenchmarkSize(b *testing.B) {
	p := &plant.Plant{Parts: []plant.Part{{Part: "P", Container: "B", Pack: 24}}, Containers: []plant.Container{{Container: "B"}}}
	x := plant.NewIndex(p)
	for _, model := range []plant.DemandModel{plant.SteadyModel, plant.NormalModel, plant.PoissonModel} {
		loops := make([]demand.Loop, 20_000)
		for i := range loops {
			loops[i] = demand.Loop{
				Key: demand.Key{Part: "P"}, Container: "B", Pack: 24, Model: model,
				Rate: units.R(int64(1+i%997), 480), Variance: units.R(int64(1+i%331), 480),
				Interval: time.Hour, Response: time.Hour, ServiceLevel: units.R(995, 1000), Safety: units.R(1, 10),
			}
		}
		b.Run(fmt.Sprint(model), func(b *testing.B) {
			for range b.N {
				sizing.Size(x, loops)
			}
		})
	}
}
