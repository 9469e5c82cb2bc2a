package sheet_test

import (
	"archive/zip"
	"bytes"
	"context"
	"fmt"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/importers/sheet"
	"lanewright/testdata/sheets"
)

const oneCell = `<row r="1"><c r="A1" t="s"><v>0</v></c></row>`

// Files that are broken or hostile at one place each; the rest is sound.
func TestRefusedWorkbooks(t *testing.T) {
	t.Parallel()
	good := sheets.Workbook(oneCell)
	require.Equal(t, []string{"1: t0"}, grid(read(t, "Plant.xlsx", good.Zip()).Sheets[0]))
	rows := sheets.Workbook
	for _, c := range []struct {
		name, code string
		archive    sheets.Archive
	}{
		{"doctype in a sheet", sheet.CodeDoctype, good.Replace(sheets.SheetPart, "<worksheet", "<!DOCTYPE x [<!ENTITY a \"b\">]><worksheet")},
		{"doctype in the styles", sheet.CodeDoctype, good.Replace(sheets.StylesPart, "<styleSheet", "<!DOCTYPE x><styleSheet")},
		{"doctype in the list of sheets", sheet.CodeDoctype, good.Replace(sheets.MainPart, "<workbook ", "<!DOCTYPE x><workbook ")},
		{"doctype in the texts", sheet.CodeDoctype, good.Replace(sheets.StringsPart, "<sst", "<!DOCTYPE x><sst")},
		{"unknown entity", sheet.CodeBadXML, good.Replace(sheets.StringsPart, "t0", "&boom;")},
		{"unclosed tag", sheet.CodeBadXML, good.Replace(sheets.SheetPart, "</sheetData>", "")},
		{"second root", sheet.CodeBadXML, good.Replace(sheets.SheetPart, "</worksheet>", "</worksheet><worksheet/>")},
		{"text after the end", sheet.CodeBadXML, good.Replace(sheets.SheetPart, "</worksheet>", "</worksheet>x")},
		{"cells twice", sheet.CodeBadXML, good.Replace(sheets.SheetPart, "</sheetData>", "</sheetData><sheetData/>")},
		{"row outside of the data", sheet.CodeBadXML, good.Replace(sheets.SheetPart, "</sheetData>", "</sheetData><extLst><row/></extLst>")},
		{"cell outside of a row", sheet.CodeBadXML, good.Replace(sheets.SheetPart, "</sheetData>", "<c/></sheetData>")},
		{"wrong encoding stated", sheet.CodeBadXML, good.Replace(sheets.SheetPart, `encoding="UTF-8"`, `encoding="ISO-8859-1"`)},
		{"not UTF-8", sheet.CodeBadXML, good.Replace(sheets.StringsPart, "t0", "\xe4")},
		{"control character", sheet.CodeBadXML, good.Replace(sheets.StringsPart, "t0", "\x01")},
		{"UTF-16", sheet.CodeBadXML, good.With(sheets.SheetPart, "\xff\xfe<\x00a\x00/\x00>\x00")},
		{"empty sheet part", sheet.CodeBadXML, good.With(sheets.SheetPart, "")},
		{"sheet part of another kind", sheet.CodeBadXML, good.With(sheets.SheetPart, "<chartsheet/>")},
		{"sheet in a foreign namespace", sheet.CodeBadXML, good.Replace(sheets.SheetPart, sheets.MainSpace, "http://example.org/other")},
		{"too many namespaces", sheet.CodeBadXML, good.With(sheets.SheetPart, manySpaces())},
		{"deep nesting", sheet.CodeBadXML, good.With(sheets.SheetPart, strings.Repeat("<a>", 1000))},
		{"missing text table", sheet.CodeMissingPart, good.Without(sheets.StringsPart)},
		{"text table not referred to", sheet.CodeMissingText, good.With(sheets.MainRels, sheets.Relations("rId1 worksheet worksheets/sheet1.xml", "rId2 styles styles.xml"))},
		{"text beyond the table", sheet.CodeMissingText, rows(`<row r="1"><c r="A1" t="s"><v>5</v></c></row>`)},
		{"negative text number", sheet.CodeMissingText, rows(`<row r="1"><c r="A1" t="s"><v>-1</v></c></row>`)},
		{"no text number", sheet.CodeMissingText, rows(`<row r="1"><c r="A1" t="s"><v></v></c></row>`)},
		{"strange element in the text table", sheet.CodeBadXML, good.Replace(sheets.StringsPart, "<si>", `<x:si xmlns:x="other"/><si>`)},
		{"missing styles", sheet.CodeMissingPart, good.Without(sheets.StylesPart)},
		{"missing sheet part", sheet.CodeMissingPart, good.Without(sheets.SheetPart)},
		{"missing references", sheet.CodeMissingPart, good.Without(sheets.MainRels)},
		{"missing root references", sheet.CodeMissingPart, good.Without(sheets.RootRels)},
		{"missing main part", sheet.CodeMissingPart, good.Without(sheets.MainPart)},
		{"sheet outside of the file", sheet.CodeMissingPart, good.With(sheets.MainRels, strings.Replace(sheets.Relations("rId1 worksheet http://example.org/s.xml"), "/>", ` TargetMode="External"/>`, 1))},
		{"sheet without reference", sheet.CodeMissingPart, good.Replace(sheets.MainPart, ` r:id="rId1"`, "")},
		{"reference given twice", sheet.CodeBadXML, good.With(sheets.MainRels, sheets.Relations("rId1 worksheet worksheets/sheet1.xml", "rId1 worksheet worksheets/sheet2.xml"))},
		{"no sheets", sheet.CodeNoSheets, good.Replace(sheets.MainPart, `<sheet name="Parts" sheetId="1" r:id="rId1"/>`, "")},
		{"two sheets of one name", sheet.CodeDoubledSheet, good.Replace(sheets.MainPart, "</sheets>", `<sheet name="PARTS" sheetId="2" r:id="rId1"/></sheets>`)},
		{"two sheets in one part", sheet.CodeBadXML, good.Replace(sheets.MainPart, "</sheets>", `<sheet name="Other" sheetId="2" r:id="rId1"/></sheets>`)},
		{"main part is no workbook", sheet.CodeBadXML, good.With(sheets.MainPart, "<html/>")},
		{"row twice", sheet.CodeBadPlace, rows(`<row r="1"/><row r="1"/>`)},
		{"rows out of order", sheet.CodeBadPlace, rows(`<row r="3"/><row r="2"/>`)},
		{"row zero", sheet.CodeBadPlace, rows(`<row r="0"/>`)},
		{"row in words", sheet.CodeBadPlace, rows(`<row r="one"/>`)},
		{"cell twice", sheet.CodeBadPlace, rows(`<row r="1"><c r="A1"/><c r="A1"/></row>`)},
		{"cells out of order", sheet.CodeBadPlace, rows(`<row r="1"><c r="B1"/><c r="A1"/></row>`)},
		{"cell of another row", sheet.CodeBadPlace, rows(`<row r="1"><c r="A2"/></row>`)},
		{"cell without letters", sheet.CodeBadPlace, rows(`<row r="1"><c r="1"/></row>`)},
		{"row beyond the last", sheet.CodeRows, rows(`<row r="1048577"/>`)},
		{"column beyond the last", sheet.CodeColumns, rows(`<row r="1"><c r="XFE1"/></row>`)},
		{"unknown type", sheet.CodeBadCell, rows(`<row r="1"><c r="A1" t="z"><v>1</v></c></row>`)},
		{"unknown style", sheet.CodeBadCell, rows(`<row r="1"><c r="A1" s="99"><v>1</v></c></row>`)},
		{"style negative", sheet.CodeBadCell, rows(`<row r="1"><c r="A1" s="-1"><v>1</v></c></row>`)},
		{"style in words", sheet.CodeBadCell, rows(`<row r="1"><c r="A1" s="x"><v>1</v></c></row>`)},
		{"truth value 2", sheet.CodeBadCell, rows(`<row r="1"><c r="A1" t="b"><v>2</v></c></row>`)},
		{"two values", sheet.CodeBadCell, rows(`<row r="1"><c r="A1"><v>1</v><v>2</v></c></row>`)},
		{"tag inside a value", sheet.CodeBadCell, rows(`<row r="1"><c r="A1"><v>1<b/></v></c></row>`)},
		{"name outside of the archive", sheet.CodeBadName, good.With("../evil.xml", "x")},
		{"absolute name", sheet.CodeBadName, good.With("/etc/passwd", "x")},
		{"name with a drive", sheet.CodeBadName, good.With(`C:\x.xml`, "x")},
		{"name with backslashes outside", sheet.CodeBadName, good.With(`xl\..\..\x`, "x")},
		{"file twice", sheet.CodeDoubledEntry, append(good, sheets.Entry{Name: sheets.SheetPart, Content: "x"})},
		{"file twice but for case", sheet.CodeDoubledEntry, append(good, sheets.Entry{Name: "XL/workbook.xml", Content: "x"})},
		{"long text", sheet.CodeLongText, rows(`<row r="1"><c r="A1" t="str"><v>` + strings.Repeat("x", 140_000) + `</v></c></row>`)},
		{"binary workbook", sheet.CodeBinaryWorkbook, good.Replace(sheets.TypesPart, sheets.SheetType, "application/vnd.ms-excel.sheet.binary.macroEnabled.main")},
		{"text document", sheet.CodeOtherOffice, good.Replace(sheets.TypesPart, "spreadsheetml.sheet", "wordprocessingml.document")},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			refused(t, c.code, "Plant.xlsx", c.archive.Zip())
		})
	}
}

