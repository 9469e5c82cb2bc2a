package planner_test

import (
	"context"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/structure"
)

// TestScreeningInThePlan: a plant with kits of its own gets the findings of its racks
// as they are built, one for each type, level and code; one without gets none, and
// the plan is the same but for them.
func TestScreeningInThePlan(t *testing.T) {
	t.Parallel()
	in := skerrow(t)
	bare := run(t, in)
	for _, f := range bare.Findings {
		assert.NotContains(t, []string{structure.CodeLevelLoad, structure.CodeHand, structure.CodeTips}, f.Code, "no kits, no screening")
	}
	facts := *in.Plant
	facts.Kits = []plant.Kit{plant.ShippedKit("mm")}
	in.Plant = &facts
	plan := run(t, in)
	assert.Equal(t, bare.Racks, plan.Racks)
	assert.Equal(t, bare.Lanes, plan.Lanes)

	type key struct {
		code, rackType string
		level          int
	}
	racks := map[key]map[string]float64{}
	for _, f := range planner.Frames(context.Background(), in.Plant, plan, 2) {
		for _, one := range f.Findings {
			k := key{one.Code, one.Subject.RackType, one.Subject.Level}
			if racks[k] == nil {
				racks[k] = map[string]float64{}
			}
			racks[k][one.Subject.Rack] = one.Measure.Value
		}
	}
	require.NotEmpty(t, racks)
	told := map[key]finding.Finding{}
	for _, f := range plan.Findings {
		k := key{f.Code, f.Subject.RackType, f.Subject.Level}
		if racks[k] != nil {
			require.NotContains(t, told, k, "told once")
			told[k] = f
		}
	}
	assert.Len(t, told, len(racks))
	for k, f := range told {
		require.Contains(t, racks[k], f.Subject.Rack)
		if len(racks[k]) > 1 {
			assert.Contains(t, f.Detail, "That is rack "+f.Subject.Rack, k)
		}
		if len(racks[k]) > 6 {
			assert.True(t, strings.HasSuffix(f.Detail, " more too."), f.Detail)
		}
		if k.code == structure.CodeLevelLoad && f.Measure.Unit == "mm" {
			for rack, value := range racks[k] {
				assert.GreaterOrEqual(t, f.Measure.Value, value, "%v: %s is worse", k, rack)
			}
		}
	}
}
