package wire_test

import (
	"bytes"
	"context"
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/plant"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// TestBuild: what is not known is null, what a kit can not build is an empty rack
// with its finding, and the rest has its lists.
func TestBuild(t *testing.T) {
	t.Parallel()
	bare := plant.ShippedKit("mm")
	bare.Kit, bare.Parts = "bare", bare.Parts[:1]
	whole := plant.ShippedKit("mm")
	whole.Of(plant.TubePart).PricePerMetre = 3 * units.Unit
	facts := &plant.Plant{Kits: []plant.Kit{bare, whole}, RackTypes: plant.ShippedRackTypes()[:2]}
	facts.RackTypes[0].Kit, facts.RackTypes[1].Kit = bare.Kit, whole.Kit
	plan := &planner.Plan{Plant: "P", Racks: []structure.Rack{{Rack: "A", Type: &facts.RackTypes[0]}, {Rack: "B", Type: &facts.RackTypes[1]}}}
	b, err := planner.BuildRacks(context.Background(), facts, plan, planner.BuildScope{}, planner.BuildOptions{})
	require.NoError(t, err)
	text, err := json.Marshal(wire.NewBuild(plan, b))
	require.NoError(t, err)
	assert.NotContains(t, string(text), `:null,"price_unknown"`)
	var doc wire.Build
	require.NoError(t, json.Unmarshal(text, &doc))
	assert.Equal(t, wire.BuildFormat, doc.Format)
	a, other := doc.Racks[0], doc.Racks[1]
	assert.Empty(t, a.Kit)
	assert.Nil(t, a.Screening)
	assert.Equal(t, structure.CodeKitLacks, a.Findings[0].Code)
	assert.NotNil(t, a.Members, "empty, not null")
	assert.Equal(t, string(whole.Kit), other.Kit)
	assert.NotEmpty(t, other.Steps)
	require.NotNil(t, other.Total.Cost)
	assert.InDelta(t, 3*other.Buys[0].LengthMM/1000, *other.Total.Cost, 1e-3)
	assert.Contains(t, other.Total.Unpriced, "stop 50")
	for _, one := range other.Buys[1:] {
		assert.Nil(t, one.Cost, one.Part)
	}
	assert.Equal(t, doc.Cuts[0].BoughtMM, doc.Cuts[0].LeastMM)
	assert.NotEmpty(t, doc.Cautions)
}

// TestPlanBuild: the document of a plan has what its racks are built from, piece by
// piece as their build lists have it, and leaves the plan's own document as it is.
func TestPlanBuild(t *testing.T) {
	t.Parallel()
	facts := &plant.Plant{Kits: []plant.Kit{plant.ShippedKit("mm")}, RackTypes: plant.ShippedRackTypes()[:1]}
	plan := &planner.Plan{Plant: "P", Racks: []structure.Rack{{Rack: "A", Type: &facts.RackTypes[0]}, {Rack: "B", Proposed: true, Type: &facts.RackTypes[0]}}}
	b, err := planner.BuildProposed(context.Background(), facts, plan, 1)
	require.NoError(t, err)
	bare := wire.NewPlan(plan)
	assert.Same(t, bare, bare.Built(nil))
	var text bytes.Buffer
	require.NoError(t, bare.Built(b).Write(&text))
	assert.Nil(t, bare.Build)
	var doc wire.Plan
	require.NoError(t, json.Unmarshal(text.Bytes(), &doc))
	require.Len(t, doc.Build.Racks, 1)
	r := doc.Build.Racks[0]
	assert.Equal(t, "B", r.Rack)
	assert.Equal(t, string(facts.RackTypes[0].RackType), r.RackType)
	tube, ofTubes, cut := facts.Kits[0].Of(plant.TubePart), 0.0, 0.0
	for _, p := range r.Pieces {
		assert.Len(t, p.Marks, p.Count)
		if p.Part == string(tube.Part) {
			ofTubes += float64(p.Count) * p.LengthMM
		}
	}
	for _, c := range doc.Build.Cuts {
		if c.Part == string(tube.Part) {
			cut = c.CutMM
			assert.GreaterOrEqual(t, c.BoughtMM, c.LeastMM)
		}
	}
	assert.InDelta(t, ofTubes, cut, 1e-6, "every tube of the rack is cut")
	assert.Positive(t, *doc.Build.Total.MassKG)
}
