package importers_test

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/importers"
	"lanewright/importers/export"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
)

// baseOf is a plant as the base of the next import.
func baseOf(t *testing.T, p *plant.Plant) *importers.Base {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, export.WriteZip(&b, export.Workbook(p)))
	return &importers.Base{Name: "revision 1", Data: b.Bytes()}
}

func readOnto(t *testing.T, o importers.Options, name, text string) *importers.Result {
	t.Helper()
	r, err := importers.ReadBytesWith(t.Context(), o, name, []byte(text))
	require.NoError(t, err)
	for _, l := range r.Sheets {
		require.Equal(t, l.Rows, l.Used+l.Reported+l.Skipped, "ledger of %s", l.Sheet)
	}
	return r
}

// New containers come onto a revision: everything else stays.
func TestSomeSheetsOntoARevision(t *testing.T) {
	t.Parallel()
	old, err := importers.ReadFiles(t.Context(), "../testdata/sheets/lantern")
	require.NoError(t, err)
	require.False(t, old.Findings.HasErrors())
	o := importers.Options{Onto: baseOf(t, &old.Plant)}
	r := readOnto(t, o, "Containers.csv", "Container;Length (mm);Width (mm);Height (mm)\nBOX;400;300;250,5\nTRAY;600;400;150\nNEW;300;200;100\n")
	require.False(t, r.Findings.HasErrors(), "%v", r.Findings)
	assert.Len(t, r.Plant.Containers, 3)
	assert.Len(t, r.Plant.Parts, len(old.Plant.Parts))
	assert.Equal(t, old.Plant.Name, r.Plant.Name)
	kept := 0
	for _, f := range r.Findings {
		if f.Code == importers.CodeSheetKept {
			assert.Equal(t, finding.Note, f.Severity)
			assert.Equal(t, "revision 1", f.Origin.File)
			kept++
		}
	}
	assert.Equal(t, 16, kept)

	changes := export.Compare(&old.Plant, &r.Plant)
	var box, added []export.Change
	for _, c := range changes {
		require.Equal(t, "Containers", c.Sheet, "%v", c)
		switch c.Key {
		case "BOX":
			box = append(box, c)
		case "NEW":
			added = append(added, c)
		}
	}
	require.Len(t, added, 1)
	assert.Equal(t, export.Added, added[0].What)
	require.Len(t, box, 1)
	assert.Equal(t, export.Altered, box[0].What)
	assert.Contains(t, box[0].Fields, export.FieldChange{Column: "Height (mm)", Old: "220", New: "250.5"})
}

// The same facts onto themselves change nothing.
func TestNothingChanged(t *testing.T) {
	t.Parallel()
	old, err := importers.ReadFiles(t.Context(), "../testdata/sheets/lantern")
	require.NoError(t, err)
	base := baseOf(t, &old.Plant)
	again, err := importers.ReadBytes(t.Context(), "plant.zip", base.Data)
	require.NoError(t, err)
	assert.Empty(t, export.Compare(&old.Plant, &again.Plant))
	again.Plant.Parts = again.Plant.Parts[1:]
	assert.Equal(t, []export.Change{{Sheet: "Parts", What: export.Removed, Key: string(old.Plant.Parts[0].Part)}}, export.Compare(&old.Plant, &again.Plant))
}
