package scale

import (
	"fmt"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/importers"
	"lanewright/importers/export"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
)

// loops counts the points of use.
func loops(p *plant.Plant) int {
	seen := map[use]bool{}
	for _, u := range p.Usage {
		seen[use{u.Part, plant.StationKey{Cell: u.Cell, Station: u.Station}}] = true
	}
	return len(seen)
}

func TestPlantHasTheSizeAskedFor(t *testing.T) {
	t.Parallel()
	for _, size := range [][2]int{{1, 1}, {1, 60}, {3, 7}, {14, 450}, {60, 4800}} {
		for seed := range uint64(3) {
			p := Plant(size[0], size[1], seed)
			assert.Len(t, p.Cells, size[0])
			assert.Equal(t, size[1], loops(p), "%d cells, seed %d", size[0], seed)
			assert.Empty(t, plant.Check(p).Count(finding.Error), "%v", plant.Check(p))
		}
	}
}

func TestSameSeedSamePlant(t *testing.T) {
	t.Parallel()
	assert.Equal(t, Plant(9, 300, 4), Plant(9, 300, 4))
	assert.NotEqual(t, plant.Revision(Plant(9, 300, 4)), plant.Revision(Plant(9, 300, 5)))
}

func TestRowsGrowInProportion(t *testing.T) {
	t.Parallel()
	rows := func(scale int) float64 {
		n := 0
		for _, table := range export.Workbook(Plant(10*scale, 800*scale, 1)) {
			n += len(table.Rows)
		}
		return float64(n)
	}
	assert.InEpsilon(t, 4, rows(8)/rows(2), 0.1)
}

func TestMostCellsHaveEnoughRacks(t *testing.T) {
	t.Parallel()
	p := Plant(120, 9600, 2)
	racks := map[plant.CellCode]int{}
	for _, r := range p.Racks {
		racks[r.Cell]++
	}
	for _, c := range p.Cells {
		assert.Positive(t, racks[c.Cell], "cell %s", c.Cell)
		assert.Greater(t, int64(c.Frontage), int64(racks[c.Cell])*int64(whole(1850)), "cell %s has room for a rack", c.Cell)
	}
	half := 0
	for _, u := range p.Usage {
		if u.Interval > 0 {
			half++
		}
	}
	assert.InDelta(t, 0.125, float64(half)/float64(len(p.Usage)), 0.08, "some cells are refilled every half hour")
}

func TestWrittenPlantReadsWithoutErrors(t *testing.T) {
	t.Parallel()
	for name, p := range map[string]*plant.Plant{"plant": Plant(5, 160, 3), "cell": Cell(60, 3)} {
		dir := filepath.Join(t.TempDir(), name)
		require.NoError(t, export.WriteFolder(dir, export.Workbook(p)))
		read, err := importers.ReadFiles(t.Context(), dir)
		require.NoError(t, err)
		assert.Zero(t, read.Findings.Count(finding.Error), fmt.Sprint(read.Findings))
		assert.Equal(t, plant.Revision(p), plant.Revision(&read.Plant), name)
	}
}
