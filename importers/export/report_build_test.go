package export_test

import (
	"context"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/importers"
	"lanewright/planner"
	"lanewright/planner/plant"
	"lanewright/planner/units"
	"lanewright/testdata/plants"
)

// figures reads a column of a report sheet as numbers, blanks and words left out;
// the last one is the sum where the sheet has one.
func figures(list []string) (numbers []float64) {
	for _, s := range list {
		if v, err := strconv.ParseFloat(s, 64); err == nil {
			numbers = append(numbers, v)
		}
	}
	return numbers
}

// TestReportOfBuilding: the sheets hold every piece of the proposed racks once, cut
// from bars, and the indices of every lane.
func TestReportOfBuilding(t *testing.T) {
	t.Parallel()
	read, err := importers.ReadBytes(context.Background(), plants.SkerrowName, plants.Skerrow)
	require.NoError(t, err)
	p := &read.Plant
	k := plant.ShippedKit("mm")
	k.Of(plant.TubePart).PricePerMetre = 4 * units.Unit
	for _, r := range p.RackTypes {
		if r.Kit != "" {
			k.Kit = r.Kit
		}
	}
	p.Kits = []plant.Kit{k}
	settings := planner.DefaultSettings(p)
	settings.Placement.Steps = 0
	plan, err := planner.Run(context.Background(), planner.Input{Plant: p}, settings, planner.Options{Threads: 2})
	require.NoError(t, err)
	b, err := planner.BuildRacks(context.Background(), p, plan, planner.BuildScope{Proposed: true}, planner.BuildOptions{Threads: 2})
	require.NoError(t, err)
	f := report(t, p, plan)
	assert.Subset(t, f.GetSheetList(), []string{"Lifting", "Build list", "Cut list"})

	pieces, tubes := 0, 0
	for _, c := range b.Cuts {
		pieces += c.Pieces
	}
	for _, r := range b.Racks {
		tubes += r.List.Tubes()
	}
	on := 0
	for _, marks := range column(t, f, "Cut list", "Pieces") {
		on += len(strings.Split(marks, ", "))
	}
	assert.Equal(t, pieces, on)
	listed := 0
	what, counts := column(t, f, "Build list", "What"), column(t, f, "Build list", "Pieces")
	for i, w := range what {
		switch w {
		case "upright", "brace", "cross tube", "rail":
			n, err := strconv.Atoi(counts[i])
			require.NoError(t, err)
			listed += n
		}
	}
	assert.Equal(t, tubes, listed)
	mass := figures(column(t, f, "Build list", "Mass (kg)"))
	sum := 0.0
	for _, m := range mass[:len(mass)-1] {
		sum += m
	}
	assert.InDelta(t, mass[len(mass)-1], sum, 0.5)
	cost := figures(column(t, f, "Build list", "Cost"))
	assert.InDelta(t, b.Total.Cost.Float64(), cost[len(cost)-1], 0.01)

	lifts := planner.Lifts(p, plan)
	refill := figures(column(t, f, "Lifting", "Index of refilling"))
	judged := 0
	for _, l := range lifts.Lifts {
		if l.RefillOK {
			judged++
		}
	}
	assert.Len(t, column(t, f, "Lifting", "Part"), len(lifts.Lifts))
	assert.LessOrEqual(t, len(refill), judged)
	assert.Positive(t, len(refill))
	assert.Positive(t, len(figures(column(t, f, "Lifting", "Index of the round"))))
}
