package importers_test

import (
	"bytes"
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"lanewright/importers"
	"lanewright/importers/column"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
)

const habits = "../testdata/sheets/habits"

// book is a workbook under construction.
type book struct {
	*excelize.File
	t *testing.T
}

func newBook(t *testing.T, sheet string) book {
	t.Helper()
	f := excelize.NewFile()
	require.NoError(t, f.SetSheetName("Sheet1", sheet))
	return book{f, t}
}

func (b book) set(sheet string, row, column int, v any) {
	cell, err := excelize.CoordinatesToCellName(column, row)
	require.NoError(b.t, err)
	if text, ok := v.(string); ok && strings.HasPrefix(text, "=") {
		require.NoError(b.t, b.SetCellFormula(sheet, cell, text[1:]))
		return
	}
	require.NoError(b.t, b.SetCellValue(sheet, cell, v))
}

func (b book) bytes() []byte {
	var out bytes.Buffer
	require.NoError(b.t, b.Write(&out))
	return out.Bytes()
}

// habitRow is one row of the tables of habits.
type habitRow struct {
	part, text, cell, station string
	perHour                   float64
	container                 string
	length, width, height     int
	pack                      int
	mass                      float64
}

// habitRows reads the rows of the English table, which is written plainly.
func habitRows(t *testing.T) (rows []habitRow) {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(habits, "01-english.csv"))
	require.NoError(t, err)
	for _, line := range strings.Split(strings.TrimSpace(string(data)), "\n")[1:] {
		f := strings.Split(line, ",")
		r := habitRow{part: f[0], text: f[1], cell: f[2], station: f[3], container: f[5]}
		_, err := fmt.Sscan(f[4]+" "+strings.Join(f[6:], " "), &r.perHour, &r.length, &r.width, &r.height, &r.pack, &r.mass)
		require.NoError(t, err)
		rows = append(rows, r)
	}
	return rows
}

// mergedHeadings has headings over merged cells, hidden rows and a filter.
func mergedHeadings(t *testing.T) []byte {
	b := newBook(t, "Teile")
	b.set("Teile", 1, 1, "Linienversorgung")
	require.NoError(t, b.MergeCell("Teile", "A1", "K1"))
	for i, h := range []string{"Sachnummer", "Benennung", "Zelle", "Arbeitsplatz", "Stück je Stunde", "Behälter", "", "", "", "Stück pro Behälter", "Gewicht (kg)"} {
		b.set("Teile", 3, i+1, h)
	}
	require.NoError(t, b.MergeCell("Teile", "F3", "I3"))
	for i, h := range []string{"Typ", "Länge (mm)", "Breite (mm)", "Höhe (mm)"} {
		b.set("Teile", 4, 6+i, h)
	}
	for i, r := range habitRows(t) {
		for j, v := range []any{r.part, r.text, r.cell, r.station, r.perHour, r.container, r.length, r.width, r.height, r.pack, r.mass} {
			b.set("Teile", 5+i, j+1, v)
		}
	}
	require.NoError(t, b.SetRowVisible("Teile", 6, false))
	require.NoError(t, b.SetColVisible("Teile", "H", false))
	return b.bytes()
}

// formulas computes what it can, with saved results, and ends in a total.
func formulas(t *testing.T) []byte {
	b := newBook(t, "Line supply")
	for i, h := range []string{"Part number", "Part name", "Cell", "Station", "Pieces per hour", "Packaging", "Length (mm)", "Width (mm)", "Height (mm)", "Std pack", "Unit weight (kg)"} {
		b.set("Line supply", 2, i+1, h)
	}
	rows := habitRows(t)
	for i, r := range rows {
		n := 3 + i
		for j, v := range []any{r.part, r.text, r.cell, r.station, r.perHour, r.container, r.length, r.width, r.height, r.pack, r.mass} {
			b.set("Line supply", n, j+1, v)
		}
	}
	total := 3 + len(rows)
	b.set("Line supply", total, 1, "Total")
	b.set("Line supply", total, 5, 1330.5)
	require.NoError(t, b.SetCellFormula("Line supply", fmt.Sprintf("E%d", total), fmt.Sprintf("SUM(E3:E%d)", total-1)))
	for i := range rows {
		cell := fmt.Sprintf("E%d", 3+i)
		require.NoError(t, b.SetCellFormula("Line supply", cell, fmt.Sprintf("%g*1", rows[i].perHour)))
	}
	return withResults(t, b)
}

