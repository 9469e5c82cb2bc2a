package sheet_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/importers/sheet"
	"lanewright/testdata/sheets"
)

func TestOpenDocumentCells(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct{ cell, text, raw string }{
		"text":              {sheets.ODSText("Lens"), "Lens", ""},
		"text with spaces":  {sheets.ODSText(" a  b<text:s text:c=\"2\"/>c "), "a b  c", ""},
		"trailing space":    {sheets.ODSText("P1<text:s/>"), "P1 ", ""},
		"spans and lines":   {sheets.ODSText(`a<text:span>b</text:span><text:line-break/>c<text:note>n</text:note>`), "ab\nc", ""},
		"annotation":        {`<table:table-cell office:value-type="string"><office:annotation><text:p>no</text:p></office:annotation><text:p>yes</text:p></table:table-cell>`, "yes", ""},
		"two paragraphs":    {`<table:table-cell office:value-type="string"><text:p>a</text:p><text:p>b</text:p></table:table-cell>`, "a\nb", ""},
		"string value":      {`<table:table-cell office:value-type="string" office:string-value="00123"><text:p>x</text:p></table:table-cell>`, "00123", ""},
		"number":            {sheets.ODSNumber("float", "1234.5", "1.234,50"), "1234.5", "1234.5"},
		"padded code":       {sheets.ODSNumber("float", "123", "00123"), "00123", "123"},
		"code with hyphens": {sheets.ODSNumber("float", "12345", "123-45"), "123-45", "12345"},
		"with a unit":       {sheets.ODSNumber("float", "1.5", "1,50 kg"), "1.5 kg", "1.5"},
		"negative":          {sheets.ODSNumber("float", "-5", "(5)"), "-5", "-5"},
		"grouped":           {sheets.ODSNumber("float", "12345", "12.345"), "12345", "12345"},
		"percentage":        {sheets.ODSNumber("percentage", "0.995", "99,5 %"), "99.5%", "0.995"},
		"currency":          {sheets.ODSNumber("currency", "12.5", "12,50 €"), "12.5 €", "12.5"},
		"boolean":           {`<table:table-cell office:value-type="boolean" office:boolean-value="true"><text:p>WAHR</text:p></table:table-cell>`, "TRUE", ""},
		"date":              {`<table:table-cell office:value-type="date" office:date-value="2026-03-02"><text:p>02.03.26</text:p></table:table-cell>`, "2026-03-02", "46083"},
		"time":              {`<table:table-cell office:value-type="time" office:time-value="PT06H30M00S"><text:p>6:30</text:p></table:table-cell>`, "06:30", "0.270833333333333"},
		"formula":           {`<table:table-cell table:formula="of:=[.A1]*2" office:value-type="float" office:value="24"><text:p>24</text:p></table:table-cell>`, "24", "24"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			book := read(t, "Plant.ods", sheets.OpenDocument(sheets.ODSRow(c.cell)).Zip())
			require.Equal(t, sheet.FormatODS, book.Format)
			require.Len(t, book.Sheets[0].Rows, 1)
			got := book.Sheets[0].Rows[0].Cells()[0]
			assert.Equal(t, c.text, got.Text)
			assert.Equal(t, c.raw, got.Raw)
			assert.Equal(t, c.raw != "", got.Number)
		})
	}
}

func TestOpenDocumentTable(t *testing.T) {
	t.Parallel()
	rows := `<table:table-column table:number-columns-repeated="2"/><table:table-column table:visibility="collapse"/>` +
		sheets.ODSRow(sheets.ODSText("a"), `<table:table-cell table:number-columns-repeated="2"/>`, sheets.ODSText("d"), `<table:table-cell table:number-columns-repeated="16380"/>`) +
		`<table:table-row table:number-rows-repeated="3"><table:table-cell/></table:table-row>` +
		`<table:table-row-group><table:table-row table:number-rows-repeated="2" table:visibility="filter">` + `<table:table-cell table:number-columns-repeated="2" office:value-type="string"><text:p>x</text:p></table:table-cell></table:table-row></table:table-row-group>` +
		sheets.ODSRow(`<table:table-cell table:number-columns-spanned="2" office:value-type="string"><text:p>m</text:p></table:table-cell><table:covered-table-cell/>`,
			`<table:table-cell table:formula="of:=1/0" calcext:value-type="error" office:value-type="string"><text:p>#DIV/0!</text:p></table:table-cell>`, `<table:table-cell table:formula="of:=B9"/>`) +
		`<table:table-row table:number-rows-repeated="1048568"><table:table-cell table:number-columns-repeated="16384"/></table:table-row>`
	book := read(t, "Plant.ods", sheets.OpenDocument(rows).Zip())
	s := book.Sheets[0]
	assert.Equal(t, []string{"1: a|||d", "5: x|x", "6: x|x", "7: m||#DIV/0!|"}, grid(s))
	assert.True(t, s.Rows[3].Cells()[2].Error)
	assert.True(t, s.Rows[3].Cells()[3].NoValue)
	assert.Equal(t, []sheet.Range{{Top: 7, Bottom: 7, Left: 0, Right: 1}}, s.Merged)
	assert.Equal(t, 2, s.HiddenRows)
	assert.Equal(t, []int{2}, s.HiddenWithin())
	assert.True(t, s.Filtered)
}

