package importers

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"
)

func TestSkeleton(t *testing.T) {
	t.Parallel()
	for code, twin := range map[string]string{"А100": "a100", "１００": "100", "L‑100": "l-100", "ΡΟ-1": "PO-1", "a\u00a0b": "a b"} {
		assert.Equal(t, skeleton(twin), skeleton(code), code)
	}
	assert.NotEqual(t, skeleton("O1"), skeleton("01"))
	assert.False(t, mixesScripts("А-1"))
	assert.False(t, mixesScripts("Müller"))
}

// Codes in numeric cells are what the sheet shows, and that is said.
func TestCodesInNumericCells(t *testing.T) {
	t.Parallel()
	f := excelize.NewFile()
	padded, err := f.NewStyle(&excelize.Style{CustomNumFmt: ptr("00000")})
	require.NoError(t, err)
	for i, row := range [][]any{{"Part", "Cell", "Station", "Pieces per hour", "Container", "Length (mm)", "Width (mm)", "Height (mm)", "Standard pack"}, {123, "C1", 10, 60, "BOX", 400, 300, 220, 12}} {
		for j, v := range row {
			cell, _ := excelize.CoordinatesToCellName(j+1, i+1)
			require.NoError(t, f.SetCellValue("Sheet1", cell, v))
		}
	}
	require.NoError(t, f.SetCellStyle("Sheet1", "A2", "A2", padded))
	var b bytes.Buffer
	require.NoError(t, f.Write(&b))
	r := readBytes(t, "line.xlsx", b.Bytes())
	require.False(t, r.Findings.HasErrors(), "%v", r.Findings)
	assert.Equal(t, "00123", string(r.Plant.Parts[0].Part))
	said := ofCode(r.Findings, CodeNumber)
	require.Len(t, said, 2)
	assert.Contains(t, said[0].Summary, "00123 for 123")
	assert.Contains(t, said[1].Summary, "column Station")
}

func ptr(s string) *string { return &s }