// withResults saves results beside formulas, as spreadsheet programs do and
// the library that writes the test does not.
func withResults(t *testing.T, b book) []byte {
	sheets := b.GetSheetList()
	values := map[string]string{}
	rows, err := b.GetRows(sheets[0], excelize.Options{RawCellValue: true})
	require.NoError(t, err)
	for i, row := range rows {
		for j := range row {
			cell, _ := excelize.CoordinatesToCellName(j+1, i+1)
			if f, _ := b.GetCellFormula(sheets[0], cell); f != "" {
				v, err := b.CalcCellValue(sheets[0], cell, excelize.Options{RawCellValue: true})
				require.NoError(t, err)
				values[cell] = v
			}
		}
	}
	for cell, v := range values {
		f, err := b.GetCellFormula(sheets[0], cell)
		require.NoError(t, err)
		var number float64
		_, err = fmt.Sscan(v, &number)
		require.NoError(t, err)
		require.NoError(t, b.SetCellValue(sheets[0], cell, number))
		require.NoError(t, b.SetCellFormula(sheets[0], cell, f))
	}
	return b.bytes()
}

// besideEachOther has two tables on one sheet and a stray remark.
func besideEachOther(t *testing.T) []byte {
	b := newBook(t, "Tabelle1")
	for i, h := range []string{"Pieza", "Célula", "Puesto", "Piezas/hora", "Contenedor", "Piezas por contenedor", "Peso (kg)", "Denominación"} {
		b.set("Tabelle1", 1, i+1, h)
	}
	for i, h := range []string{"Contenedor", "Largo (mm)", "Ancho (mm)", "Alto (mm)"} {
		b.set("Tabelle1", 1, 10+i, h)
	}
	seen := map[string]bool{}
	for i, r := range habitRows(t) {
		for j, v := range []any{r.part, r.cell, r.station, r.perHour, r.container, r.pack, r.mass, r.text} {
			b.set("Tabelle1", 2+i, j+1, v)
		}
		if !seen[r.container] {
			seen[r.container] = true
			for j, v := range []any{r.container, r.length, r.width, r.height} {
				b.set("Tabelle1", 1+len(seen), 10+j, v)
			}
		}
	}
	return b.bytes()
}

// tables are tables in the habits of eleven plants, invented for the purpose.
func tables(t *testing.T) map[string][]byte {
	t.Helper()
	all := map[string][]byte{
		"07-merged-headings.xlsx": mergedHeadings(t), "08-formulas.xlsx": formulas(t), "09-beside-each-other.xlsx": besideEachOther(t),
	}
	for _, pattern := range []string{"*.csv", "*.tsv"} {
		files, err := filepath.Glob(filepath.Join(habits, pattern))
		require.NoError(t, err)
		for _, name := range files {
			data, err := os.ReadFile(name)
			require.NoError(t, err)
			all[filepath.Base(name)] = data
		}
	}
	require.Len(t, all, 11)
	return all
}

