package importers

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"
)

// flatAs writes the flat table of the lamps under other headings: lines are
// put in the place of its own.
func flatAs(t *testing.T, lines ...[]string) workbook {
	t.Helper()
	w := workbook{"lamps": lines}
	for _, row := range loadWorkbook(t, "flat")["lamps"][1:] {
		w.add("lamps", row...)
	}
	return w
}

// sameLamps checks that w holds the facts of the lamps.
func sameLamps(t *testing.T, r *Result) {
	t.Helper()
	require.False(t, r.Findings.HasErrors(), "%v", r.Findings)
	r.Plant.Name = "lamps"
	assert.Equal(t, revision(readFlat(t, "lamps.csv")), revision(r), "%v", r.Findings)
}

// The headings of the lamps: Part, Description, Cell, Station, Pieces per
// hour, Container, Length, Width, Height, Standard pack, Piece mass, ...
func TestHeadingsInManyPlaces(t *testing.T) {
	t.Parallel()
	own := loadWorkbook(t, "flat")["lamps"][0]
	two := []string{"", "", "Point of use", "", "Need", "Container", "", "", "", "", "Weight"}
	low := []string{"Part", "Text", "Line", "Station", "per hour", "Type", "Length", "Width", "Height", "Pcs per box", "per piece"}
	for len(two) < len(own) {
		two, low = append(two, ""), append(low, own[len(low)])
	}
	low[6], low[7], low[8], low[10] = own[6], own[7], own[8], "per piece (kg)"
	low[4], low[5] = "Pcs per hour", "Container type"
	units := make([]string, len(own))
	bare := make([]string, len(own))
	for i, h := range own {
		bare[i], units[i] = splitHeading(h)
	}
	titles := [][]string{{"Line supply, hall 3"}, {"as of March"}, {}, {"", "drawn up by the line planner"}}
	for i := range 40 {
		titles = append(titles, []string{"", "", "", "remark " + string(rune('a'+i%26))})
	}
	for name, lines := range map[string][][]string{
		"first row":            {own},
		"behind a title block": append(append([][]string{}, titles...), own),
		"two lines":            {two, low},
		"a line of units":      {bare, units},
		"title over headings":  {{"Line supply of the lamps"}, own},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			sameLamps(t, flatAs(t, lines...).readZip(t))
		})
	}
}

func TestNotesBelowAndSeparators(t *testing.T) {
	t.Parallel()
	w := flatAs(t, loadWorkbook(t, "flat")["lamps"][0])
	w.add("lamps").add("lamps", "Summe", "", "", "", "392.5").add("lamps").add("lamps", "* use as counted in March").add("lamps", "Ask Ingrid about trays")
	r := w.readZip(t)
	sameLamps(t, r)
	assert.Len(t, ofCode(r.Findings, CodeTotal), 1)
	assert.Len(t, ofCode(r.Findings, CodeRemark), 2)
	assert.Equal(t, 4, r.Sheets[0].Skipped)

	w = workbook{"lamps": nil}
	for _, row := range loadWorkbook(t, "flat")["lamps"] {
		wide := append([]string{"", row[0], "", ""}, row[1:]...)
		w.add("lamps", wide...).add("lamps")
	}
	sameLamps(t, w.readZip(t))
}

// Tables that share a sheet, below or beside each other, are the same facts
// as on sheets of their own.
func TestSeveralTablesOnOneSheet(t *testing.T) {
	t.Parallel()
	parts := [][]string{{"Part", "Container", "Standard pack"}, {"A", "BOX", "10"}, {"B", "TRAY", "20"}}
	containers := [][]string{{"Container", "Length (mm)", "Width (mm)", "Height (mm)"}, {"BOX", "400", "300", "220"}, {"TRAY", "600", "400", "150"}}
	use := [][]string{{"Part", "Cell", "Station", "Pieces per hour"}, {"A", "C1", "10", "60"}, {"B", "C1", "20", "30"}}
	apart := workbook{"Parts": parts, "Containers": containers, "Usage": use}.readZip(t)
	require.False(t, apart.Findings.HasErrors(), "%v", apart.Findings)

	below := workbook{}
	below.add("Data", "Parts of the line")
	for _, block := range [][][]string{parts, containers, use} {
		for _, row := range block {
			below.add("Data", row...)
		}
		below.add("Data")
	}
	beside := workbook{}
	for i := range parts {
		row := append(append(append([]string{}, parts[i]...), ""), containers[i]...)
		beside.add("Data", append(append(row, ""), use[i]...)...)
	}
	for name, w := range map[string]workbook{"below": below, "beside": beside} {
		r := w.readZip(t)
		require.False(t, r.Findings.HasErrors(), "%s: %v", name, r.Findings)
		assert.Equal(t, revision(apart), revision(r), "%s: %v", name, r.Findings)
		assert.Len(t, ofCode(r.Findings, CodeSheetSeveral), 1, name)
		var kinds []string
		for _, l := range r.Sheets {
			kinds = append(kinds, l.Kind)
			assert.Equal(t, 2, l.Used, name)
		}
		assert.Equal(t, []string{"Parts", "Containers", "Usage"}, kinds, name)
	}
}

// Headings over merged cells, hidden rows and columns, and a filter.
func TestWorkbookAsPeopleKeepIt(t *testing.T) {
	t.Parallel()
	f := excelize.NewFile()
	set := func(cell string, v any) { require.NoError(t, f.SetCellValue("Sheet1", cell, v)) }
	for cell, text := range map[string]string{
		"A1": "Part", "B1": "Cell", "C1": "Station", "D1": "Pieces per hour", "E1": "Container", "I1": "Standard pack",
		"E2": "Code", "F2": "Length (mm)", "G2": "Width (mm)", "H2": "Height (mm)",
	} {
		set(cell, text)
	}
	require.NoError(t, f.MergeCell("Sheet1", "E1", "H1"))
	for _, c := range []string{"A", "B", "C", "D", "I"} {
		require.NoError(t, f.MergeCell("Sheet1", c+"1", c+"2"))
	}
	for i, row := range [][]any{{"00123", "C1", "10", 60, "BOX", 400, 300, 220, 12}, {"1E5", "C1", "20", 30, "BOX", 400, 300, 220, 250}} {
		for j, v := range row {
			cell, _ := excelize.CoordinatesToCellName(j+1, i+3)
			set(cell, v)
		}
	}
	require.NoError(t, f.SetRowVisible("Sheet1", 4, false))
	require.NoError(t, f.SetColVisible("Sheet1", "G", false))
	require.NoError(t, f.AutoFilter("Sheet1", "A2:I4", nil))
	var b bytes.Buffer
	require.NoError(t, f.Write(&b))
	r := readBytes(t, "line.xlsx", b.Bytes())
	require.False(t, r.Findings.HasErrors(), "%v", r.Findings)
	require.Len(t, r.Plant.Parts, 2)
	assert.Equal(t, 300*mm, r.Plant.Containers[0].Width)
	assert.Contains(t, ofCode(r.Findings, CodeRowsHidden)[0].Summary, "1 hidden row (a filter is set)")
	assert.Contains(t, ofCode(r.Findings, CodeColumnsHidden)[0].Summary, "G")
}
