package annotate

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

	"lanewright/importers/sheet"
	"lanewright/planner/finding"
)

// keptWorkbook is a workbook with all that people keep in one.
func keptWorkbook(t *testing.T, comment bool) []byte {
	t.Helper()
	f := excelize.NewFile()
	require.NoError(t, f.SetSheetName("Sheet1", "Parts"))
	_, err := f.NewSheet("It's old")
	require.NoError(t, err)
	for cell, v := range map[string]any{"A1": "Part", "B1": "Standard pack", "A2": "00123", "B2": 12.5, "A3": "1E5", "B3": "ten", "A9": "below a gap", "D3": true} {
		require.NoError(t, f.SetCellValue("Parts", cell, v))
	}
	require.NoError(t, f.SetCellFormula("Parts", "C2", "B2*2"))
	bold, err := f.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true}, NumFmt: 4})
	require.NoError(t, err)
	require.NoError(t, f.SetCellStyle("Parts", "B2", "B2", bold))
	require.NoError(t, f.MergeCell("Parts", "A9", "C9"))
	require.NoError(t, f.SetColWidth("Parts", "A", "A", 33))
	require.NoError(t, f.SetCellHyperLink("Parts", "A3", "Parts!A1", "Location"))
	require.NoError(t, f.SetCellValue("It's old", "A1", "x"))
	require.NoError(t, f.SetSheetVisible("It's old", false))
	require.NoError(t, f.AddTable("Parts", &excelize.Table{Range: "A1:B3", Name: "Table1"}))
	if comment {
		require.NoError(t, f.AddComment("Parts", excelize.Comment{Cell: "B3", Author: "Ingrid", Text: "ask Tom"}))
		require.NoError(t, f.AddComment("Parts", excelize.Comment{Cell: "A1", Author: "Ingrid", Text: "codes"}))
	}
	var b bytes.Buffer
	require.NoError(t, f.Write(&b))
	return b.Bytes()
}

func at(sheet, column string, row int) finding.Origin {
	return finding.Origin{File: "plant.xlsx", Sheet: sheet, Row: row, Column: column}
}

var list = finding.List{
	{Severity: finding.Error, Code: "rows.bad-value", Summary: `Standard pack is "ten"`, Detail: "Expected a whole number.", Remedy: "Type <a number> & no more.", Origin: at("Parts", "B", 3)},
	{Severity: finding.Warning, Code: "rows.other", Summary: "The same cell again", Origin: at("Parts", "B", 3)},
	{Severity: finding.Warning, Code: "rows.other", Summary: "A styled cell", Origin: at("Parts", "B", 2)},
	{Severity: finding.Note, Code: "rows.other", Summary: "A whole row that is not there", Origin: at("Parts", "", 5)},
	{Severity: finding.Note, Code: "rows.other", Summary: "A cell that is not there", Origin: at("Parts", "F", 2)},
	{Severity: finding.Note, Code: "rows.other", Summary: "Behind the last row", Origin: at("Parts", "AA", 20)},
	{Severity: finding.Note, Code: "rows.other", Summary: "Quote", Origin: at("It's old", "A", 1)},
	{Severity: finding.Note, Code: "sheets.other", Summary: "The whole sheet _x0041_", Origin: finding.Origin{File: "plant.xlsx", Sheet: "Parts"}},
	{Severity: finding.Note, Code: "plant.other", Summary: "No place at all"},
	{Severity: finding.Note, Code: "rows.other", Summary: "Another file", Origin: finding.Origin{File: "other.xlsx", Sheet: "Parts", Row: 1, Column: "A"}},
}

func annotated(t *testing.T, data []byte) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, Workbook(&b, "plant.xlsx", data, list))
	return b.Bytes()
}

func contents(t *testing.T, data []byte) map[string]string {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	require.NoError(t, err)
	out := map[string]string{}
	for _, f := range z.File {
		r, err := f.Open()
		require.NoError(t, err)
		text, err := io.ReadAll(r)
		require.NoError(t, err)
		out[f.Name] = string(text)
	}
	return out
}

// grid is all that the gate reads of a sheet.
func grid(s sheet.Sheet) []sheet.Row { return slices.Clone(s.Rows) }

// Every other part is as it was, every cell says what it said, and what was
// there before stands there still, in its order.
func TestNothingElseChanges(t *testing.T) {
	t.Parallel()
	for name, comment := range map[string]bool{"plain": false, "with comments": true} {
		data := keptWorkbook(t, comment)
		out := annotated(t, data)
		before, after := contents(t, data), contents(t, out)
		mayChange := []string{"xl/worksheets/sheet", "xl/styles.xml", "[Content_Types].xml", "xl/workbook.xml", "xl/_rels/workbook.xml.rels", "xl/comments", "xl/drawings/vmlDrawing"}
		for part, text := range before {
			changes := strings.HasPrefix(part, "xl/worksheets/_rels/")
			for _, m := range mayChange {
				changes = changes || strings.HasPrefix(part, m)
			}
			if !changes {
				assert.Equal(t, text, after[part], "%s: %s", name, part)
			}
		}
		old, err := sheet.Read(t.Context(), "plant.xlsx", data, sheet.DefaultLimits())
		require.NoError(t, err)
		book, err := sheet.Read(t.Context(), "plant.xlsx", out, sheet.DefaultLimits())
		require.NoError(t, err, name)
		require.Len(t, book.Sheets, len(old.Sheets)+1)
		for i, s := range old.Sheets {
			assert.Equal(t, grid(s), grid(book.Sheets[i]), "%s: %s", name, s.Name)
			assert.Equal(t, s.State, book.Sheets[i].State)
			assert.Equal(t, s.Merged, book.Sheets[i].Merged)
		}
		for part, text := range before {
			if strings.HasPrefix(part, "xl/worksheets/sheet") {
				assert.True(t, isSubsequence(stripStyles(text), stripStyles(after[part])), "%s: %s lost something", name, part)
			}
		}
	}
}