// TestHabits: each table goes in with no mapping, or with one question
// answered, and holds the facts of the canonical sheets; so the plan is the
// same.
func TestHabits(t *testing.T) {
	t.Parallel()
	canonical, err := importers.ReadFiles(t.Context(), filepath.Join(habits, "canonical"))
	require.NoError(t, err)
	require.False(t, canonical.Findings.HasErrors(), "%v", canonical.Findings)
	for name, data := range tables(t) {
		r, err := importers.ReadBytes(t.Context(), name, data)
		require.NoError(t, err)
		if questions := r.Mapping.Questions(); name == "10-one-question.csv" {
			require.Len(t, questions, 1)
			require.NoError(t, r.Mapping.Answer("Menge", "Standard pack", ""))
			r, err = importers.ReadBytesWith(t.Context(), importers.Options{Mapping: r.Mapping}, name, data)
			require.NoError(t, err)
		} else {
			assert.Empty(t, questions, name)
		}
		require.False(t, r.Findings.HasErrors(), "%s: %v", name, r.Findings)
		for _, l := range r.Sheets {
			assert.Equal(t, l.Rows, l.Used+l.Reported+l.Skipped, name)
			assert.Zero(t, l.Reported, name)
		}
		assert.Equal(t, plant.Revision(sorted(&canonical.Plant)), plant.Revision(sorted(&r.Plant)), name)
	}
}

// sorted is a plant with its lists by code, under one name: tables differ in
// the order in which they first name things.
func sorted(p *plant.Plant) *plant.Plant {
	q := *p
	q.Name = "Habits"
	q.Parts, q.Containers, q.Cells, q.Stations, q.Usage = slices.Clone(p.Parts), slices.Clone(p.Containers), slices.Clone(p.Cells), slices.Clone(p.Stations), slices.Clone(p.Usage)
	slices.SortFunc(q.Parts, func(a, b plant.Part) int { return cmp.Compare(a.Part, b.Part) })
	slices.SortFunc(q.Containers, func(a, b plant.Container) int { return cmp.Compare(a.Container, b.Container) })
	slices.SortFunc(q.Cells, func(a, b plant.Cell) int { return cmp.Compare(a.Cell, b.Cell) })
	slices.SortFunc(q.Stations, func(a, b plant.Station) int {
		return cmp.Or(cmp.Compare(a.Cell, b.Cell), cmp.Compare(a.Station, b.Station))
	})
	return &q
}

// TestSheetPerCell: a folder with a table for each cell, headed as a program exports
// them, holds the facts of the canonical sheets; it is said which cell each is.
func TestSheetPerCell(t *testing.T) {
	t.Parallel()
	canonical, err := importers.ReadFiles(t.Context(), filepath.Join(habits, "canonical"))
	require.NoError(t, err)
	r, err := importers.ReadFiles(t.Context(), filepath.Join(habits, "12-sheet-per-cell"))
	require.NoError(t, err)
	require.False(t, r.Findings.HasErrors(), "%v", r.Findings)
	assert.Len(t, coded(r.Findings, importers.CodeCellBySheet), 2)
	assert.Equal(t, plant.Revision(sorted(&canonical.Plant)), plant.Revision(sorted(&r.Plant)))
}

// TestSheetPerCellIsNotGuessed: a single table without cells, and sheets that nobody
// named, lack the column.
func TestSheetPerCellIsNotGuessed(t *testing.T) {
	t.Parallel()
	for _, names := range [][]string{{"HORN"}, {"Sheet1", "Sheet2"}} {
		b := newBook(t, names[0])
		for _, sheet := range names {
			_, err := b.NewSheet(sheet)
			require.NoError(t, err)
			for i, h := range []string{"Part", "Station", "Pieces per hour", "Container", "L x W x H (mm)", "Standard pack"} {
				b.set(sheet, 1, i+1, h)
			}
			for i, v := range []any{"L-7", "10", 30, "BOX", "400x300x220", 20} {
				b.set(sheet, 2, i+1, v)
			}
		}
		r, err := importers.ReadBytes(t.Context(), "a.xlsx", b.bytes())
		require.NoError(t, err)
		assert.Len(t, coded(r.Findings, importers.CodeColumnMissing), len(names))
		assert.Empty(t, coded(r.Findings, importers.CodeCellBySheet))
	}
}

