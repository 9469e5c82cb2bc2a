package sheet_test

import (
	"context"
	"encoding/csv"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/importers/sheet"
	"lanewright/testdata/sheets"
)

func TestCSV(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, text string
		want       []string
	}{
		{"comma", "a,b\n1,2\n", []string{"1: a|b", "2: 1|2"}},
		{"semicolon with decimal commas", "a;b\n1,5;2,5\n3,5;4,5\n", []string{"1: a|b", "2: 1,5|2,5", "3: 3,5|4,5"}},
		{"decimal commas without a heading", "1,5;2,5\n3,5;4,5\n", []string{"1: 1,5|2,5", "2: 3,5|4,5"}},
		{"tab", "a\tb, c\n1\t2\n", []string{"1: a|b, c", "2: 1|2"}},
		{"bar", "a|b\n1|2\n", []string{"1: a|b", "2: 1|2"}},
		{"one column", "Part\nA\nB\n", []string{"1: Part", "2: A", "3: B"}},
		{"title above the table", "Parts of hall 2; spring\n\na,b,c\n1,2,3\n4,5,6\n", []string{"1: Parts of hall 2; spring", "3: a|b|c", "4: 1|2|3", "5: 4|5|6"}},
		{"no line end at the end", "a,b\n1,2", []string{"1: a|b", "2: 1|2"}},
		{"carriage returns", "a,b\r\n1,2\r\n", []string{"1: a|b", "2: 1|2"}},
		{"old carriage returns", "a,b\r1,2\r", []string{"1: a|b", "2: 1|2"}},
		{"blank lines count", "a,b\n\n,\n1,2\n", []string{"1: a|b", "4: 1|2"}},
		{"ragged", "a,b,c\n1\n1,2,3,4\n", []string{"1: a|b|c", "2: 1", "3: 1|2|3|4"}},
		{"trailing empty cells", "a,b,,\n1,2,,\n", []string{"1: a|b", "2: 1|2"}},
		{"quotes", "a,\"b, c\"\n\"say \"\"hi\"\"\",2\n", []string{"1: a|b, c", `2: say "hi"|2`}},
		{"line end in quotes", "a,\"b\nc\"\n1,2\n", []string{"1: a|b\nc", "2: 1|2"}},
		{"empty quotes", "\"\",a\n", []string{"1: |a"}},
		{"inch marks are letters", "a,b\n15 1/4\",2\n", []string{"1: a|b", `2: 15 1/4"|2`}},
		{"text after a quote", "a,b\n\"x\"y,2\n", []string{"1: a|b", "2: xy|2"}},
		{"delimiter in another's quotes", "a;\"b,c\"\n1;\"2,3\"\n", []string{"1: a|b,c", "2: 1|2,3"}},
		{"byte order mark", "\ufeffa,b\n", []string{"1: a|b"}},
		{"delimiter stated", "sep=|\r\na|b;c\n", []string{"1: a|b;c"}},
		{"end of file mark", "a,b\n\x1a", []string{"1: a|b"}},
		{"codes stay", "a,b\n00123,1E5\n", []string{"1: a|b", "2: 00123|1E5"}},
		{"only blanks", "\n\n,,\n", nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			book := read(t, "dir/Parts.csv", []byte(c.text))
			assert.Equal(t, sheet.FormatCSV, book.Format)
			require.Len(t, book.Sheets, 1)
			s := book.Sheets[0]
			assert.Equal(t, "Parts.csv Parts visible", s.File+" "+s.Name+" "+s.State)
			assert.Equal(t, c.want, grid(s))
		})
	}
}

func TestCSVNotes(t *testing.T) {
	t.Parallel()
	book := read(t, "Parts.csv", []byte("a,b\n1,\"x\"y\n"))
	require.Len(t, book.Notes, 1)
	assert.Equal(t, sheet.CodeStrayQuote, book.Notes[0].Code)
	assert.Equal(t, "Parts.csv, Parts!B2", book.Notes[0].Origin.String())
}

