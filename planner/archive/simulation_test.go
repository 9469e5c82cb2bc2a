package archive_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"lanewright/planner/archive"
	"lanewright/planner/simulation"
)

func TestCountVerdicts(t *testing.T) {
	t.Parallel()
	loops := []simulation.LoopResult{
		{Verdict: simulation.Proved}, {Verdict: simulation.Short}, {Verdict: simulation.Proved}, {Verdict: simulation.NotPlayed}, {},
	}
	v := archive.CountVerdicts(loops)
	assert.Equal(t, archive.Verdicts{Proved: 2, Short: 1, NotPlayed: 2}, v)
	assert.Equal(t, len(loops), v.Proved+v.Short+v.NotPlayed, "each loop counts once")
	header := archive.NewSimulation(7, true, &simulation.Result{Loops: loops, Seed: 3, Events: 5})
	assert.Equal(t, archive.Simulation{Plan: 7, Proof: true, Verdicts: v, Seed: 3, Events: 5}, header)
}
