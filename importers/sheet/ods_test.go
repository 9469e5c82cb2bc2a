package sheet_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/importers/sheet"
)

const odsRoot = `<office:document-content xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0"` +
	` xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0"` +
	` xmlns:style="urn:oasis:names:tc:opendocument:xmlns:style:1.0" xmlns:calcext="urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0">`

// odsOf makes an OpenDocument workbook whose one sheet has these rows.
func odsOf(rows string) archive {
	return archive{
		{"mimetype", "application/vnd.oasis.opendocument.spreadsheet"},
		{"content.xml", declaration + odsRoot + `<office:automatic-styles><style:style style:name="ta2" style:family="table"><style:table-properties table:display="false"/></style:style></office:automatic-styles>` +
			`<office:body><office:spreadsheet><table:table table:name="Parts">` + rows + `</table:table></office:spreadsheet></office:body></office:document-content>`},
		{"META-INF/manifest.xml", declaration + `<manifest/>`},
	}
}

func odsRow(cells ...string) string {
	return `<table:table-row>` + strings.Join(cells, "") + `</table:table-row>`
}

func odsText(paragraph string) string {
	return `<table:table-cell office:value-type="string"><text:p>` + paragraph + `</text:p></table:table-cell>`
}

func odsNumber(kind, value, shown string) string {
	return `<table:table-cell office:value-type="` + kind + `" office:value="` + value + `"><text:p>` + shown + `</text:p></table:table-cell>`
}

func TestOpenDocumentCells(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct{ cell, text, raw string }{
		"text":              {odsText("Lens"), "Lens", ""},
		"text with spaces":  {odsText(" a  b<text:s text:c=\"2\"/>c "), "a b  c", ""},
		"trailing space":    {odsText("P1<text:s/>"), "P1 ", ""},
		"spans and lines":   {odsText(`a<text:span>b</text:span><text:line-break/>c<text:note>n</text:note>`), "ab\nc", ""},
		"annotation":        {`<table:table-cell office:value-type="string"><office:annotation><text:p>no</text:p></office:annotation><text:p>yes</text:p></table:table-cell>`, "yes", ""},
		"two paragraphs":    {`<table:table-cell office:value-type="string"><text:p>a</text:p><text:p>b</text:p></table:table-cell>`, "a\nb", ""},
		"string value":      {`<table:table-cell office:value-type="string" office:string-value="00123"><text:p>x</text:p></table:table-cell>`, "00123", ""},
		"number":            {odsNumber("float", "1234.5", "1.234,50"), "1234.5", "1234.5"},
		"padded code":       {odsNumber("float", "123", "00123"), "00123", "123"},
		"code with hyphens": {odsNumber("float", "12345", "123-45"), "123-45", "12345"},
		"with a unit":       {odsNumber("float", "1.5", "1,50 kg"), "1.5 kg", "1.5"},
		"grouped":           {odsNumber("float", "12345", "12.345"), "12345", "12345"},
		"percentage":        {odsNumber("percentage", "0.995", "99,5 %"), "99.5%", "0.995"},
		"currency":          {odsNumber("currency", "12.5", "12,50 €"), "12.5 €", "12.5"},
		"boolean":           {`<table:table-cell office:value-type="boolean" office:boolean-value="true"><text:p>WAHR</text:p></table:table-cell>`, "TRUE", ""},
		"date":              {`<table:table-cell office:value-type="date" office:date-value="2026-03-02"><text:p>02.03.26</text:p></table:table-cell>`, "2026-03-02", "46083"},
		"time":              {`<table:table-cell office:value-type="time" office:time-value="PT06H30M00S"><text:p>6:30</text:p></table:table-cell>`, "06:30", "0.270833333333333"},
		"formula":           {`<table:table-cell table:formula="of:=[.A1]*2" office:value-type="float" office:value="24"><text:p>24</text:p></table:table-cell>`, "24", "24"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			book := read(t, "Plant.ods", odsOf(odsRow(c.cell)).zip(t))
			require.Equal(t, sheet.FormatODS, book.Format)
			require.Len(t, book.Sheets[0].Rows, 1)
			got := book.Sheets[0].Rows[0].Cells[0]
			assert.Equal(t, c.text, got.Text)
			assert.Equal(t, c.raw, got.Raw)
			assert.Equal(t, c.raw != "", got.Number)
		})
	}
}