func TestRefusedCSV(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, text, code string
		row              int
	}{
		{"open quote", "a,b\n1,\"2\n3,4\n", sheet.CodeOpenQuote, 2},
		{"Latin-1", "Teil,L\xe4nge\nA,1\n", sheet.CodeNotUTF8, 1},
		{"Latin-1 further down", "Teil,L\u00e4nge\nA,1\nM\xfctter,2\n", sheet.CodeNotUTF8, 3},
		{"zero byte far down", "a,b\n" + strings.Repeat("1,2\n", 2000) + "\x00", sheet.CodeNulByte, 2002},
		{"half a wide character", "\xff\xfea\x00\n", sheet.CodeBadUTF16, 0},
		{"lone half of a pair", "\xff\xfe\x00\xd8a\x00", sheet.CodeBadUTF16, 0},
		{"long cell", "a," + strings.Repeat("x", 140_000), sheet.CodeLongText, 1},
		{"too many columns", strings.Repeat("x,", 17_000), sheet.CodeColumns, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			r := refused(t, c.code, "Parts.csv", []byte(c.text))
			assert.Equal(t, c.row, r.Origin.Row)
		})
	}
}

func TestWideText(t *testing.T) {
	t.Parallel()
	little, big := "\xff\xfe", "\xfe\xff"
	for _, c := range "Länge\t𝄞\n1\t2\n" {
		units := []rune{c}
		if c > 0xffff {
			units = []rune{0xD834, 0xDD1E}
		}
		for _, u := range units {
			little += string([]byte{byte(u), byte(u >> 8)})
			big += string([]byte{byte(u >> 8), byte(u)})
		}
	}
	for _, text := range []string{little, big} {
		assert.Equal(t, []string{"1: Länge|𝄞", "2: 1|2"}, grid(read(t, "Parts.txt", []byte(text)).Sheets[0]))
	}
}

// Whatever a careful writer writes is read back cell by cell, with every
// delimiter.
func TestCSVReadsBack(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		columns := rapid.IntRange(2, 5).Draw(t, "columns")
		field := rapid.StringOfN(rapid.SampledFrom([]rune("ab1 \",;|\t\n.é")), 1, 6, -1)
		rows := rapid.SliceOfN(rapid.SliceOfN(field, columns, columns), 1, 6).Draw(t, "rows")
		mark := rapid.SampledFrom([]rune(";,\t|")).Draw(t, "delimiter")
		var b strings.Builder
		b.WriteString("sep=" + string(mark) + "\n")
		w := csv.NewWriter(&b)
		w.Comma = mark
		require.NoError(t, w.WriteAll(rows))
		book, err := sheet.Read(context.Background(), "Parts.csv", []byte(b.String()), sheet.DefaultLimits())
		require.NoError(t, err)
		require.Len(t, book.Sheets[0].Rows, len(rows))
		for i, row := range book.Sheets[0].Rows {
			require.Equal(t, i+1, row.Number)
			require.Len(t, row.Cells(), columns)
			for j, c := range row.Cells() {
				require.Equal(t, sheet.Cell{Text: rows[i][j]}, c)
			}
		}
	})
}

// folder writes files into a new folder.
func folder(t *testing.T, files map[string]string) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "Plant")
	require.NoError(t, os.Mkdir(dir, 0o700))
	for name, content := range files {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(content), 0o600))
	}
	return dir
}

func TestFolder(t *testing.T) {
	t.Parallel()
	dir := folder(t, map[string]string{"Rack types.csv": "a,b\n", "Parts.csv": "c;d\n", "Empty.csv": "", ".hidden.csv": "x", "readme.doc": "x"})
	require.NoError(t, os.Mkdir(filepath.Join(dir, "old"), 0o700))
	book, err := sheet.Open(context.Background(), dir, sheet.DefaultLimits())
	require.NoError(t, err)
	assert.Equal(t, "Plant folder", book.File+" "+book.Format)
	var got []string
	for _, s := range book.Sheets {
		got = append(got, s.File+" = "+s.Name+" "+strings.Join(grid(s), ""))
	}
	assert.Equal(t, []string{"Empty.csv = Empty ", "Parts.csv = Parts 1: c|d", "Rack types.csv = Rack types 1: a|b"}, got)
	require.Len(t, book.Notes, 2)
	assert.Equal(t, "old", book.Notes[0].Origin.File)
	assert.Equal(t, "readme.doc", book.Notes[1].Origin.File)
}

func TestRefusedFolders(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, code, file string
		files            map[string]string
	}{
		{"nothing to read", sheet.CodeNoSheets, "Plant", map[string]string{"a.xlsx": "x"}},
		{"one file not UTF-8", sheet.CodeNotUTF8, "Parts.csv", map[string]string{"Parts.csv": "\xe4,b", "Racks.csv": "a"}},
		{"two of one name", sheet.CodeDoubledSheet, "Plant", map[string]string{"Parts.csv": "a", "parts.txt": "a"}},
		{"a picture among them", sheet.CodeNotASheet, "Parts.csv", map[string]string{"Parts.csv": "\x89PNG\r\n\x1a\n\x00"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			_, err := sheet.Open(context.Background(), folder(t, c.files), sheet.DefaultLimits())
			var r *sheet.Refused
			require.ErrorAs(t, err, &r)
			assert.Equal(t, c.code, r.Code)
			assert.Equal(t, c.file, r.Origin.File)
		})
	}
}

