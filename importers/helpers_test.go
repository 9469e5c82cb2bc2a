package importers

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/csv"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"lanewright/planner/finding"
)

// fixtures holds the sheets that tests read.
const fixtures = "../testdata/sheets"

// workbook is the sheets of a plant as texts, by name.
type workbook map[string][][]string

// loadWorkbook reads a folder of CSV files without the importers.
func loadWorkbook(t testing.TB, folder string) workbook {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(fixtures, folder, "*.csv"))
	require.NoError(t, err)
	require.NotEmpty(t, files)
	w := workbook{}
	for _, name := range files {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
		require.NoError(t, err)
		w[strings.TrimSuffix(filepath.Base(name), ".csv")] = rows
	}
	return w
}

// set changes one cell, "C4".
func (w workbook) set(sheet, cell, text string) workbook {
	column, row, err := excelize.CellNameToCoordinates(cell)
	if err != nil {
		panic(err)
	}
	for len(w[sheet]) < row {
		w[sheet] = append(w[sheet], nil)
	}
	for len(w[sheet][row-1]) < column {
		w[sheet][row-1] = append(w[sheet][row-1], "")
	}
	w[sheet][row-1][column-1] = text
	return w
}

// add appends a row.
func (w workbook) add(sheet string, texts ...string) workbook {
	w[sheet] = append(w[sheet], texts)
	return w
}

// without takes a sheet out.
func (w workbook) without(sheets ...string) workbook {
	for _, s := range sheets {
		delete(w, s)
	}
	return w
}

// withKit adds the kit that the rack type names, with a tube and a roller.
func (w workbook) withKit() workbook {
	w["Kits"] = [][]string{{"Kit", "Cut step (mm)", "Saw kerf (mm)", "Hole pitch (mm)"}, {"tube28", "1", "3", ""}}
	w["Kit parts"] = [][]string{
		{"Kit", "Part", "Kind", "Uses", "Width (mm)", "Height (mm)", "Wall (mm)", "Stock lengths (mm)", "Mass per foot (lb)", "Yield (MPa)", "Pitch (mm)"},
		{"TUBE28", "t30", "tube", "", "30", "30", "2", "6000, 3000", "1", "235", ""},
		{"tube28", "r33", "roller track", "", "30", "20", "", "3000", "", "", "33"},
	}
	return w
}

// withDecimalCommas writes the numbers as much of Europe does.
func (w workbook) withDecimalCommas() workbook {
	for _, rows := range w {
		for _, row := range rows {
			for i, text := range row {
				if _, err := strconv.ParseFloat(text, 64); err == nil {
					row[i] = strings.ReplaceAll(text, ".", ",")
				}
			}
		}
	}
	return w
}

func (w workbook) names() []string { return slices.Sorted(maps.Keys(w)) }

// zip packs the sheets as CSV files.
func (w workbook) zip(t testing.TB) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, name := range w.names() {
		f, err := z.Create(name + ".csv")
		require.NoError(t, err)
		c := csv.NewWriter(f)
		require.NoError(t, c.WriteAll(w[name]))
	}
	require.NoError(t, z.Close())
	return b.Bytes()
}

// xlsx writes the sheets as a workbook. What looks like a number becomes one,
// except codes, which a careful person formats as text.
func (w workbook) xlsx(t testing.TB) []byte {
	t.Helper()
	f := excelize.NewFile()
	for _, name := range w.names() {
		_, err := f.NewSheet(name)
		require.NoError(t, err)
		for i, row := range w[name] {
			for j, text := range row {
				at, err := excelize.CoordinatesToCellName(j+1, i+1)
				require.NoError(t, err)
				require.NoError(t, f.SetCellValue(name, at, cellValue(w[name][0][j], text)))
			}
		}
	}
	require.NoError(t, f.DeleteSheet("Sheet1"))
	var b bytes.Buffer
	require.NoError(t, f.Write(&b))
	return b.Bytes()
}

func cellValue(heading, text string) any {
	codes := []string{"Part", "Station", "Stations", "Look-alike of", "Date"}
	if v, err := strconv.ParseFloat(text, 64); err == nil && !slices.Contains(codes, heading) {
		return v
	}
	return text
}

// readZip reads the sheets as a zip of CSV files and checks the ledger.
func (w workbook) readZip(t testing.TB) *Result {
	t.Helper()
	return readBytes(t, "plant.zip", w.zip(t))
}

func readBytes(t testing.TB, name string, data []byte) *Result {
	t.Helper()
	r, err := ReadBytes(context.Background(), name, data)
	require.NoError(t, err)
	for _, l := range r.Sheets {
		require.Equal(t, l.Rows, l.Used+l.Reported+l.Skipped, "ledger of %s", l.Sheet)
	}
	return r
}

// ofCode returns the findings of one code.
func ofCode(list finding.List, code string) finding.List {
	return slices.DeleteFunc(slices.Clone(list), func(f finding.Finding) bool { return f.Code != code })
}

// places writes where findings are.
func places(list finding.List) []string {
	var p []string
	for _, f := range list {
		o := f.Origin
		o.File = ""
		p = append(p, o.String())
	}
	return p
}
