package sheets

import "strings"

// ODSRoot opens the content of an OpenDocument workbook.
const ODSRoot = `<office:document-content xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0"` +
	` xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0"` +
	` xmlns:style="urn:oasis:names:tc:opendocument:xmlns:style:1.0" xmlns:calcext="urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0">`

// OpenDocument makes an OpenDocument workbook whose one sheet has these rows.
func OpenDocument(rows string) Archive {
	return Archive{
		{"mimetype", "application/vnd.oasis.opendocument.spreadsheet"},
		{"content.xml", Declaration + ODSRoot + `<office:automatic-styles><style:style style:name="ta2" style:family="table"><style:table-properties table:display="false"/></style:style></office:automatic-styles>` +
			`<office:body><office:spreadsheet><table:table table:name="Parts">` + rows + `</table:table></office:spreadsheet></office:body></office:document-content>`},
		{"META-INF/manifest.xml", Declaration + `<manifest/>`},
	}
}

// ODSRow is a row of these cells.
func ODSRow(cells ...string) string {
	return `<table:table-row>` + strings.Join(cells, "") + `</table:table-row>`
}

// ODSText is a cell with a text, in XML.
func ODSText(paragraph string) string {
	return `<table:table-cell office:value-type="string"><text:p>` + paragraph + `</text:p></table:table-cell>`
}

// ODSNumber is a cell with a number of a kind (float, percentage, currency) as
// the sheet shows it.
func ODSNumber(kind, value, shown string) string {
	return `<table:table-cell office:value-type="` + kind + `" office:value="` + value + `"><text:p>` + shown + `</text:p></table:table-cell>`
}
