package main

import (
	"bytes"
	"context"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api/wire"
	"lanewright/cmd/lanebench/internal/recompute"
	"lanewright/importers"
	"lanewright/importers/export"
	"lanewright/planner"
	"lanewright/planner/units"
)

// TestTightPlants: where demand grows and racks and frontage do not, the made-up plant
// gets no dearer racks than its bounds ask for, but for a cell or two, and leaves hardly
// more over; other code finds no rule broken.
func TestTightPlants(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name         string
		growth       units.Ratio
		dearer, left int
	}{
		{"a fifth more", units.R(6, 5), 1, 0},
		{"two fifths more", units.R(7, 5), 1, 2},
		{"three fifths more", units.R(8, 5), 2, 4},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			read, err := importers.ReadFiles(context.Background(), "../../testdata/plants/skerrow/skerrow.xlsx")
			require.NoError(t, err)
			for i := range read.Plant.Products {
				p := &read.Plant.Products[i]
				p.UnitsPerDay = p.UnitsPerDay.Mul(c.growth)
			}
			dir := filepath.Join(t.TempDir(), "plant")
			require.NoError(t, export.WriteFolder(dir, export.Workbook(&read.Plant)))
			grown, err := importers.ReadFiles(context.Background(), dir)
			require.NoError(t, err)
			plan, err := planner.Run(context.Background(), planner.Input{Plant: &grown.Plant, Findings: grown.Findings}, planner.DefaultSettings(&grown.Plant), planner.Options{Threads: 2})
			require.NoError(t, err)
			dearer, over, cost, bound := []string{}, 0, 0.0, 0.0
			for _, b := range plan.Cells {
				over += b.Unplaced - b.UnplacedBound
				cost, bound = cost+b.AddedCost, bound+b.AddedCostBound
				if b.AddedCost > b.AddedCostBound {
					dearer = append(dearer, string(b.Cell))
				}
			}
			t.Logf("racks added cost %g, bound %g, dearer in %v; %d containers over the bound", cost, bound, dearer, over)
			assert.LessOrEqual(t, over, c.left, "containers left over beyond the bound")
			assert.LessOrEqual(t, len(dearer), c.dearer, "%v", dearer)
			var document bytes.Buffer
			require.NoError(t, wire.WritePlan(&document, plan))
			wrong, err := recompute.Check(dir, document.Bytes())
			require.NoError(t, err)
			assert.Empty(t, wrong)
		})
	}
}
