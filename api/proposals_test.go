package api_test

import (
	"bytes"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"lanewright/api"
	"lanewright/api/wire"
	"lanewright/importers"
)

// formOf is a form with files, as name and content, and perhaps a mapping.
func formOf(mapping string, files ...string) (body, header string) {
	var b strings.Builder
	if mapping != "" {
		b.WriteString("--x\r\nContent-Disposition: form-data; name=\"mapping\"\r\n\r\n" + mapping + "\r\n")
	}
	for i := 0; i < len(files); i += 2 {
		b.WriteString("--x\r\nContent-Disposition: form-data; name=\"file\"; filename=\"" + files[i] + "\"\r\n\r\n" + files[i+1] + "\r\n")
	}
	return b.String() + "--x--\r\n", "Content-Type: multipart/form-data; boundary=x"
}

// TestProposalOfSeveralFiles: files of one form are one plant; what they hold,
// what is wrong with them and what they would change is told in one answer.
func TestProposalOfSeveralFiles(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	var files []string
	names, err := filepath.Glob("../testdata/sheets/lantern/*.csv")
	require.NoError(t, err)
	require.Greater(t, len(names), 10)
	for _, name := range names {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		files = append(files, filepath.Base(name), string(data))
	}
	body, header := formOf("", files...)
	p := decode[api.Reading](t, call(t, h, "POST", "/api/v1/plants/new/proposals", body, header))
	assert.Zero(t, p.Errors, "%v", p.Findings)
	assert.Len(t, p.Mapped, len(names))
	assert.Equal(t, 0, p.Changes.Against)
	assert.Positive(t, p.Facts.Parts)
	w := call(t, h, "POST", "/api/v1/plants/new/imports", body, header)
	require.Equal(t, 201, w.Code, "%s", w.Body)
	p = decode[api.Reading](t, call(t, h, "POST", "/api/v1/plants/new/proposals", body, header))
	assert.Equal(t, 1, p.Changes.Against)
	assert.Empty(t, p.Changes.Sheets)
}

// TestProposalOfManyFindings: those that are not listed are counted.
func TestProposalOfManyFindings(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	text := "Container,Length (mm),Width (mm),Height (mm)\n" + strings.Repeat("A,400,300,x\n", 30)
	p := decode[api.Reading](t, call(t, h, "POST", plantPath+"/proposals?name=Containers.csv&findings=3&onto=-1", text))
	listed, counted := 0, 0
	for _, f := range p.Findings {
		if f.Code == importers.CodeBadValue {
			listed++
		}
	}
	for _, c := range p.Codes {
		if c.Code == importers.CodeBadValue {
			counted = c.Count
			assert.Equal(t, "A value can not be read", c.Title)
		}
	}
	assert.Equal(t, 3, listed)
	assert.Equal(t, 30, counted)
	assert.GreaterOrEqual(t, p.Errors, 30)
}

// TestMappingWithoutColumns: a mapping may say no more than what a sheet is
// and where its headings stand; its columns are recognised.
func TestMappingWithoutColumns(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	text := "List of boxes\nContainer,Length,Width,Height\nBox,Length (mm),Width (mm),Height (mm)\nA,400,300,200\n"
	for stated, row := range map[string]int{"": 2, "headings: row 3\n": 3} {
		body, header := formOf("lanewright mapping 1\nsheet: \"things\"\nread as: Containers\n"+stated, "things.csv", text)
		p := decode[api.Reading](t, call(t, h, "POST", plantPath+"/proposals", body, header))
		require.Len(t, p.Mapped, 1)
		assert.Equal(t, "Containers", p.Mapped[0].Kind)
		assert.Equal(t, row, p.Mapped[0].Row, stated)
		assert.Equal(t, "Container", p.Mapped[0].Columns[0].Column)
		assert.Len(t, p.Mapped[0].Columns, 4)
	}
}

// TestExcerpt: a place in a sheet is shown with its headings, as it stands.
func TestExcerpt(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	text := "Container,Length\n" + strings.Repeat("A,400\n", 50) + "B,\"1,5\"\n" + strings.Repeat("A,400\n", 50)
	e := decode[wire.Excerpt](t, call(t, h, "POST", plantPath+"/proposals/excerpt?name=box.csv&file=box.csv&sheet=box&row=52&around=2&heading=1&lines=1", text))
	require.Len(t, e.Rows, 6)
	assert.Equal(t, wire.ExcerptRow{Row: 1, Cells: []string{"Container", "Length"}}, e.Rows[0])
	assert.Equal(t, wire.ExcerptRow{Row: 52, Cells: []string{"B", "1,5"}}, e.Rows[3])
	assert.Equal(t, 54, e.Rows[5].Row)
	assert.Equal(t, 404, call(t, h, "POST", plantPath+"/proposals/excerpt?name=box.csv&file=box.csv&sheet=none&row=1", text).Code)
	assert.Equal(t, 404, call(t, h, "POST", plantPath+"/proposals/excerpt?name=box.xls&file=box.xls&sheet=none&row=1", "\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1").Code)
}

