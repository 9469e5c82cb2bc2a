package annotate

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"lanewright/importers/sheet"
	"lanewright/planner/finding"
)

// read opens a file for the tests.
func read(t *testing.T, name, data string) *sheet.Sheet {
	t.Helper()
	book, err := sheet.Read(t.Context(), name, []byte(data), sheet.DefaultLimits())
	require.NoError(t, err)
	return &book.Sheets[0]
}

// TestCopy: rows of files that are no workbook stand in the copy where they
// stand in the files, cell by cell, with the findings at them.
func TestCopy(t *testing.T) {
	t.Parallel()
	long := strings.Repeat("W", 40)
	text := "Part,Text\r\n00123,\"two\nlines\"\r\n\r\n 1E5 ,_x0041_ <&>\r\n"
	sheets := []*sheet.Sheet{read(t, "Parts.csv", text), read(t, "parts.tsv", "a\tb\n"), read(t, long+"1.csv", "x\n"), read(t, long+"2.csv", "y\n"), read(t, "Findings.csv", "mine\n"), read(t, "a[b]'s.csv", "z\n")}
	list := finding.List{
		{Severity: finding.Error, Code: "rows.bad", Summary: "Not a part", Origin: sheets[0].Origin(4, 0)},
		{Severity: finding.Note, Code: "rows.row", Summary: "The row", Origin: sheets[3].Origin(1, -1)},
		{Severity: finding.Note, Code: "rows.elsewhere", Summary: "Elsewhere", Origin: finding.Origin{File: "other.csv", Sheet: "Parts", Row: 1}},
	}
	var out bytes.Buffer
	require.NoError(t, Copy(&out, sheets, list))

	again, err := sheet.Read(t.Context(), "copy.xlsx", out.Bytes(), sheet.DefaultLimits())
	require.NoError(t, err, "the gate takes it")
	for i, s := range sheets {
		assert.Equal(t, rowsOf(s), rowsOf(&again.Sheets[i]), s.Name)
	}
	f, err := excelize.OpenReader(&out)
	require.NoError(t, err)
	assert.Equal(t, []string{"Parts", "parts 2", long[:31], long[:29] + " 2", "Findings 2", "a-b-'s", "Findings"}, f.GetSheetList())
	comments, err := f.GetComments("Parts")
	require.NoError(t, err)
	require.Len(t, comments, 1)
	assert.Equal(t, "A4", comments[0].Cell)
	comments, err = f.GetComments(long[:29] + " 2")
	require.NoError(t, err)
	assert.Len(t, comments, 1)
	rows, err := f.GetRows("Findings")
	require.NoError(t, err)
	assert.Contains(t, rows[0][0], "The files themselves were not changed")
	assert.Equal(t, "Parts.csv, Parts!A4", rows[3][0], "the place in the file, not in the copy")
	_, target, err := f.GetCellHyperLink("Findings", "A4")
	require.NoError(t, err)
	assert.Equal(t, "'Parts'!A4", target)
	linked, _, err := f.GetCellHyperLink("Findings", "A6")
	require.NoError(t, err)
	assert.False(t, linked, "a place in no sheet of the copy")
	style, err := f.GetCellStyle("Parts", "A4")
	require.NoError(t, err)
	look := f.Styles.CellXfs.Xf[style]
	assert.Equal(t, "FFF4B6A8", f.Styles.Fills.Fill[*look.FillID].PatternFill.FgColor.RGB)
	assert.Equal(t, 49, *look.NumFmtID, "text stays text")
}

// TestCopyCutsWhatNoCellHolds: a workbook's cell has 32,767 characters at most.
func TestCopyCutsWhatNoCellHolds(t *testing.T) {
	t.Parallel()
	var out bytes.Buffer
	require.NoError(t, Copy(&out, []*sheet.Sheet{read(t, "a.csv", strings.Repeat("é", 40_000)+",b\n")}, nil))
	book, err := sheet.Read(t.Context(), "copy.xlsx", out.Bytes(), sheet.DefaultLimits())
	require.NoError(t, err)
	assert.Equal(t, strings.Repeat("é", 32_766)+"…", book.Sheets[0].Rows[0].Cells()[0].Text)
}

func rowsOf(s *sheet.Sheet) map[int][]string {
	out := map[int][]string{}
	for _, r := range s.Rows {
		for _, c := range r.Cells() {
			out[r.Number] = append(out[r.Number], c.Text)
		}
	}
	return out
}
