package wire_test

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api/apitest"
	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/costing"
)

// A plan document compares as the plan that wrote it does.
func TestReadPlan(t *testing.T) {
	t.Parallel()
	p := apitest.Plan()
	var b bytes.Buffer
	require.NoError(t, wire.WritePlan(&b, p))
	read, err := wire.ReadPlan(&b)
	require.NoError(t, err)
	c := planner.Compare(p, read, [2]*costing.Cost{})
	assert.Empty(t, c.Loops)
	assert.Empty(t, c.Cells)
	assert.Empty(t, c.Racks)
	assert.Empty(t, c.Routes)
	for _, total := range c.Totals {
		assert.InDelta(t, total.Before, total.After, 1e-9, total.Name)
	}
	assert.Equal(t, p.Settings, read.Settings)
	for what, text := range map[string]string{"no JSON": "plan", "another": `{"format":"lanewright.trade/1"}`, "half": `{"format":"lanewright.plan/1","loops":[`, "setting": `{"format":"lanewright.plan/1","settings":{"seed":"x"}}`} {
		_, err := wire.ReadPlan(strings.NewReader(text))
		assert.ErrorIs(t, err, wire.ErrNotAPlan, what)
	}
}