func TestOpenDocumentSheetsThatAreHidden(t *testing.T) {
	t.Parallel()
	a := sheets.OpenDocument(sheets.ODSRow(sheets.ODSText("a"))).Replace("content.xml", "</office:spreadsheet>", `<table:table table:name="Old" table:style-name="ta2">`+sheets.ODSRow(sheets.ODSText("b"))+`</table:table></office:spreadsheet>`)
	book := read(t, "Plant.ods", a.Zip())
	require.Len(t, book.Sheets, 2)
	assert.Equal(t, sheet.Hidden, book.Sheets[1].State)
}

func TestRefusedOpenDocuments(t *testing.T) {
	t.Parallel()
	good := sheets.OpenDocument(sheets.ODSRow(sheets.ODSText("a")))
	filled := `<table:table-row table:number-rows-repeated="1048577">` + sheets.ODSText("a") + `</table:table-row>`
	for name, c := range map[string]struct {
		code    string
		archive sheets.Archive
	}{
		"encrypted":             {sheet.CodeEncrypted, good.With("META-INF/manifest.xml", `<m:manifest xmlns:m="x"><m:encryption-data/></m:manifest>`)},
		"doctype":               {sheet.CodeDoctype, good.Replace("content.xml", "<office:document-content", "<!DOCTYPE x><office:document-content")},
		"cut":                   {sheet.CodeBadXML, good.Replace("content.xml", "</table:table>", "")},
		"no tables":             {sheet.CodeNoSheets, good.With("content.xml", sheets.ODSRoot+`<office:body><office:spreadsheet/></office:body></office:document-content>`)},
		"doubled name":          {sheet.CodeDoubledSheet, good.Replace("content.xml", "</office:spreadsheet>", `<table:table table:name="PARTS"/></office:spreadsheet>`)},
		"table in a cell":       {sheet.CodeBadCell, sheets.OpenDocument(sheets.ODSRow(`<table:table-cell><table:table table:name="x"/></table:table-cell>`))},
		"row in a strange spot": {sheet.CodeBadXML, sheets.OpenDocument(`<table:shapes><table:table-row/></table:shapes>`)},
		"repeated no times":     {sheet.CodeBadPlace, sheets.OpenDocument(`<table:table-row table:number-rows-repeated="0"/>`)},
		"cells beyond the last": {sheet.CodeColumns, sheets.OpenDocument(sheets.ODSRow(`<table:table-cell table:number-columns-repeated="16384"/>`, sheets.ODSText("a")))},
		"rows without end":      {sheet.CodeCells, sheets.OpenDocument(`<table:table-row table:number-rows-repeated="1048576"><table:table-cell table:number-columns-repeated="100" office:value-type="string"><text:p>a</text:p></table:table-cell></table:table-row>`)},
		"rows beyond the last":  {sheet.CodeRows, sheets.OpenDocument(filled + filled)},
		"bad number":            {sheet.CodeBadCell, sheets.OpenDocument(sheets.ODSRow(sheets.ODSNumber("float", "x", "x")))},
		"bad truth":             {sheet.CodeBadCell, sheets.OpenDocument(sheets.ODSRow(`<table:table-cell office:value-type="boolean" office:boolean-value="2"/>`))},
		"bad time":              {sheet.CodeBadCell, sheets.OpenDocument(sheets.ODSRow(`<table:table-cell office:value-type="time" office:time-value="noon"/>`))},
		"unknown type":          {sheet.CodeBadCell, sheets.OpenDocument(sheets.ODSRow(`<table:table-cell office:value-type="odd"/>`))},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			refused(t, c.code, "Plant.ods", c.archive.Zip())
		})
	}
}

// An OpenDocument workbook cut anywhere is refused.
func TestCutOpenDocument(t *testing.T) {
	t.Parallel()
	good := sheets.OpenDocument(sheets.ODSRow(sheets.ODSText("a"), sheets.ODSNumber("float", "2", "2")))
	whole := good[1].Content
	for n := 0; n < len(whole); n += 3 {
		_, err := sheet.Read(t.Context(), "Plant.ods", good.With("content.xml", whole[:n]).Zip(), sheet.DefaultLimits())
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
		assert.Contains(t, book.Sheets[0].Rows[1].Cells()[1].Text, "Behälter")
		assert.Equal(t, byte(';'), book.Sheets[0].Delimiter)
	}
	assert.Len(t, sheet.Encodings(), 5)
	assert.Empty(t, sheet.Previews([]byte("Behälter")))
	// What is UTF-8 stays so, whatever somebody said.
	book, err := sheet.ReadAs(t.Context(), "Parts.csv", []byte("Behälter,b\n"), sheet.Form{Encoding: "windows-1252"}, sheet.DefaultLimits())
	require.NoError(t, err)
	assert.Equal(t, "Behälter", book.Sheets[0].Rows[0].Cells()[0].Text)
	// An encoding that has no meaning for a byte is none.
	_, err = sheet.ReadAs(t.Context(), "Parts.csv", []byte("a,\x81\n"), sheet.Form{Encoding: "windows-1252"}, sheet.DefaultLimits())
	require.Error(t, err)
	_, err = sheet.ReadAs(t.Context(), "Parts.csv", []byte("a|b,c|\xe4\n"), sheet.Form{Encoding: "windows-1252", Delimiter: '|'}, sheet.DefaultLimits())
	require.NoError(t, err)
}