func TestOpenDocumentTable(t *testing.T) {
	t.Parallel()
	rows := `<table:table-column table:number-columns-repeated="2"/><table:table-column table:visibility="collapse"/>` +
		odsRow(odsText("a"), `<table:table-cell table:number-columns-repeated="2"/>`, odsText("d"), `<table:table-cell table:number-columns-repeated="16380"/>`) +
		`<table:table-row table:number-rows-repeated="3"><table:table-cell/></table:table-row>` +
		`<table:table-row-group><table:table-row table:number-rows-repeated="2" table:visibility="filter">` + `<table:table-cell table:number-columns-repeated="2" office:value-type="string"><text:p>x</text:p></table:table-cell></table:table-row></table:table-row-group>` +
		odsRow(`<table:table-cell table:number-columns-spanned="2" office:value-type="string"><text:p>m</text:p></table:table-cell><table:covered-table-cell/>`,
			`<table:table-cell table:formula="of:=1/0" calcext:value-type="error" office:value-type="string"><text:p>#DIV/0!</text:p></table:table-cell>`, `<table:table-cell table:formula="of:=B9"/>`) +
		`<table:table-row table:number-rows-repeated="1048568"><table:table-cell table:number-columns-repeated="16384"/></table:table-row>`
	book := read(t, "Plant.ods", odsOf(rows).zip(t))
	s := book.Sheets[0]
	assert.Equal(t, []string{"1: a|||d", "5: x|x", "6: x|x", "7: m||#DIV/0!|"}, grid(s))
	assert.True(t, s.Rows[3].Cells[2].Error)
	assert.True(t, s.Rows[3].Cells[3].NoValue)
	assert.Equal(t, []sheet.Range{{Top: 7, Bottom: 7, Left: 0, Right: 1}}, s.Merged)
	assert.Equal(t, 2, s.HiddenRows)
	assert.Equal(t, []int{2}, s.HiddenWithin())
	assert.True(t, s.Filtered)
}

func TestOpenDocumentSheetsThatAreHidden(t *testing.T) {
	t.Parallel()
	a := odsOf(odsRow(odsText("a"))).replace(t, "content.xml", "</office:spreadsheet>", `<table:table table:name="Old" table:style-name="ta2">`+odsRow(odsText("b"))+`</table:table></office:spreadsheet>`)
	book := read(t, "Plant.ods", a.zip(t))
	require.Len(t, book.Sheets, 2)
	assert.Equal(t, sheet.Hidden, book.Sheets[1].State)
}