func TestZipOfCSV(t *testing.T) {
	t.Parallel()
	a := sheets.Files("export/", "", "export/Rack types.csv", "a,b\n", "export/Parts.csv", "c,d\n", "__MACOSX/export/._Parts.csv", "x",
		"export/.DS_Store", "x", "export/notes.doc", "x")
	book := read(t, "Plant.zip", a.Zip())
	assert.Equal(t, sheet.FormatZip, book.Format)
	var got []string
	for _, s := range book.Sheets {
		got = append(got, s.File+" = "+s.Name+" "+strings.Join(grid(s), ""))
	}
	assert.Equal(t, []string{"Plant.zip = Parts 1: c|d", "Plant.zip = Rack types 1: a|b"}, got)
	require.Len(t, book.Notes, 1)
	assert.Equal(t, "notes.doc", book.Notes[0].Origin.File)

	refused(t, sheet.CodeDoubledSheet, "Plant.zip", append(a, sheets.Entry{Name: "other/parts.csv", Content: "x"}).Zip())
	refused(t, sheet.CodeNoSheets, "Plant.zip", sheets.Files("a.doc", "x").Zip())
	refused(t, sheet.CodeNoSheets, "Plant.zip", sheets.Archive{}.Zip())
	refused(t, sheet.CodeBadName, "Plant.zip", append(a, sheets.Entry{Name: "../../x.csv", Content: "x"}).Zip())
	refused(t, sheet.CodeOpenQuote, "Plant.zip", sheets.Files("a.csv", "\"x").Zip())
}

func TestFailingWorld(t *testing.T) {
	t.Parallel()
	_, err := sheet.Open(context.Background(), filepath.Join(t.TempDir(), "none.xlsx"), sheet.DefaultLimits())
	require.ErrorIs(t, err, fs.ErrNotExist)
	var r *sheet.Refused
	require.NotErrorAs(t, err, &r)
}

func TestInspect(t *testing.T) {
	t.Parallel()
	data := sheets.Workbook(`<row r="2"><c r="A2" t="s"><v>0</v></c><c r="C2" t="e"><v>#N/A</v></c><c r="D2"><f>A1</f></c></row><row r="4"><c r="B4"><v>1</v></c></row>`).Zip()
	in, err := sheet.InspectBytes(context.Background(), "Plant.xlsx", data, sheet.DefaultLimits())
	require.NoError(t, err)
	assert.Equal(t, sheet.Inspection{
		File: "Plant.xlsx", Format: "xlsx",
		Sheets: []sheet.SheetInspection{{Name: "Parts", State: "visible", Rows: 2, Cells: 4, Merges: 1, Formulas: 1, NoValue: 1, Errors: 1}},
	}, in)

	in, err = sheet.Inspect(context.Background(), folder(t, map[string]string{"a.doc": ""}), sheet.DefaultLimits())
	require.NoError(t, err)
	require.NotNil(t, in.Refused)
	assert.Equal(t, sheet.CodeNoSheets, in.Refused.Finding().Code)

	_, err = sheet.Inspect(context.Background(), filepath.Join(t.TempDir(), "none"), sheet.DefaultLimits())
	require.ErrorIs(t, err, fs.ErrNotExist)
}

// TestFirstStrayQuote: of several texts behind closing marks in a row the
// first is named.
func TestFirstStrayQuote(t *testing.T) {
	t.Parallel()
	book := read(t, "Parts.csv", []byte("a,b,c\n1,\"2\"x,\"3\"y\n"))
	require.Len(t, book.Notes, 1)
	assert.Equal(t, "B", book.Notes[0].Origin.Column)
	assert.Equal(t, []string{"1: a|b|c", "2: 1|2x|3y"}, grid(book.Sheets[0]))
}

// TestManyStrayQuotes: a thousand are listed, the others are counted.
func TestManyStrayQuotes(t *testing.T) {
	t.Parallel()
	book, err := sheet.Read(context.Background(), "Parts.csv", []byte("Part,Text\n"+strings.Repeat("A,\"b\"c\n", 1123)), sheet.DefaultLimits())
	require.NoError(t, err)
	require.Len(t, book.Notes, 1001)
	assert.Contains(t, book.Notes[1000].Summary, "in 123 more rows")
}
