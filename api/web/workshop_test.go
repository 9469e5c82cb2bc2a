package web_test

import (
	"context"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"lanewright/api/apitest"
	"lanewright/importers"
	"lanewright/planner"
	"lanewright/planner/plant"
)

// madeUp is the made-up plant, read and planned once for all tests.
var madeUp = sync.OnceValues(func() (planner.Input, *planner.Plan) {
	read, err := importers.ReadFiles(context.Background(), "../../testdata/plants/skerrow/skerrow.xlsx")
	if err != nil {
		panic(err)
	}
	in := planner.Input{Plant: &read.Plant, Findings: read.Findings}
	plan, err := planner.Run(context.Background(), in, planner.DefaultSettings(in.Plant), planner.Options{Threads: 2})
	if err != nil {
		panic(err)
	}
	return in, plan
})

// workshop is a store with the made-up plant and a plan of it, which can be edited.
func workshop(t *testing.T) *apitest.Store {
	t.Helper()
	in, plan := madeUp()
	s := apitest.NewStore()
	_, _, err := s.SaveRevision(t.Context(), in.Plant.Name, in.Plant, plant.Revision(in.Plant), nil, in.Findings)
	require.NoError(t, err)
	_, err = s.SavePlan(t.Context(), in.Plant.Name, 1, plan)
	require.NoError(t, err)
	return s
}