// TestMeasuresInOneCell: a heading that does not say the order is asked about; a cell
// without three measures costs its row.
func TestMeasuresInOneCell(t *testing.T) {
	t.Parallel()
	table := "Part,Cell,Station,Pieces per hour,Container,Dimensions,Standard pack\n" +
		"A,C,1,5,B1,15 1/4 x 11 3/4 x 5 in,10\nB,C,1,5,B2,400*300*220 mm,10\nD,C,1,5,B3,400/300/147 mm,10\nE,C,1,5,B4,400 x 300 mm,10\n"
	r, err := importers.ReadBytes(t.Context(), "a.csv", []byte(table))
	require.NoError(t, err)
	require.Len(t, r.Mapping.Questions(), 1)
	require.NoError(t, r.Mapping.Answer("Dimensions", column.Measures, ""))
	r, err = importers.ReadBytesWith(t.Context(), importers.Options{Mapping: r.Mapping}, "a.csv", []byte(table))
	require.NoError(t, err)
	require.Len(t, r.Plant.Containers, 3)
	assert.Equal(t, []float64{387.35, 298.45, 127}, []float64{r.Plant.Containers[0].Length.MM(), r.Plant.Containers[0].Width.MM(), r.Plant.Containers[0].Height.MM()})
	assert.Equal(t, []float64{400, 300, 220}, []float64{r.Plant.Containers[1].Length.MM(), r.Plant.Containers[1].Width.MM(), r.Plant.Containers[1].Height.MM()})
	assert.InDelta(t, 147, r.Plant.Containers[2].Height.MM(), 0)
	bad := coded(r.Findings, importers.CodeBadValue)
	require.Len(t, bad, 1, "one cell, one finding")
	assert.Equal(t, `Length x width x height is "400 x 300 mm"`, bad[0].Summary)
	assert.Equal(t, "F", bad[0].Origin.Column)
	assert.Contains(t, bad[0].Detail, "length, width and height")
}

// TestShortHeadings: a heading of three letters is near nothing.
func TestShortHeadings(t *testing.T) {
	t.Parallel()
	r, err := importers.ReadBytes(t.Context(), "a.csv", []byte("Part,Cell,Station,Pieces per hour,Container,L x W x H (mm),Standard pack,Min,Max\nA,C,1,5,B1,400x300x220,20,2,6\n"))
	require.NoError(t, err)
	assert.Empty(t, coded(r.Findings, importers.CodeColumnNear))
	assert.Len(t, coded(r.Findings, importers.CodeColumnUnknown), 2)
}

// TestTurned: a table whose headings stand one below the other is refused with what to
// do, and so is one with demand week by week, named by its weeks.
func TestTurned(t *testing.T) {
	t.Parallel()
	turned := "Part,A,B\nDescription,x,y\nCell,C,C\nStation,1,2\nPieces per hour,5,6\nContainer,B1,B1\nLength (mm),400,400\n"
	r, err := importers.ReadBytes(t.Context(), "a.csv", []byte(turned))
	require.NoError(t, err)
	assert.Contains(t, coded(r.Findings, importers.CodeSheetMissing)[0].Remedy, "transposed")
	weeks := "Material,Cell,Station,Bin,L x W x H (mm),SPQ,KW 01,KW 02,KW 03,KW 04,KW 05,KW 06,KW 07,KW 08,KW 09\nA,C,1,B1,400x300x220,20,1,2,3,4,5,6,7,8,9\n"
	r, err = importers.ReadBytes(t.Context(), "a.csv", []byte(weeks))
	require.NoError(t, err)
	require.Len(t, coded(r.Findings, importers.CodeColumnMissing), 1)
	assert.Contains(t, coded(r.Findings, importers.CodeColumnMissing)[0].Detail, `"KW 01" to "KW 09"`)
}

// coded are the findings of one code.
func coded(list finding.List, code string) (found finding.List) {
	for _, f := range list {
		if f.Code == code {
			found = append(found, f)
		}
	}
	return found
}
