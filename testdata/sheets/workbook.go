package sheets

import (
	"fmt"
	"strings"
)

// Namespaces, and what begins every part.
const (
	MainSpace   = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
	StrictSpace = "http://purl.oclc.org/ooxml/spreadsheetml/main"
	RelSpace    = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
	PackageRels = "http://schemas.openxmlformats.org/package/2006/relationships"
	typesSpace  = "http://schemas.openxmlformats.org/package/2006/content-types"
	SheetType   = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"
	Declaration = `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>` + "\n"
)

// Names of the parts of the workbook that Workbook makes.
const (
	TypesPart   = "[Content_Types].xml"
	RootRels    = "_rels/.rels"
	MainPart    = "xl/workbook.xml"
	MainRels    = "xl/_rels/workbook.xml.rels"
	StylesPart  = "xl/styles.xml"
	StringsPart = "xl/sharedStrings.xml"
	SheetPart   = "xl/worksheets/sheet1.xml"
)

// Formats are the custom number formats of Workbook; style i has format i.
var Formats = []string{
	"General", "00000", "0.00", "yyyy-mm-dd", "h:mm", "yyyy-mm-dd hh:mm:ss", "0.0%", `0.0" kg"`, "[h]:mm",
	"000-000", "0.00E+00", "#,##0.00", `"P-"0000`, "# ?/?", "@", `_-* #,##0.00\ _€_-`, `[$-409]mmm\-yy;@`, "#,##0,",
}

// Workbook makes a workbook of one sheet with this sheetData content, five
// texts "t0" to "t4" and the styles of Formats.
func Workbook(rows string) Archive {
	var numFmts, xfs strings.Builder
	for i, f := range Formats {
		fmt.Fprintf(&numFmts, `<numFmt numFmtId="%d" formatCode="%s"/>`, 164+i, escape(f))
		fmt.Fprintf(&xfs, `<xf numFmtId="%d"/>`, 164+i)
	}
	return Archive{
		{TypesPart, Declaration + `<Types xmlns="` + typesSpace + `"><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="` + SheetType + `"/></Types>`},
		{RootRels, Relations(`rId1 officeDocument xl/workbook.xml`)},
		{MainPart, Declaration + `<workbook xmlns="` + MainSpace + `" xmlns:r="` + RelSpace + `"><workbookPr/><sheets><sheet name="Parts" sheetId="1" r:id="rId1"/></sheets></workbook>`},
		{MainRels, Relations("rId1 worksheet worksheets/sheet1.xml", "rId2 styles styles.xml", "rId3 sharedStrings sharedStrings.xml")},
		{StylesPart, Declaration + `<styleSheet xmlns="` + MainSpace + `"><numFmts>` + numFmts.String() + `</numFmts><cellStyleXfs><xf numFmtId="14"/></cellStyleXfs><cellXfs>` + xfs.String() + `</cellXfs></styleSheet>`},
		{StringsPart, Declaration + `<sst xmlns="` + MainSpace + `"><si><t>t0</t></si><si><t xml:space="preserve"> t1 </t></si><si><r><t>t</t></r><r><rPr><b/></rPr><t>2</t></r><rPh sb="0" eb="1"><t>guide</t></rPh></si><si><t>a&amp;b_x000A_c</t></si><si/></sst>`},
		{SheetPart, SheetXML(rows)},
	}
}

// SheetXML is the part of one sheet with these rows.
func SheetXML(rows string) string {
	return Declaration + `<worksheet xmlns="` + MainSpace + `"><dimension ref="A1"/><sheetData>` + rows + `</sheetData><mergeCells count="1"><mergeCell ref="A1:B1"/></mergeCells></worksheet>`
}

func escape(s string) string {
	return strings.NewReplacer("&", "&amp;", `"`, "&quot;", "<", "&lt;").Replace(s)
}

// Relations makes a list of references from "id kind target".
func Relations(lines ...string) string {
	var b strings.Builder
	b.WriteString(Declaration + `<Relationships xmlns="` + PackageRels + `">`)
	for _, line := range lines {
		f := strings.Fields(line)
		fmt.Fprintf(&b, `<Relationship Id="%s" Type="%s/%s" Target="%s"/>`, f[0], RelSpace, f[1], f[2])
	}
	b.WriteString(`</Relationships>`)
	return b.String()
}
