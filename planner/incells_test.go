package planner_test

import (
	"context"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/importers"
	"lanewright/planner"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/testdata/plants"
)

// TestInCells: the parts of a plan that concern each cell make up the whole, nothing
// twice, and the plan stays as it is.
func TestInCells(t *testing.T) {
	t.Parallel()
	read, err := importers.ReadBytes(context.Background(), plants.SkerrowName, plants.Skerrow)
	require.NoError(t, err)
	s := planner.DefaultSettings(&read.Plant)
	s.Placement.Steps = 0
	plan, err := planner.Run(context.Background(), planner.Input{Plant: &read.Plant}, s, planner.Options{Threads: 2})
	require.NoError(t, err)
	facts, same := planner.InCells(&read.Plant, plan)
	assert.Same(t, &read.Plant, facts)
	assert.Same(t, plan, same)

	var sum planner.Summary
	routes := map[string]bool{}
	for _, c := range read.Plant.Cells {
		facts, one := planner.InCells(&read.Plant, plan, c.Cell)
		require.Len(t, facts.Cells, 1)
		got := one.Summary()
		sum.Loops += got.Loops
		sum.LoopsPlaced += got.LoopsPlaced
		sum.Containers += got.Containers
		sum.ContainersUnplaced += got.ContainersUnplaced
		sum.Racks += got.Racks
		sum.LanesUsed += got.LanesUsed
		sum.LanesFree += got.LanesFree
		sum.ReturnLanes += got.ReturnLanes
		sum.MovedContainers += got.MovedContainers
		for _, r := range one.Routes {
			routes[r.Route] = true
			assert.True(t, slices.ContainsFunc(r.Stops, func(s routing.Stop) bool { return home(plan, s.Rack) == c.Cell }), "%s %s", c.Cell, r.Route)
		}
		for _, f := range one.Findings {
			assert.True(t, f.Subject.Cell == string(c.Cell) || home(plan, plant.RackCode(f.Subject.Rack)) == c.Cell, f.Summary)
		}
	}
	all := plan.Summary()
	assert.Equal(t, []int{all.Loops, all.LoopsPlaced, all.Containers, all.ContainersUnplaced, all.Racks, all.LanesUsed, all.LanesFree, all.ReturnLanes, all.MovedContainers},
		[]int{sum.Loops, sum.LoopsPlaced, sum.Containers, sum.ContainersUnplaced, sum.Racks, sum.LanesUsed, sum.LanesFree, sum.ReturnLanes, sum.MovedContainers})
	assert.Len(t, routes, len(plan.Routes))
}

func home(p *planner.Plan, rack plant.RackCode) plant.CellCode {
	for _, r := range p.Racks {
		if r.Rack == rack {
			return r.Cell
		}
	}
	return ""
}