func TestRefusedOpenDocuments(t *testing.T) {
	t.Parallel()
	good := odsOf(odsRow(odsText("a")))
	filled := `<table:table-row table:number-rows-repeated="1048577">` + odsText("a") + `</table:table-row>`
	for name, c := range map[string]struct {
		code    string
		archive archive
	}{
		"encrypted":             {sheet.CodeEncrypted, good.with("META-INF/manifest.xml", `<m:manifest xmlns:m="x"><m:encryption-data/></m:manifest>`)},
		"doctype":               {sheet.CodeDoctype, good.replace(t, "content.xml", "<office:document-content", "<!DOCTYPE x><office:document-content")},
		"cut":                   {sheet.CodeBadXML, good.replace(t, "content.xml", "</table:table>", "")},
		"no tables":             {sheet.CodeNoSheets, good.with("content.xml", odsRoot+`<office:body><office:spreadsheet/></office:body></office:document-content>`)},
		"doubled name":          {sheet.CodeDoubledSheet, good.replace(t, "content.xml", "</office:spreadsheet>", `<table:table table:name="PARTS"/></office:spreadsheet>`)},
		"table in a cell":       {sheet.CodeBadCell, odsOf(odsRow(`<table:table-cell><table:table table:name="x"/></table:table-cell>`))},
		"row in a strange spot": {sheet.CodeBadXML, odsOf(`<table:shapes><table:table-row/></table:shapes>`)},
		"repeated no times":     {sheet.CodeBadPlace, odsOf(`<table:table-row table:number-rows-repeated="0"/>`)},
		"cells beyond the last": {sheet.CodeColumns, odsOf(odsRow(`<table:table-cell table:number-columns-repeated="16384"/>`, odsText("a")))},
		"rows without end":      {sheet.CodeCells, odsOf(`<table:table-row table:number-rows-repeated="1048576"><table:table-cell table:number-columns-repeated="100" office:value-type="string"><text:p>a</text:p></table:table-cell></table:table-row>`)},
		"rows beyond the last":  {sheet.CodeRows, odsOf(filled + filled)},
		"bad number":            {sheet.CodeBadCell, odsOf(odsRow(odsNumber("float", "x", "x")))},
		"bad truth":             {sheet.CodeBadCell, odsOf(odsRow(`<table:table-cell office:value-type="boolean" office:boolean-value="2"/>`))},
		"bad time":              {sheet.CodeBadCell, odsOf(odsRow(`<table:table-cell office:value-type="time" office:time-value="noon"/>`))},
		"unknown type":          {sheet.CodeBadCell, odsOf(odsRow(`<table:table-cell office:value-type="odd"/>`))},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			refused(t, c.code, "Plant.ods", c.archive.zip(t))
		})
	}
}

// An OpenDocument workbook cut anywhere is refused.
func TestCutOpenDocument(t *testing.T) {
	t.Parallel()
	good := odsOf(odsRow(odsText("a"), odsNumber("float", "2", "2")))
	whole := good[1].content
	for n := 0; n < len(whole); n += 3 {
		_, err := sheet.Read(t.Context(), "Plant.ods", good.with("content.xml", whole[:n]).zip(t), sheet.DefaultLimits())
		require.Error(t, err, "cut after %d of %d bytes", n, len(whole))
	}
}

func TestEncodings(t *testing.T) {
	t.Parallel()
	for encoding, text := range map[string]string{
		"windows-1252": "Beh\xe4lter \x80", "macintosh": "Beh\x8alter \xdb", "ibm850": "Beh\x84lter", "iso-8859-15": "Beh\xe4lter \xa4", "windows-1250": "Beh\xe4lter \x80",
	} {
		data := []byte("Part;Text\n1;" + text + "\n")
		r := refused(t, sheet.CodeNotUTF8, "Parts.csv", data)
		assert.Contains(t, r.Detail, encoding)
		book, err := sheet.ReadAs(t.Context(), "Parts.csv", data, sheet.Form{Encoding: encoding}, sheet.DefaultLimits())
		require.NoError(t, err, encoding)
		assert.Contains(t, book.Sheets[0].Rows[1].Cells[1].Text, "Behälter")
		assert.Equal(t, byte(';'), book.Sheets[0].Delimiter)
	}
	assert.Len(t, sheet.Encodings(), 5)
	assert.Empty(t, sheet.Previews([]byte("Behälter")))
	// What is UTF-8 stays so, whatever somebody said.
	book, err := sheet.ReadAs(t.Context(), "Parts.csv", []byte("Behälter,b\n"), sheet.Form{Encoding: "windows-1252"}, sheet.DefaultLimits())
	require.NoError(t, err)
	assert.Equal(t, "Behälter", book.Sheets[0].Rows[0].Cells[0].Text)
	// An encoding that has no meaning for a byte is none.
	_, err = sheet.ReadAs(t.Context(), "Parts.csv", []byte("a,\x81\n"), sheet.Form{Encoding: "windows-1252"}, sheet.DefaultLimits())
	require.Error(t, err)
	_, err = sheet.ReadAs(t.Context(), "Parts.csv", []byte("a|b,c|\xe4\n"), sheet.Form{Encoding: "windows-1252", Delimiter: '|'}, sheet.DefaultLimits())
	require.NoError(t, err)
}
