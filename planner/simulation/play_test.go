package simulation_test

import (
	"context"
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"lanewright/planner/demand"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/simulation"
	"lanewright/planner/sizing"
	"lanewright/planner/units"
)

// alone is the plan of loops that nobody shares anything with: each has its
// lanes and rounds of its own, every interval.
func alone(loops []demand.Loop) simulation.Input {
	p := &plant.Plant{
		Settings:   plant.DefaultSettings(),
		Shifts:     []plant.Shift{plant.DefaultShift()},
		Containers: []plant.Container{{Container: "B", Length: 400 * units.Millimetre, Width: 300 * units.Millimetre, Height: 200 * units.Millimetre}},
		Cells:      []plant.Cell{{Cell: "C"}},
	}
	for i := range loops {
		loops[i].Key = demand.Key{Part: plant.PartCode(fmt.Sprintf("P%04d", i)), Cell: "C", Station: "S"}
		loops[i].Container = "B"
		p.Parts = append(p.Parts, plant.Part{Part: loops[i].Part, Container: "B", Pack: loops[i].Pack})
	}
	x := plant.NewIndex(p)
	sized, _ := sizing.Size(x, loops)
	in := simulation.Input{Plant: p.Settings, Index: x, Loops: sized}
	for i := range sized {
		in.Lanes = append(in.Lanes, placement.Lane{Rack: "R", Level: 1, Lane: i + 1, Kind: plant.Supply, Loop: sized[i].Key, Capacity: sized[i].Containers, Containers: sized[i].Containers})
	}
	return in
}

func TestScratch(t *testing.T) {
	for _, model := range []plant.DemandModel{plant.SteadyModel, plant.PoissonModel, plant.NormalModel, plant.NegativeBinomialModel} {
		for _, pack := range []int64{1, 5, 20} {
			for _, level := range []string{"0.9", "0.99"} {
				l := demand.Loop{
					Pack: pack, Rate: units.MustRatio("0.5"), Variance: units.MustRatio("2"), Model: model, Interval: 30 * time.Minute, Response: 30 * time.Minute,
					ServiceLevel: units.MustRatio(level), Day: units.Int(480),
				}
				loops := make([]demand.Loop, 8)
				for i := range loops {
					loops[i] = l
				}
				in := alone(loops)
				s := simulation.DefaultSettings()
				s.Weeks = 20
				r, err := simulation.Play(context.Background(), in, s, 1, 2, nil)
				require.NoError(t, err)
				sum := 0.0
				for _, x := range r.Loops {
					sum += x.Rate / 8
				}
				x := r.Loops[0]
				t.Logf("%s pack %d level %s k %d covered %.1f: rate %.4f allowed %.4f verdict %s mean %.1f fill %.4f wait %s short %s max %d of %d", model, pack, level, in.Loops[0].Containers, in.Loops[0].Covered.Float64(), sum, x.Allowed, x.Verdict, x.OnHandMean, x.FillRate, x.SignalWait, x.ShortMean, x.OnHandMost, x.Room)
			}
		}
	}
}
