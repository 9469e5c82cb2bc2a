package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"net/url"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"lanewright/api"
	"lanewright/api/wire"
	"lanewright/importers"
	"lanewright/importers/export"
	"lanewright/planner"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/storage/storagetest"
)

// generatedCodes are n codes such as plants have, no two of them one code.
func generatedCodes(n int) []string {
	r := rand.New(rand.NewPCG(7, 11))
	shapes := []func(i int) string{
		func(i int) string { return fmt.Sprintf("%05d", i) },
		func(i int) string { return fmt.Sprintf("%dE%d", 1+i%9, i) },
		func(i int) string { return fmt.Sprintf("%d-%d", i, r.IntN(12)+1) },
		func(i int) string { return fmt.Sprintf("%d/%d", r.IntN(31)+1, i) },
		func(i int) string { return fmt.Sprintf("%019d", 1_000_000_000_000_000_000+int64(i)) },
		func(i int) string { return fmt.Sprintf("A%d\u00a0B", i) },
		func(i int) string { return fmt.Sprintf("A  %d b", i) },
		func(i int) string { return strings.Map(fullWidth, fmt.Sprint(700000+i)) },
		func(i int) string { return fmt.Sprintf("АВ%d", i) },
		func(i int) string { return fmt.Sprintf("=A%d", i) },
		func(i int) string { return fmt.Sprintf("+%d", 900000+i) },
		func(i int) string { return fmt.Sprintf("@%d", i) },
		func(i int) string { return fmt.Sprintf("'%d", i) },
		func(i int) string { return fmt.Sprintf("%d,%03d", 1000+i, r.IntN(1000)) },
		func(i int) string { return fmt.Sprintf("2026-03-%02d.%d", 1+i%28, i) },
		func(i int) string { return fmt.Sprintf("\"%d\";x", i) },
		func(i int) string { return fmt.Sprintf("Größe %d\u200dü", i) },
		func(i int) string { return fmt.Sprintf("TRUE%d", i) },
		func(i int) string { return fmt.Sprintf("%d.0", 20000+i) },
		func(i int) string { return fmt.Sprintf("_x0041_%d", i) },
	}
	codes := make([]string, n)
	for i := range codes {
		codes[i] = shapes[i%len(shapes)](i)
	}
	return codes
}

func fullWidth(r rune) rune { return r - '0' + '０' }

// flatOf is a flat table with a row for each code.
func flatOf(codes []string) [][]string {
	rows := [][]string{{"Part", "Cell", "Station", "Pieces per hour", "Container", "Length (mm)", "Width (mm)", "Height (mm)", "Standard pack"}}
	for i, c := range codes {
		rows = append(rows, []string{c, fmt.Sprintf("C%d", i/100), fmt.Sprint(10 * (1 + i%10)), "1.5", "BOX", "400", "300", "220", "20"})
	}
	return rows
}

func workbookOf(t *testing.T, rows [][]string) []byte {
	t.Helper()
	f := excelize.NewFile()
	w, err := f.NewStreamWriter("Sheet1")
	require.NoError(t, err)
	for i, row := range rows {
		cells := make([]any, len(row))
		for j, text := range row {
			cells[j] = text
		}
		require.NoError(t, w.SetRow(fmt.Sprintf("A%d", i+1), cells))
	}
	require.NoError(t, w.Flush())
	var b bytes.Buffer
	require.NoError(t, f.Write(&b))
	return b.Bytes()
}

func partCodes(p *plant.Plant) []string {
	out := make([]string, len(p.Parts))
	for i, part := range p.Parts {
		out[i] = string(part.Part)
	}
	return out
}

// TestCodesStayCodes: 10,000 codes go through import, database, export and
// import again, as a workbook and as CSV files, byte for byte.
func TestCodesStayCodes(t *testing.T) {
	t.Parallel()
	codes := generatedCodes(10_000)
	read, err := importers.ReadBytes(t.Context(), "codes.xlsx", workbookOf(t, flatOf(codes)))
	require.NoError(t, err)
	require.False(t, read.Findings.HasErrors(), "%v", read.Findings[:min(len(read.Findings), 5)])
	require.Equal(t, codes, partCodes(&read.Plant))

	db := storagetest.New(t)
	_, _, err = db.SaveRevision(t.Context(), "codes", &read.Plant, plant.Revision(&read.Plant), nil, nil)
	require.NoError(t, err)
	stored, _, _, err := db.LoadPlant(t.Context(), "codes", 0)
	require.NoError(t, err)
	require.Equal(t, codes, partCodes(stored))

	for name, write := range map[string]func(*bytes.Buffer) error{
		"plant.xlsx": func(b *bytes.Buffer) error { return export.WriteXLSX(b, export.Workbook(stored)) },
		"plant.zip":  func(b *bytes.Buffer) error { return export.WriteZip(b, export.Workbook(stored)) },
	} {
		var b bytes.Buffer
		require.NoError(t, write(&b))
		again, err := importers.ReadBytes(t.Context(), name, b.Bytes())
		require.NoError(t, err)
		require.Equal(t, codes, partCodes(&again.Plant), name)
		assert.Equal(t, plant.Revision(stored), plant.Revision(&again.Plant), name)
	}
}

// TestCodesInAPIAndReport: the same codes in the answers of the API and in the
// report of a plan.
func TestCodesInAPIAndReport(t *testing.T) {
	t.Parallel()
	codes := generatedCodes(10_000)
	read, err := importers.ReadBytes(t.Context(), "codes.xlsx", workbookOf(t, flatOf(codes)))
	require.NoError(t, err)
	settings := planner.DefaultSettings(&read.Plant)
	require.NoError(t, settings.Set("placement_steps", "0"))
	made, err := planner.Run(t.Context(), planner.Input{Plant: &read.Plant}, settings, planner.Options{Threads: 1})
	require.NoError(t, err)
	db := storagetest.New(t)
	rev, _, err := db.SaveRevision(t.Context(), "codes", &read.Plant, plant.Revision(&read.Plant), nil, finding.List{})
	require.NoError(t, err)
	header, err := db.SavePlan(t.Context(), "codes", rev.Number, made)
	require.NoError(t, err)
	h := api.New(api.Options{Store: db})

	var listed []string
	for cursor := ""; ; {
		w := httptest.NewRecorder()
		h.ServeHTTP(w, httptest.NewRequest(http.MethodGet, fmt.Sprintf("/api/v1/plans/%d/loops?limit=1000&cursor=%s", header.ID, url.QueryEscape(cursor)), nil))
		require.Equal(t, 200, w.Code, "%s", w.Body)
		var page wire.Page[wire.Loop]
		require.NoError(t, json.Unmarshal(w.Body.Bytes(), &page))
		for _, l := range page.Items {
			listed = append(listed, l.Part)
		}
		if cursor = page.Next; cursor == "" {
			break
		}
	}
	slices.Sort(listed)
	require.Equal(t, slices.Sorted(slices.Values(codes)), listed)

	w := httptest.NewRecorder()
	h.ServeHTTP(w, httptest.NewRequest(http.MethodGet, fmt.Sprintf("/api/v1/plans/%d/report.xlsx", header.ID), nil))
	require.Equal(t, 200, w.Code)
	f, err := excelize.OpenReader(w.Body)
	require.NoError(t, err)
	rows, err := f.GetRows("Loops")
	require.NoError(t, err)
	reported := map[string]bool{}
	for _, row := range rows {
		for _, text := range row {
			reported[text] = true
		}
	}
	for _, c := range codes {
		require.True(t, reported[c], "%q is not in the report", c)
	}
}