func stripStyles(s string) string {
	var b strings.Builder
	for {
		i := strings.Index(s, ` s="`)
		if i < 0 {
			return b.String() + s
		}
		b.WriteString(s[:i])
		s = s[i+len(` s="`):]
		s = s[strings.IndexByte(s, '"')+1:]
	}
}

// isSubsequence reports whether text was only added to.
func isSubsequence(short, long string) bool {
	i := 0
	for j := 0; i < len(short) && j < len(long); j++ {
		if short[i] == long[j] {
			i++
		}
	}
	return i == len(short)
}

func TestMarksAndComments(t *testing.T) {
	t.Parallel()
	for name, comment := range map[string]bool{"plain": false, "with comments": true} {
		f, err := excelize.OpenReader(bytes.NewReader(annotated(t, keptWorkbook(t, comment))))
		require.NoError(t, err)
		comments, err := f.GetComments("Parts")
		require.NoError(t, err)
		texts := map[string]string{}
		for _, c := range comments {
			for _, run := range c.Paragraph {
				texts[c.Cell] += run.Text
			}
			texts[c.Cell] += c.Text
		}
		for cell, says := range map[string]string{"B3": "Type <a number> & no more", "B2": "A styled cell", "A5": "A whole row", "F2": "A cell that", "AA20": "Behind"} {
			assert.Contains(t, texts[cell], says, name)
		}
		assert.Contains(t, texts["B3"], "The same cell again")
		if comment {
			assert.Contains(t, texts["B3"], "ask Tom")
			assert.Contains(t, texts["A1"], "codes")
			assert.Len(t, comments, 6)
		} else {
			assert.Len(t, comments, 5)
		}
		for cell, colour := range map[string]string{"B3": "F4B6A8", "B2": "F9E2A0", "AA20": "D6E4F0"} {
			id, err := f.GetCellStyle("Parts", cell)
			require.NoError(t, err)
			style, err := f.GetStyle(id)
			require.NoError(t, err)
			require.NotEmpty(t, style.Fill.Color, "%s %s", name, cell)
			assert.Equal(t, colour, strings.TrimPrefix(style.Fill.Color[0], "FF"))
			if cell == "B2" {
				assert.True(t, style.Font.Bold)
				assert.Equal(t, 4, style.NumFmt)
			}
		}
		rows, err := f.GetRows("Findings")
		require.NoError(t, err)
		require.Len(t, rows, len(list)+1)
		assert.Equal(t, "The whole sheet _x0041_", rows[8][3])
		linked, target, err := f.GetCellHyperLink("Findings", "A2")
		require.NoError(t, err)
		assert.True(t, linked)
		assert.Equal(t, "'Parts'!B3", target)
		_, target, err = f.GetCellHyperLink("Findings", "A8")
		require.NoError(t, err)
		assert.Equal(t, "'It''s old'!A1", target)
		again := annotated(t, annotated(t, keptWorkbook(t, comment)))
		book, err := sheet.Read(t.Context(), "plant.xlsx", again, sheet.DefaultLimits())
		require.NoError(t, err)
		assert.Equal(t, "Findings 2", book.Sheets[len(book.Sheets)-1].Name)
	}
}

// Prefixed names, rows and cells without places, and no styles: as some
// programs write them.
func TestOddWorkbookIsAnnotated(t *testing.T) {
	t.Parallel()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for name, text := range map[string]string{
		"[Content_Types].xml":        `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/></Types>`,
		"_rels/.rels":                `<Relationships xmlns="` + packageRels + `"><Relationship Id="a" Type="` + relSpace + `/officeDocument" Target="xl/workbook.xml"/></Relationships>`,
		"xl/workbook.xml":            `<x:workbook xmlns:x="` + mainSpace + `" xmlns:q="` + relSpace + `"><x:sheets><x:sheet name="Parts" sheetId="1" q:id="a"/></x:sheets></x:workbook>`,
		"xl/_rels/workbook.xml.rels": `<r:Relationships xmlns:r="` + packageRels + `"><r:Relationship Id="a" Type="` + relSpace + `/worksheet" Target="s.xml"/></r:Relationships>`,
		"xl/s.xml":                   `<x:worksheet xmlns:x="` + mainSpace + `"><x:sheetData><x:row><x:c t="str"><x:v>a</x:v></x:c></x:row><x:row/></x:sheetData><x:extLst/></x:worksheet>`,
	} {
		f, err := z.Create(name)
		require.NoError(t, err)
		_, err = io.WriteString(f, text)
		require.NoError(t, err)
	}
	require.NoError(t, z.Close())
	book, err := sheet.Read(t.Context(), "plant.xlsx", annotated(t, b.Bytes()), sheet.DefaultLimits())
	require.NoError(t, err)
	require.Len(t, book.Sheets, 2)
	assert.Len(t, book.Sheets[0].Rows, 1)
	assert.Empty(t, book.Notes)
}