// TestAnnotated: a workbook comes back with its findings in it, a text as a
// workbook; what can not be read does not.
func TestAnnotated(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	book := excelize.NewFile()
	require.NoError(t, book.SetSheetName("Sheet1", "Containers"))
	for i, v := range []any{"Container", "Length (mm)", "Width (mm)", "Height (mm)", "A", 400, 300, "tall"} {
		cell, err := excelize.CoordinatesToCellName(i%4+1, i/4+1)
		require.NoError(t, err)
		require.NoError(t, book.SetCellValue("Containers", cell, v))
	}
	var data bytes.Buffer
	require.NoError(t, book.Write(&data))
	w := call(t, h, "POST", plantPath+"/proposals/annotated.xlsx?name=boxes.xlsx&onto=-1", data.String())
	require.Equal(t, 200, w.Code, "%s", w.Body)
	back, err := excelize.OpenReader(w.Body)
	require.NoError(t, err)
	assert.Contains(t, back.GetSheetList(), "Findings")
	comments, err := back.GetComments("Containers")
	require.NoError(t, err)
	require.NotEmpty(t, comments)
	assert.Equal(t, "D2", comments[len(comments)-1].Cell)
	w = call(t, h, "POST", plantPath+"/proposals/annotated.xlsx?name=containers.csv", "Container,Length (mm),Width (mm),Height (mm)\n007,400,300,tall\n")
	require.Equal(t, 200, w.Code, "%s", w.Body)
	back, err = excelize.OpenReader(w.Body)
	require.NoError(t, err)
	rows, err := back.GetRows("containers")
	require.NoError(t, err)
	assert.Equal(t, []string{"007", "400", "300", "tall"}, rows[1])
	comments, err = back.GetComments("containers")
	require.NoError(t, err)
	require.Len(t, comments, 1)
	assert.Equal(t, "D2", comments[0].Cell)
	w = call(t, h, "POST", plantPath+"/proposals/annotated.xlsx?name=boxes.xlsx", "Container,Length\nA,x\n")
	assert.Equal(t, 422, w.Code)
	assert.Contains(t, w.Body.String(), "No sheet could be read")
}

// TestRevisionOfAnother: nobody stores over a revision that they have not seen.
func TestRevisionOfAnother(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	odd := "/api/v1/plants/" + url.PathEscape("Odd works")
	text := strings.Replace(oddTable, "Menge", "Packmenge", 1)
	w := call(t, h, "POST", odd+"/imports?against=1&name=odd.csv", text)
	assert.Equal(t, 409, w.Code, "%s", w.Body)
	assert.Contains(t, w.Body.String(), "no revision yet")
	w = call(t, h, "POST", odd+"/imports?against=0&name=odd.csv", text)
	require.Equal(t, 201, w.Code, "%s", w.Body)
	w = call(t, h, "POST", odd+"/imports?against=0&name=odd.csv", text)
	assert.Equal(t, 200, w.Code, "the same again, as after an answer that was lost: %s", w.Body)
	other := strings.Replace(text, ",20\n", ",25\n", 1)
	w = call(t, h, "POST", odd+"/imports?against=0&name=odd.csv", other)
	assert.Equal(t, 409, w.Code, "%s", w.Body)
	assert.Contains(t, w.Body.String(), "Revision 1 was stored meanwhile")
}

// TestRevisionBook: a revision's workbook gives the same facts again, and its
// changes are those against the one before.
func TestRevisionBook(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	const odd = "/api/v1/plants/Odd%20works"
	text := strings.Replace(oddTable, "Menge", "Packmenge", 1)
	require.Equal(t, 201, call(t, h, "POST", odd+"/imports?name=odd.csv", text).Code)
	require.Equal(t, 201, call(t, h, "POST", odd+"/imports?name=odd.csv", strings.Replace(text, ",20\n", ",25\n", 1)).Code)
	changes := decode[wire.Changes](t, call(t, h, "GET", odd+"/revisions/2/changes", ""))
	assert.Equal(t, 1, changes.Against)
	require.Len(t, changes.Sheets, 1)
	assert.Equal(t, []wire.ValueDelta{{Column: "Standard pack", Old: "20", New: "25"}}, changes.Sheets[0].Rows[0].Values)
	assert.Empty(t, decode[wire.Changes](t, call(t, h, "GET", odd+"/revisions/1/changes", "")).Sheets)

	w := call(t, h, "GET", odd+"/revisions/2/workbook.xlsx", "")
	require.Equal(t, 200, w.Code)
	assert.Equal(t, `attachment; filename="plant-Odd-works-revision-2.xlsx"`, w.Header().Get("Content-Disposition"))
	again := decode[api.Reading](t, call(t, h, "POST", odd+"/proposals?name=again.xlsx", w.Body.String()))
	require.NotNil(t, again.Changes, "%v", again.Findings)
	assert.Empty(t, again.Changes.Sheets)

	template, err := excelize.OpenReader(call(t, h, "GET", "/api/v1/template.xlsx", "").Body)
	require.NoError(t, err)
	assert.Contains(t, template.GetSheetList(), "Rack types")
}
