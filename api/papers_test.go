package api_test

import (
	"bytes"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"
)

// TestPapers: everything that is printed from a plan is a document with a name, the
// same each time, and who has it already is told so.
func TestPapers(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	for address, name := range map[string]string{
		"report.pdf": "rack-report", "report.pdf?cells=LENS": "rack-report", "labels.pdf": "lane-labels", "labels.pdf?kind=rack&size=4x2in&skip=3&racks=R3": "rack-labels",
		"labels.pdf?size=page:100x60": "lane-labels", "cards.pdf": "loop-cards", "routes.pdf": "route-sheets", "routes/A/sheet.pdf": "route-sheet-A",
	} {
		w := call(t, h, "GET", "/api/v1/plans/1/"+address, "")
		require.Equal(t, 200, w.Code, "%s: %s", address, w.Body)
		assert.Equal(t, "application/pdf", w.Header().Get("Content-Type"), address)
		assert.True(t, strings.HasPrefix(w.Header().Get("Content-Disposition"), `inline; filename="`+name+"-"), w.Header().Get("Content-Disposition"))
		assert.True(t, bytes.HasPrefix(w.Body.Bytes(), []byte("%PDF-")), address)
		assert.True(t, bytes.Equal(w.Body.Bytes(), call(t, h, "GET", "/api/v1/plans/1/"+address, "").Body.Bytes()), "%s: the same bytes", address)
		again := call(t, h, "GET", "/api/v1/plans/1/"+address, "", "If-None-Match: "+w.Header().Get("ETag"))
		assert.Equal(t, http.StatusNotModified, again.Code, address)
	}
	small := call(t, h, "GET", "/api/v1/plans/1/labels.pdf?size=page:60x36", "")
	assert.NotEmpty(t, small.Header().Get("Lanewright-Note"), "what labels are short of")
}

// TestPapersThatAreNot: what the plan does not have and sizes that there are not are
// said to be so.
func TestPapersThatAreNot(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	for address, want := range map[string]struct {
		status int
		text   string
	}{
		"report.pdf?cells=LENS&cells=NO": {404, "no cell “NO”"}, "report.xlsx?cells=NO": {404, "no cell “NO”"}, "labels.pdf?racks=R99": {404, "no rack “R99”"},
		"labels.pdf?size=A4": {422, "There is no size"}, "labels.pdf?kind=box": {422, "kind"}, "labels.pdf?skip=8": {422, "at most 7"}, "labels.pdf?skip=-1": {422, "skip"},
		"routes/NO/sheet.pdf": {404, "no route “NO”"}, "report.pdf?page=1": {422, "page"},
	} {
		w := call(t, h, "GET", "/api/v1/plans/1/"+address, "")
		assert.Equal(t, want.status, w.Code, "%s: %s", address, w.Body)
		assert.Contains(t, w.Body.String(), want.text, address)
	}
	assert.Equal(t, 404, call(t, h, "GET", "/api/v1/plans/9/labels.pdf", "").Code)
}

// TestReportOfCells: the workbook of some cells has their loops only.
func TestReportOfCells(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	loops := func(query string) int {
		w := call(t, h, "GET", "/api/v1/plans/1/report.xlsx"+query, "")
		require.Equal(t, 200, w.Code, w.Body)
		f, err := excelize.OpenReader(bytes.NewReader(w.Body.Bytes()))
		require.NoError(t, err)
		rows, err := f.GetRows("Loops")
		require.NoError(t, err)
		return len(rows)
	}
	assert.Less(t, loops("?cells=LENS"), loops(""))
}
