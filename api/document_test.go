package api_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api"
	"lanewright/api/apitest"
	"lanewright/api/wire"
	"lanewright/planner/plant"
)

// TestDocumentHasBuildLists: where the plant has kits, the document of a plan says
// what the racks are built from that the plan proposes; without kits it is null.
func TestDocumentHasBuildLists(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	assert.Nil(t, decode[wire.Plan](t, call(t, h, "GET", "/api/v1/plans/1", "")).Build)

	facts, s := apitest.Facts(), apitest.NewStore()
	facts.Kits = []plant.Kit{plant.ShippedKit("mm")}
	_, _, err := s.SaveRevision(context.Background(), apitest.Name, facts, plant.Revision(facts), nil, nil)
	require.NoError(t, err)
	_, err = s.SavePlan(context.Background(), apitest.Name, 1, apitest.Plan())
	require.NoError(t, err)
	h = api.New(api.Options{Store: s, Version: "test", Trace: apitest.Trace})
	doc := decode[wire.Plan](t, call(t, h, "GET", "/api/v1/plans/1", ""))
	require.NotNil(t, doc.Build)
	var proposed, listed []string
	for _, r := range doc.Racks {
		if r.Proposed {
			proposed = append(proposed, r.Rack)
		}
	}
	for _, r := range doc.Build.Racks {
		listed = append(listed, r.Rack)
		assert.NotEmpty(t, r.Pieces, r.Rack)
	}
	assert.Equal(t, proposed, listed)
	built := decode[wire.Build](t, call(t, h, "GET", "/api/v1/plans/1/build?proposed=true", ""))
	assert.Equal(t, built.Buys, doc.Build.Buys, "as the build list has it")
	assert.Equal(t, built.Cuts, doc.Build.Cuts)
}
