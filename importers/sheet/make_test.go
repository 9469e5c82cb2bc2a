package sheet_test

import (
	"archive/zip"
	"bytes"
	"context"
	"fmt"
	"hash/crc32"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lanewright/importers/sheet"
)

// entry is one file of an archive made by a test.
type entry struct{ name, content string }

// archive is an archive made by a test, in order.
type archive []entry

// with returns a copy with one file replaced, or added at the end.
func (a archive) with(name, content string) archive {
	out := append(archive{}, a...)
	for i := range out {
		if out[i].name == name {
			out[i].content = content
			return out
		}
	}
	return append(out, entry{name, content})
}

// without returns a copy that lacks one file.
func (a archive) without(name string) archive {
	var out archive
	for _, e := range a {
		if e.name != name {
			out = append(out, e)
		}
	}
	return out
}

// replace returns a copy with a text replaced in one file.
func (a archive) replace(t testing.TB, name, old, text string) archive {
	t.Helper()
	for _, e := range a {
		if e.name == name {
			require.Contains(t, e.content, old)
			return a.with(name, strings.Replace(e.content, old, text, 1))
		}
	}
	require.Fail(t, "no such file", name)
	return nil
}

// zip packs the archive.
func (a archive) zip(t testing.TB) []byte {
	t.Helper()
	var buf bytes.Buffer
	w := zip.NewWriter(&buf)
	for _, e := range a {
		f, err := w.Create(e.name)
		require.NoError(t, err)
		_, err = io.WriteString(f, e.content)
		require.NoError(t, err)
	}
	require.NoError(t, w.Close())
	return buf.Bytes()
}

// storedZip packs one file without compression and with a checksum of the
// test's choice.
func storedZip(t testing.TB, a archive, change func(*zip.FileHeader)) []byte {
	t.Helper()
	var buf bytes.Buffer
	w := zip.NewWriter(&buf)
	for _, e := range a {
		h := &zip.FileHeader{
			Name: e.name, Method: zip.Store, CRC32: crc32.ChecksumIEEE([]byte(e.content)),
			CompressedSize64: uint64(len(e.content)), UncompressedSize64: uint64(len(e.content)),
		}
		change(h)
		f, err := w.CreateRaw(h)
		require.NoError(t, err)
		_, err = io.WriteString(f, e.content)
		require.NoError(t, err)
	}
	require.NoError(t, w.Close())
	return buf.Bytes()
}

const (
	mainSpace   = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
	strictSpace = "http://purl.oclc.org/ooxml/spreadsheetml/main"
	relSpace    = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
	packageRels = "http://schemas.openxmlformats.org/package/2006/relationships"
	typesSpace  = "http://schemas.openxmlformats.org/package/2006/content-types"
	sheetType   = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"
	declaration = `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>` + "\n"
)

// Names of the parts of the workbook that workbookOf makes.
const (
	typesPart   = "[Content_Types].xml"
	rootRels    = "_rels/.rels"
	mainPart    = "xl/workbook.xml"
	mainRels    = "xl/_rels/workbook.xml.rels"
	stylesPart  = "xl/styles.xml"
	stringsPart = "xl/sharedStrings.xml"
	sheetPart   = "xl/worksheets/sheet1.xml"
)

// formats are the custom number formats of workbookOf; style i has format i.
var formats = []string{
	"General", "00000", "0.00", "yyyy-mm-dd", "h:mm", "yyyy-mm-dd hh:mm:ss", "0.0%", `0.0" kg"`, "[h]:mm",
	"000-000", "0.00E+00", "#,##0.00", `"P-"0000`, "# ?/?", "@", `_-* #,##0.00\ _€_-`, `[$-409]mmm\-yy;@`, "#,##0,",
}