// manySpaces declares the main namespace under a hundred names.
func manySpaces() string {
	var b strings.Builder
	for i := range 100 {
		fmt.Fprintf(&b, ` xmlns:p%d="%s"`, i, sheets.MainSpace)
	}
	return `<p1:worksheet` + b.String() + `><p1:sheetData/></p1:worksheet>`
}

// What is odd but loses nothing is read.
func TestOddWorkbooks(t *testing.T) {
	t.Parallel()
	good := sheets.Workbook(oneCell)
	strict := sheets.Archive{}
	for _, e := range good {
		e.Content = strings.ReplaceAll(e.Content, sheets.MainSpace, sheets.StrictSpace)
		e.Content = strings.ReplaceAll(e.Content, sheets.RelSpace, "http://purl.oclc.org/ooxml/officeDocument/relationships")
		strict = append(strict, e)
	}
	slashed := sheets.Archive{}
	for _, e := range good {
		slashed = append(slashed, sheets.Entry{Name: strings.ReplaceAll(e.Name, "/", `\`), Content: e.Content})
	}
	for _, c := range []struct {
		name    string
		archive sheets.Archive
	}{
		{"strict variant", strict},
		{"backslashes in names", slashed},
		{"prefixed elements", good.With(sheets.SheetPart, `<x:worksheet xmlns:x="`+sheets.MainSpace+`"><x:sheetData><x:row r="1"><x:c r="A1" t="s"><x:v>0</x:v></x:c></x:row></x:sheetData></x:worksheet>`)},
		{"prefix declared late", good.With(sheets.SheetPart, `<worksheet xmlns="`+sheets.MainSpace+`"><y:sheetData xmlns:y="`+sheets.MainSpace+`"><row><y:c t="s"><v>0</v></y:c></row></y:sheetData></worksheet>`)},
		{"default namespace changed inside", good.Replace(sheets.SheetPart, "</sheetData>", `</sheetData><extLst><ext><row xmlns="other"><c/></row></ext></extLst>`)},
		{"byte order mark", good.Replace(sheets.SheetPart, "<?xml", "\ufeff<?xml")},
		{"comments and instructions", good.Replace(sheets.SheetPart, "<sheetData>", "<!-- a --><?b c?><sheetData><!-- d -->")},
		{"wrong counts", good.Replace(sheets.StringsPart, "<sst", `<sst count="99" uniqueCount="1"`)},
		{"no content types", good.Without(sheets.TypesPart)},
		{"texts under an unusual name", good.Without(sheets.StringsPart).With("xl/odd/Texts.XML", good[5].Content).
			With(sheets.MainRels, sheets.Relations("rId1 worksheet /xl/worksheets/Sheet1.xml", "rId2 styles styles.xml", "rId3 sharedStrings ./odd/texts.xml"))},
		{"text with a style that is not there", good.Replace(sheets.SheetPart, `t="s"`, `t="s" s="99"`)},
		{"no styles", good.Without(sheets.StylesPart).With(sheets.MainRels, sheets.Relations("rId1 worksheet worksheets/sheet1.xml", "rId3 sharedStrings sharedStrings.xml"))},
		{"pictures and folders beside it", good.With("xl/media/image1.png", "\x89PNG").With("xl/empty/", "")},
		{"carriage returns", good.With(sheets.SheetPart, strings.ReplaceAll(good[6].Content, "><", ">\r\n<"))},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			for _, name := range []string{"Plant.xlsx", "plant", "Plant.zip"} {
				book := read(t, name, c.archive.Zip())
				assert.Equal(t, []string{"1: t0"}, grid(book.Sheets[0]))
				assert.Equal(t, sheet.FormatXLSX, book.Format)
			}
		})
	}
}

func TestHiddenAndOtherSheets(t *testing.T) {
	t.Parallel()
	a := sheets.Workbook(oneCell).
		Replace(sheets.MainPart, "</sheets>", `<sheet name="H" state="hidden" r:id="rId4"/><sheet name="V" state="veryHidden" r:id="rId5"/><sheet name="Chart" r:id="rId6"/></sheets>`).
		Replace(sheets.MainRels, "</Relationships>", strings.TrimPrefix(sheets.Relations("rId4 worksheet worksheets/sheet2.xml", "rId5 worksheet worksheets/sheet3.xml", "rId6 chartsheet chartsheets/sheet1.xml"), sheets.Declaration+`<Relationships xmlns="`+sheets.PackageRels+`">`)).
		Replace(sheets.TypesPart, sheets.SheetType, "application/vnd.ms-excel.sheet.macroEnabled.main+xml").
		With("xl/worksheets/sheet2.xml", sheets.SheetXML(oneCell)).With("xl/worksheets/sheet3.xml", sheets.SheetXML("")).
		With("xl/worksheets/lost.xml", sheets.SheetXML(oneCell)).With("xl/chartsheets/sheet1.xml", "<chartsheet/>")
	book := read(t, "Plant.xlsm", a.Zip())
	var got []string
	for _, s := range book.Sheets {
		got = append(got, s.Name+" "+s.State)
	}
	assert.Equal(t, []string{"Parts visible", "H hidden", "V veryHidden"}, got)
	var notes []string
	for _, n := range book.Notes {
		notes = append(notes, n.Code)
	}
	assert.Equal(t, []string{sheet.CodeMacros, sheet.CodeNoTable, sheet.CodeStraySheet}, notes)
}

// A sheet cut anywhere, packed anew with a sound checksum, is refused.
func TestCutSheet(t *testing.T) {
	t.Parallel()
	good := sheets.Workbook(oneCell + `<row r="2"><c r="A2"><v>2</v></c></row>`)
	whole := good[6].Content
	for n := range len(whole) {
		_, err := sheet.Read(context.Background(), "Plant.xlsx", good.With(sheets.SheetPart, whole[:n]).Zip(), sheet.DefaultLimits())
		require.Error(t, err, "cut after %d of %d bytes: %s", n, len(whole), whole[:n])
	}
}

// A file cut anywhere is refused.
func TestCutFile(t *testing.T) {
	t.Parallel()
	data := sheets.Workbook(oneCell).Zip()
	for n := range len(data) {
		_, err := sheet.Read(context.Background(), "Plant.xlsx", data[:n], sheet.DefaultLimits())
		var r *sheet.Refused
		require.ErrorAs(t, err, &r, "cut after %d bytes", n)
	}
}

// A file with one bit flipped is refused or, where the bit has no meaning
// (times, comments), read as before: never with other cells.
func TestFlippedBits(t *testing.T) {
	t.Parallel()
	data := sheets.Workbook(oneCell + `<row r="2"><c r="A2" s="1"><v>2</v></c><c r="B2" t="b"><v>1</v></c></row>`).Zip()
	want := read(t, "Plant.xlsx", data).Sheets
	accepted := 0
	for i := range data {
		for bit := i % 3; bit < 8; bit += 3 {
			flipped := bytes.Clone(data)
			flipped[i] ^= 1 << bit
			book, err := sheet.Read(context.Background(), "Plant.xlsx", flipped, sheet.DefaultLimits())
			if err == nil {
				accepted++
				require.Equal(t, want, book.Sheets, "byte %d, bit %d", i, bit)
				continue
			}
			var r *sheet.Refused
			require.ErrorAs(t, err, &r)
		}
	}
	assert.Less(t, accepted, len(data)*3/2)
}

func TestWrongChecksums(t *testing.T) {
	t.Parallel()
	good := sheets.Workbook(oneCell).With("xl/media/image1.png", "picture")
	for _, part := range []string{sheets.SheetPart, "xl/media/image1.png"} {
		for _, sum := range []uint32{0, 1} {
			data := good.Stored(func(h *zip.FileHeader) {
				if h.Name == part {
					h.CRC32 = sum
				}
			})
			refused(t, sheet.CodeDamagedPart, "Plant.xlsx", data)
		}
	}
	data := good.Stored(func(h *zip.FileHeader) {
		if h.Name == sheets.SheetPart {
			h.Method = 99
		}
	})
	refused(t, sheet.CodeDamagedPart, "Plant.xlsx", data)
	data = good.Stored(func(h *zip.FileHeader) {
		if h.Name == sheets.SheetPart {
			h.Flags |= 1
		}
	})
	refused(t, sheet.CodeEncrypted, "Plant.xlsx", data)
}

// bomb makes a workbook whose sheet inflates to n bytes of blanks.
func bomb(t *testing.T, part string, n int64) []byte {
	t.Helper()
	var buf bytes.Buffer
	w := zip.NewWriter(&buf)
	for _, e := range sheets.Workbook(oneCell).Without(part) {
		f, err := w.Create(e.Name)
		require.NoError(t, err)
		_, err = io.WriteString(f, e.Content)
		require.NoError(t, err)
	}
	f, err := w.Create(part)
	require.NoError(t, err)
	_, err = io.WriteString(f, `<worksheet xmlns="`+sheets.MainSpace+`">`)
	require.NoError(t, err)
	_, err = io.CopyN(f, spaces{}, n)
	require.NoError(t, err)
	_, err = io.WriteString(f, `<sheetData/></worksheet>`)
	require.NoError(t, err)
	require.NoError(t, w.Close())
	return buf.Bytes()
}

type spaces struct{}

func (spaces) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = ' '
	}
	return len(p), nil
}

func TestBombs(t *testing.T) {
	t.Parallel()
	refused(t, sheet.CodeInflatesTooFar, "Plant.xlsx", bomb(t, "xl/media/x.bin", 64<<20))
	limits := sheet.DefaultLimits()
	limits.InflatedBytes = 1 << 20
	refusedWithin(t, sheet.CodeInflatesTooFar, "Plant.xlsx", bomb(t, "xl/media/x.bin", 2<<20), limits)
	refusedWithin(t, sheet.CodeBadXML, "Plant.xlsx", bomb(t, sheets.SheetPart, 20<<20), sheet.DefaultLimits())
}

func TestLimits(t *testing.T) {
	t.Parallel()
	data := sheets.Workbook(`<row r="1"><c r="A1"><v>1</v></c><c r="J1"><v>1</v></c></row><row r="3"><c r="A3"><v>1</v></c></row>`).Zip()
	for _, c := range []struct {
		code  string
		limit func(*sheet.Limits)
	}{
		{sheet.CodeTooBig, func(l *sheet.Limits) { l.FileBytes = 100 }},
		{sheet.CodeTooMany, func(l *sheet.Limits) { l.Entries = 3 }},
		{sheet.CodeTooMany, func(l *sheet.Limits) { l.Sheets = 0 }},
		{sheet.CodeRows, func(l *sheet.Limits) { l.Rows = 2 }},
		{sheet.CodeColumns, func(l *sheet.Limits) { l.Columns = 9 }},
		{sheet.CodeCells, func(l *sheet.Limits) { l.Cells = 10 }},
		{sheet.CodeCells, func(l *sheet.Limits) { l.Cells = 4 }},
	} {
		limits := sheet.DefaultLimits()
		c.limit(&limits)
		refusedWithin(t, c.code, "Plant.xlsx", data, limits)
	}
	limits := sheet.DefaultLimits()
	limits.Rows, limits.Columns, limits.Cells = 3, 10, 11
	_, err := sheet.Read(context.Background(), "Plant.xlsx", data, limits)
	require.NoError(t, err)
}

func TestCancelled(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	for name, data := range map[string][]byte{"Plant.xlsx": sheets.Workbook(oneCell).Zip(), "Parts.csv": []byte("a,b\n")} {
		_, err := sheet.Read(ctx, name, data, sheet.DefaultLimits())
		require.ErrorIs(t, err, context.Canceled, name)
	}
}

// Content that is no sheet is refused, whatever its name says.
func TestOtherContent(t *testing.T) {
	t.Parallel()
	ole := "\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + strings.Repeat("\x00", 600)
	var wide strings.Builder
	for _, c := range "EncryptedPackage" {
		fmt.Fprintf(&wide, "%c\x00", c)
	}
	for _, c := range []struct{ name, content, code string }{
		{"empty.xlsx", "", sheet.CodeEmptyFile},
		{"empty.csv", "", sheet.CodeEmptyFile},
		{"old.xls", ole, sheet.CodeOldWorkbook},
		{"renamed.xlsx", ole, sheet.CodeOldWorkbook},
		{"secret.xlsx", ole + wide.String(), sheet.CodeEncrypted},
		{"picture.xlsx", "\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR", sheet.CodeNotASheet},
		{"photo.csv", "\xff\xd8\xff\xe0\x00\x10JFIF", sheet.CodeNotASheet},
		{"paper.xlsx", "%PDF-1.7\n%\xe2\xe3\xcf\xd3\n1 0 obj", sheet.CodeNotASheet},
		{"noise.csv", "\x00\x01\x02\x03", sheet.CodeNotASheet},
		{"page.csv", "<!DOCTYPE html><html></html>", sheet.CodeNotASheet},
		{"table.csv", "  <table><tr><td>", sheet.CodeNotASheet},
		{"old.csv", `<?xml version="1.0"?><Workbook/>`, sheet.CodeNotASheet},
		{"data.csv", `{"a": 1}`, sheet.CodeNotASheet},
		{"archive.gz", "\x1f\x8b\x08\x00\x00\x00\x00\x00\x00\x03", sheet.CodeNotASheet},
		{"text.xlsx", "Part,Length\nA,1\n", sheet.CodeNameMisleads},
		{"text.xls", "Part\tLength\nA\t1\n", sheet.CodeNameMisleads},
		{"short.xlsx", "PK", sheet.CodeDamagedArchive},
		{"cut.xlsx", "PK\x03\x04 and no more", sheet.CodeDamagedArchive},
		{"flat.ods", string(sheets.Files("mimetype", "application/vnd.oasis.opendocument.spreadsheet", "content.xml", "<a/>").Zip()), sheet.CodeBadXML},
		{"letter.ods", string(sheets.Files("mimetype", "application/vnd.oasis.opendocument.text", "content.xml", "<a/>").Zip()), sheet.CodeOtherOffice},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			r := refused(t, c.code, "/some/where/"+c.name, []byte(c.content))
			assert.Equal(t, c.name, r.Origin.File)
		})
	}
}
