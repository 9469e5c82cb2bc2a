package planner_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner"
	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// TestFramesOfAPlan: every rack of the made-up plant is built with the lanes
// planned on it, and no container of it is stopped by a tube.
func TestFramesOfAPlan(t *testing.T) {
	t.Parallel()
	in := skerrow(t)
	plan := run(t, in)
	frames := planner.Frames(context.Background(), in.Plant, plan, 2)
	require.Len(t, frames, len(plan.Racks))
	lanes, load := 0, 0.0
	for i, f := range frames {
		require.NotNil(t, f.Frame)
		assert.Equal(t, plan.Racks[i].Rack, f.Rack.Rack)
		assert.Equal(t, plant.MetricKit, f.Frame.Kit.Kit, "the plant has no kit of the name its types give")
		for _, d := range f.Frame.Decks {
			lanes += len(d.Lanes)
		}
		load += f.Screening.Load
		for _, one := range f.Findings {
			assert.NotEqual(t, structure.CodeNoPassage, one.Code, one.Summary)
			assert.Equal(t, string(f.Rack.Rack), one.Subject.Rack)
		}
	}
	assert.Equal(t, len(plan.Lanes), lanes)
	gross := map[demand.Key]float64{}
	for _, l := range plan.Loops {
		gross[l.Key] = l.Gross.KG()
	}
	want := 0.0
	for _, l := range plan.Lanes {
		want += gross[l.Loop] * float64(l.Capacity)
	}
	assert.InDelta(t, want, load, 1e-6*want, "full lanes, kg")
}

// TestFramesFindWhatDoesNotPass: a container grown by a hand's breadth after the
// plan was made strikes the level above.
func TestFramesFindWhatDoesNotPass(t *testing.T) {
	t.Parallel()
	in := skerrow(t)
	plan := run(t, in)
	for i := range in.Plant.Containers {
		in.Plant.Containers[i].Height += 80 * units.Millimetre
	}
	codes := map[string]int{}
	for _, f := range planner.Frames(context.Background(), in.Plant, plan, 2) {
		for _, one := range f.Findings {
			codes[one.Code]++
		}
	}
	assert.Positive(t, codes[structure.CodeNoPassage])
}

func BenchmarkFrames(b *testing.B) {
	in := skerrow(b)
	plan, err := planner.Run(context.Background(), in, planner.DefaultSettings(in.Plant), planner.Options{Threads: 2})
	require.NoError(b, err)
	for b.Loop() {
		planner.Frames(context.Background(), in.Plant, plan, 2)
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*len(plan.Racks)), "µs/rack")
}