// workbookOf makes a workbook of one sheet with this sheetData content, five
// texts "t0" to "t4" and the styles of formats.
func workbookOf(rows string) archive {
	var numFmts, xfs strings.Builder
	for i, f := range formats {
		fmt.Fprintf(&numFmts, `<numFmt numFmtId="%d" formatCode="%s"/>`, 164+i, escape(f))
		fmt.Fprintf(&xfs, `<xf numFmtId="%d"/>`, 164+i)
	}
	return archive{
		{typesPart, declaration + `<Types xmlns="` + typesSpace + `"><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="` + sheetType + `"/></Types>`},
		{rootRels, relations(`rId1 officeDocument xl/workbook.xml`)},
		{mainPart, declaration + `<workbook xmlns="` + mainSpace + `" xmlns:r="` + relSpace + `"><workbookPr/><sheets><sheet name="Parts" sheetId="1" r:id="rId1"/></sheets></workbook>`},
		{mainRels, relations("rId1 worksheet worksheets/sheet1.xml", "rId2 styles styles.xml", "rId3 sharedStrings sharedStrings.xml")},
		{stylesPart, declaration + `<styleSheet xmlns="` + mainSpace + `"><numFmts>` + numFmts.String() + `</numFmts><cellStyleXfs><xf numFmtId="14"/></cellStyleXfs><cellXfs>` + xfs.String() + `</cellXfs></styleSheet>`},
		{stringsPart, declaration + `<sst xmlns="` + mainSpace + `"><si><t>t0</t></si><si><t xml:space="preserve"> t1 </t></si><si><r><t>t</t></r><r><rPr><b/></rPr><t>2</t></r><rPh sb="0" eb="1"><t>guide</t></rPh></si><si><t>a&amp;b_x000A_c</t></si><si/></sst>`},
		{sheetPart, sheetXML(rows)},
	}
}

func sheetXML(rows string) string {
	return declaration + `<worksheet xmlns="` + mainSpace + `"><dimension ref="A1"/><sheetData>` + rows + `</sheetData><mergeCells count="1"><mergeCell ref="A1:B1"/></mergeCells></worksheet>`
}

func escape(s string) string {
	return strings.NewReplacer("&", "&amp;", `"`, "&quot;", "<", "&lt;").Replace(s)
}

// relations makes a list of references from "id kind target".
func relations(lines ...string) string {
	var b strings.Builder
	b.WriteString(declaration + `<Relationships xmlns="` + packageRels + `">`)
	for _, line := range lines {
		f := strings.Fields(line)
		fmt.Fprintf(&b, `<Relationship Id="%s" Type="%s/%s" Target="%s"/>`, f[0], relSpace, f[1], f[2])
	}
	b.WriteString(`</Relationships>`)
	return b.String()
}

// read reads data that must be accepted.
func read(t testing.TB, name string, data []byte) *sheet.Book {
	t.Helper()
	book, err := sheet.Read(context.Background(), name, data, sheet.DefaultLimits())
	require.NoError(t, err)
	return book
}

// refused reads data that must be refused under this code, in words.
func refused(t testing.TB, code, name string, data []byte) sheet.Refused {
	t.Helper()
	return refusedWithin(t, code, name, data, sheet.DefaultLimits())
}

func refusedWithin(t testing.TB, code, name string, data []byte, limits sheet.Limits) sheet.Refused {
	t.Helper()
	_, err := sheet.Read(context.Background(), name, data, limits)
	var r *sheet.Refused
	require.ErrorAs(t, err, &r)
	require.Equal(t, code, r.Code, r.Error())
	require.NotEmpty(t, r.Summary)
	require.NotEmpty(t, r.Detail)
	require.NotEmpty(t, r.Remedy)
	require.NotEmpty(t, r.Origin.File)
	require.NotContains(t, r.Origin.File, "/")
	return *r
}

// grid returns the texts of a sheet, one string per row: "3: a|b".
func grid(s sheet.Sheet) []string {
	var out []string
	for _, row := range s.Rows {
		var texts []string
		for _, c := range row.Cells {
			texts = append(texts, c.Text)
		}
		out = append(out, fmt.Sprintf("%d: %s", row.Number, strings.Join(texts, "|")))
	}
	return out
}
