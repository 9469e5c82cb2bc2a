package importers

import (
	"context"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

func readFlat(t testing.TB, name string) *Result {
	t.Helper()
	r, err := ReadFiles(context.Background(), filepath.Join(fixtures, "flat", name))
	require.NoError(t, err)
	return r
}

func TestFlatTableAloneIsAPlant(t *testing.T) {
	t.Parallel()
	r := readFlat(t, "lamps.csv")
	require.False(t, r.Findings.HasErrors(), "%v", r.Findings)
	require.Equal(t, "Flat table", r.Sheets[0].Kind)
	assert.Equal(t, Ledger{File: "lamps.csv", Sheet: "lamps", Kind: "Flat table", Rows: 5, Used: 4, Skipped: 1}, r.Sheets[0])
	p, x := r.Plant, plant.NewIndex(&r.Plant)
	assert.Equal(t, "lamps", p.Name)
	assert.Equal(t, []int{4, 3, 2, 2, 3}, []int{len(p.Usage), len(p.Parts), len(p.Containers), len(p.Cells), len(p.Stations)})
	assert.Equal(t, plant.ShippedRackTypes(), p.RackTypes)
	assert.Equal(t, []plant.Shift{plant.DefaultShift()}, p.Shifts)
	assert.Equal(t, int64(250), x.Parts["1E5"].Pack)
	assert.Equal(t, 220*mm, x.Containers["BOX"].Height)
	assert.Equal(t, "12.5", p.Usage[2].PerHour.String())
	for _, code := range []string{CodePlantNoName, CodeRackTypesShipped, CodeShiftDefault, CodeSheetDerived} {
		assert.NotEmpty(t, ofCode(r.Findings, code), code)
	}
}

func TestFlatTableWithHabits(t *testing.T) {
	t.Parallel()
	r := readFlat(t, "habits.csv")
	require.False(t, r.Findings.HasErrors(), "%v", r.Findings)
	assert.Equal(t, 3, r.Sheets[0].Used)
	assert.Len(t, ofCode(r.Findings, CodeTotal), 1)
	assert.Len(t, ofCode(r.Findings, CodeFlatNamed), 1)
	p := r.Plant
	require.Len(t, p.Containers, 2)
	assert.Equal(t, units.Length(400_050_000), p.Containers[0].Length)
	assert.Equal(t, plant.ContainerCode("400.05 x 300.0375 x 219.075 mm"), p.Containers[0].Container)
	assert.Equal(t, "480", p.Usage[0].PerDay.String())
	assert.True(t, p.Usage[0].PerHour.IsZero())
}

func TestFlatTableRowsThatSpeakOfOneThing(t *testing.T) {
	t.Parallel()
	base := loadWorkbook(t, "flat")["lamps"]
	cases := map[string]struct {
		code     string
		severity finding.Severity
		place    string
		change   func(workbook)
	}{
		"two packs": {CodeFlatConflict, failure, "lamps!J4", func(w workbook) { w.set("lamps", "J4", "25") }},
		"two containers": {CodeFlatConflict, failure, "lamps!F4", func(w workbook) {
			w.set("lamps", "F4", "TRAY").set("lamps", "G4", "").set("lamps", "H4", "").set("lamps", "I4", "")
		}},
		"two sizes":        {CodeFlatConflict, failure, "lamps!I4", func(w workbook) { w.set("lamps", "I4", "230") }},
		"two descriptions": {CodeFlatDiffers, warning, "lamps!B4", func(w workbook) { w.set("lamps", "B4", "Lens") }},
		"no container":     {CodeFlatContainer, failure, "lamps!A5", func(w workbook) { w.set("lamps", "F5", "") }},
		"unknown one":      {CodeUnknownContainer, failure, "lamps!F5", func(w workbook) { w.set("lamps", "F5", "CRATE") }},
		"half a size":      {CodeMissingValue, failure, "lamps!G2", func(w workbook) { w.set("lamps", "G2", "") }},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			w := workbook{"lamps": nil}
			for _, row := range base {
				w.add("lamps", append([]string{}, row...)...)
			}
			c.change(w)
			r := w.readZip(t)
			found := ofCode(r.Findings, c.code)
			require.NotEmpty(t, found, "%v", r.Findings)
			assert.Equal(t, c.severity, found[0].Severity)
			assert.Equal(t, []string{c.place}, places(found))
		})
	}
}

// The same facts as sheets and as a flat table give the same plant, apart
// from its name.
func TestFlatTableAndSheetsGiveTheSameFacts(t *testing.T) {
	t.Parallel()
	w := workbook{
		"Parts": {{"Part", "Description", "Piece mass (kg)", "Container", "Standard pack"},
			{"L-100", "Lens 100 mm", "0.35", "BOX", "20"}, {"00123", "Base ring", "1.25", "TRAY", "8"}, {"1E5", "Wick set", "0.02", "BOX", "250"}},
		"Containers": {{"Container", "Length (mm)", "Width (mm)", "Height (mm)"}, {"BOX", "400", "300", "220"}, {"TRAY", "600", "400", "150"}},
		"Usage": {{"Part", "Cell", "Station", "Pieces per hour"},
			{"L-100", "C1", "10", "60"}, {"00123", "C1", "20", "30"}, {"L-100", "C1", "20", "12.5"}, {"1E5", "C2", "10", "290"}},
	}
	r := w.readZip(t)
	r.Plant.Name = "lamps"
	assert.Equal(t, revision(readFlat(t, "lamps.csv")), revision(r), "%v", r.Findings)
}

func TestSheetNamedPartsMayBeFlat(t *testing.T) {
	t.Parallel()
	w := workbook{"Parts": loadWorkbook(t, "flat")["lamps"]}
	r := w.readZip(t)
	assert.Equal(t, "Flat table", r.Sheets[0].Kind)
	assert.False(t, r.Findings.HasErrors(), "%v", r.Findings)
}

func TestFlatTableWithoutAColumnSaysWhich(t *testing.T) {
	t.Parallel()
	w := workbook{"lamps": loadWorkbook(t, "flat")["lamps"]}
	r := w.set("lamps", "J1", "Packing rule").readZip(t)
	found := ofCode(r.Findings, CodeColumnMissing)
	require.Len(t, found, 1, "%v", r.Findings)
	assert.Contains(t, found[0].Summary, "Standard pack")
	assert.Contains(t, found[0].Detail, `"Packing rule"`)
	assert.Equal(t, 4, r.Sheets[0].Reported)
}

func TestLoneTableWithUseIsAFlatOne(t *testing.T) {
	t.Parallel()
	w := workbook{"line": {{"Part", "Station", "Pieces per hour", "Container", "Standard pack"}, {"A", "S1", "10", "BOX", "10"}}}
	r := w.readZip(t)
	found := ofCode(r.Findings, CodeColumnMissing)
	require.Len(t, found, 1, "%v", r.Findings)
	assert.Contains(t, found[0].Summary, "no column Cell")
}
