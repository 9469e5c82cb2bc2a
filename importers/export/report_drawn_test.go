package export_test

import (
	"archive/zip"
	"bytes"
	"io"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"lanewright/importers/export"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// TestReportFronts: each lane of the plan is drawn once, as wide as it is, on the row
// of its level.
func TestReportFronts(t *testing.T) {
	t.Parallel()
	p, plan := smallPlan("mm", "kg")
	f := report(t, p, plan)
	merged, err := f.GetMergeCells("Rack fronts")
	require.NoError(t, err)
	widths := map[string]int{}
	rows := map[int][]string{}
	for _, m := range merged {
		left, row, err := excelize.CellNameToCoordinates(m.GetStartAxis())
		require.NoError(t, err)
		right, _, err := excelize.CellNameToCoordinates(m.GetEndAxis())
		require.NoError(t, err)
		widths[m.GetCellValue()] = right - left + 1
		rows[row] = append(rows[row], m.GetCellValue())
	}
	// 254 mm are 10 columns of 25 mm; a second lane begins where the first ends.
	assert.Equal(t, map[string]int{
		"1-1\nreturn": 10, "2-1\n00123\n2 of 2": 10, "2-2\n00123\n2 of 2": 10, "3-1\n1E5\n2 of 2": 10, "3-2\nfree": 10, "2-1\n@c\n2 of 2": 10,
	}, widths)
	for _, list := range rows {
		slices.Sort(list)
	}
	assert.Contains(t, values(rows), []string{"2-1\n00123\n2 of 2", "2-2\n00123\n2 of 2"})
	titles := column(t, f, "Rack fronts", "Racks from the pick side: a lane shows its number, part and containers.")
	assert.Contains(t, titles, "R1")
	assert.Contains(t, titles, "R2 (to add)")
}

func values(rows map[int][]string) (list [][]string) {
	for _, r := range rows {
		list = append(list, r)
	}
	return list
}

// TestReportCharts: the charts draw the numbers that stand beside them, the short cell
// first, handlers by how busy they are.
func TestReportCharts(t *testing.T) {
	t.Parallel()
	p, plan := smallPlan("in", "lb")
	var out bytes.Buffer
	require.NoError(t, export.Report(&out, p, plan, made, nil))
	f := open(t, out.Bytes())
	assert.Equal(t, []string{"C1", "C2"}, column(t, f, "Charts", "Cell")[:2])
	rows, err := f.GetRows("Charts", excelize.Options{RawCellValue: true})
	require.NoError(t, err)
	assert.Contains(t, rows, []string{"C1", "4", "4", "1", "1"})
	assert.Contains(t, rows, []string{"C2", "1", "1", "0", "0"})
	// Route B has no departure, so only A fills H1's time: 20 of 60 minutes.
	assert.Contains(t, rows, []string{"H1", "0.3333"})
	archive, err := zip.NewReader(bytes.NewReader(out.Bytes()), int64(out.Len()))
	require.NoError(t, err)
	charts := 0
	for _, e := range archive.File {
		if strings.HasPrefix(e.Name, "xl/charts/chart") {
			charts++
			r, err := e.Open()
			require.NoError(t, err)
			text, err := io.ReadAll(r)
			require.NoError(t, err)
			assert.True(t, strings.Contains(string(text), "<f>Charts!$A$"), e.Name)
		}
	}
	assert.Equal(t, 2, charts)
}

// TestReportOfCells: the other cells' rows are left out, routes that stop there stay
// whole, and figures of routes are the plant's.
func TestReportOfCells(t *testing.T) {
	t.Parallel()
	p, plan := smallPlan("mm", "kg")
	p.Racks = append(p.Racks, plant.Rack{Rack: "R2", Cell: "C2"})
	before := len(plan.Loops)
	var out bytes.Buffer
	require.NoError(t, export.Report(&out, p, plan, made, nil, "C2"))
	f := open(t, out.Bytes())
	assert.Equal(t, []string{"@c"}, column(t, f, "Loops", "Part")[:1])
	assert.NotContains(t, column(t, f, "Loops", "Part"), "00123")
	assert.NotContains(t, column(t, f, "Racks", "Rack"), "R1")
	assert.Equal(t, []string{"B", "B"}, column(t, f, "Routes and stops", "Route")[:2])
	rows, err := f.GetRows("Summary", excelize.Options{RawCellValue: true})
	require.NoError(t, err)
	text := ""
	for _, r := range rows {
		text += strings.Join(r, "|") + "\n"
	}
	assert.Contains(t, text, "Cells|C2 (figures of routes")
	assert.Contains(t, text, "Containers in loops|2|")
	assert.NotContains(t, text, "\nC1|")
	assert.Len(t, plan.Loops, before)
	assert.EqualValues(t, 254*units.Millimetre, plan.Balance[0].Width, "the plan stays as it is")
}
