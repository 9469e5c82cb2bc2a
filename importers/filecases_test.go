package importers

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/importers/mapping"
	"lanewright/planner/finding"
	"lanewright/testdata/sheets"
)

// smallWorkbook is a workbook with a flat table of two rows in which the code,
// the width of column D and the second row may be as a case wants them.
func smallWorkbook(code, row string) sheets.Archive {
	text := func(at, s string) string { return `<c r="` + at + `" t="inlineStr"><is><t>` + s + `</t></is></c>` }
	head := ""
	for i, s := range []string{"Part", "Cell", "Station", "Pieces per hour", "Container", "Length (mm)", "Width (mm)", "Height (mm)", "Standard pack"} {
		head += text(string(rune('A'+i))+"1", s)
	}
	line := func(n, code string) string {
		return code + text("B"+n, "C1") + text("C"+n, "10") + `<c r="D` + n + `"><v>5</v></c>` + text("E"+n, "BOX") + `<c r="F` + n + `"><v>400</v></c><c r="G` + n + `"><v>300</v></c><c r="H` + n + `"><v>220</v></c><c r="I` + n + `"><v>20</v></c>`
	}
	return sheets.Workbook(`<row r="1">` + head + `</row><row r="2">` + line("2", code) + `</row><row r="3"` + row + `>` + line("3", text("A3", "L-7")) + `</row>`)
}

// lamps is the flat table of four rows with one cell changed.
func lamps(t *testing.T, cell, text string) []byte {
	t.Helper()
	return workbook{"lamps": loadWorkbook(t, "flat")["lamps"]}.set("lamps", cell, text).zip(t)
}

// fileCases raise the codes that no folder of CSV files can: those of what a
// workbook hides or formats, of flat tables and of mappings.
var fileCases = []struct {
	code     string
	severity finding.Severity
	says     string
	name     string
	data     func(*testing.T) []byte
	// mapping, where there is one, is what the file is read by; onto that it
	// brings its sheets onto the small plant.
	mapping string
	onto    bool
}{
	{code: CodeSheetHidden, severity: note, says: "hidden", name: "a.xlsx", data: func(*testing.T) []byte {
		return smallWorkbook(`<c r="A2" t="str"><v>L</v></c>`, "").Replace(sheets.MainPart, `sheetId="1"`, `sheetId="1" state="hidden"`).Zip()
	}},
	{code: CodeRowsHidden, severity: note, says: "1 hidden row", name: "a.xlsx", data: func(*testing.T) []byte {
		return smallWorkbook(`<c r="A2" t="str"><v>L</v></c>`, ` hidden="1"`).Zip()
	}},
	{code: CodeColumnsHidden, severity: note, says: "G, H", name: "a.xlsx", data: func(*testing.T) []byte {
		return smallWorkbook(`<c r="A2" t="str"><v>L</v></c>`, "").Replace(sheets.SheetPart, "<sheetData>", `<cols><col min="7" max="8" hidden="1"/></cols><sheetData>`).Zip()
	}},
	{code: CodeNumber, severity: note, says: "number", name: "a.xlsx", data: func(*testing.T) []byte {
		return smallWorkbook(`<c r="A2"><v>4711</v></c>`, "").Zip()
	}},
	{code: CodeDateAsCode, severity: warning, says: `"2026-03-04"`, name: "a.xlsx", data: func(*testing.T) []byte {
		return smallWorkbook(`<c r="A2" s="3"><v>46085</v></c>`, "").Zip()
	}},
	{code: CodeFlatNamed, severity: note, says: "1 row without a container", name: "a.zip", data: func(t *testing.T) []byte { t.Helper(); return lamps(t, "F2", "") }},
	{code: CodeCellBySheet, severity: warning, says: "cell CABLE", name: "a.zip", data: func(t *testing.T) []byte {
		t.Helper()
		table := [][]string{{"Part", "Station", "Pieces per hour", "L x W x H (mm)", "Standard pack"}, {"L-7", "10", "30", "400x300x220", "20"}}
		return workbook{"HORN": table, "CABLE": table}.zip(t)
	}},
	{code: CodeFlatNoRows, severity: warning, says: "no rows", name: "a.zip", data: func(t *testing.T) []byte {
		t.Helper()
		return workbook{"lamps": loadWorkbook(t, "flat")["lamps"][:1]}.zip(t)
	}},
	{code: CodeFlatContainer, severity: failure, says: "", name: "a.zip", data: func(t *testing.T) []byte { t.Helper(); return lamps(t, "F5", "") }},
	{code: CodeFlatConflict, severity: failure, says: "", name: "a.zip", data: func(t *testing.T) []byte { t.Helper(); return lamps(t, "J4", "25") }},
	{code: CodeFlatDiffers, severity: warning, says: "", name: "a.zip", data: func(t *testing.T) []byte { t.Helper(); return lamps(t, "B4", "Lens") }},
	{code: CodeMappingUsed, severity: note, says: "kept out", name: "a.zip", data: func(t *testing.T) []byte { t.Helper(); return lamps(t, "A1", "Part") },
		mapping: "lanewright mapping 1\nsheet: lamps\nread as: -\n"},
	{code: CodeMappingNoTable, severity: warning, says: "Nowhere", name: "a.zip", data: func(t *testing.T) []byte { t.Helper(); return lamps(t, "A1", "Part") },
		mapping: "lanewright mapping 1\nsheet: Nowhere\nread as: Flat table\nheadings: row 1\n\"Part\" = Part\n"},
	{code: CodeMappingDecimal, severity: failure, says: "comma", name: "a.zip", data: func(t *testing.T) []byte { t.Helper(); return lamps(t, "A1", "Part") },
		mapping: "lanewright mapping 1\ndecimal: comma\n"},
	{code: CodeTooManyRows, severity: failure, says: "filled down", name: "all.csv", data: func(*testing.T) []byte {
		return []byte(flatHead + strings.Repeat("P1,C1,S,1,B,400,300,200,9\n", mostRows+1))
	}},
	{code: CodeSheetKept, severity: note, says: "kept", name: "Containers.csv", onto: true, data: func(*testing.T) []byte {
		return []byte("Container,Length (mm),Width (mm),Height (mm)\nBOX,400,300,220\nTRAY,600,400,150\n")
	}},
}

func TestFileFindings(t *testing.T) {
	t.Parallel()
	for _, c := range fileCases {
		t.Run(c.code, func(t *testing.T) {
			t.Parallel()
			var o Options
			if c.mapping != "" {
				m, err := mapping.Parse(c.mapping)
				require.NoError(t, err)
				o.Mapping = m
			}
			if c.onto {
				o.Onto = &Base{Name: "revision 1", Data: loadWorkbook(t, "lantern").zip(t)}
			}
			r, err := ReadBytesWith(t.Context(), o, c.name, c.data(t))
			require.NoError(t, err)
			for _, l := range r.Sheets {
				assert.Equal(t, l.Rows, l.Used+l.Reported+l.Skipped, "ledger of %s", l.Sheet)
			}
			found := ofCode(r.Findings, c.code)
			require.NotEmpty(t, found, "found instead: %v", r.Findings)
			assert.Equal(t, c.severity, found[0].Severity)
			assert.Contains(t, found[0].Summary+found[0].Detail+found[0].Remedy, c.says)
			assert.NotEmpty(t, found[0].Remedy)
			assert.False(t, found[0].Origin.IsZero())
		})
	}
}
