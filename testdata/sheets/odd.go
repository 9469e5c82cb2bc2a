package sheets

import (
	"encoding/binary"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf16"
)

// File is a file as somebody hands it in.
type File struct {
	Name string
	// What is odd or broken about it.
	What string
	// Code is that of its refusal or, of a file that is read, of what is said
	// about it; empty where nothing need be said.
	Code string
	Data []byte
}

// Table is the flat table that every odd file holds, as its people mean it.
func Table() [][]string {
	return [][]string{
		{"Part", "Cell", "Station", "Pieces per hour", "Container", "Length (mm)", "Width (mm)", "Height (mm)", "Standard pack", "Piece mass (kg)"},
		{"00123", "LENS", "10", "12.5", "BOX", "400", "300", "220", "20", "0.25"},
		{"4711-A", "LENS", "20", "8", "BOX", "400", "300", "220", "15", "1.5"},
		{"Größe 7", "MAST", "10", "30", "TRAY", "600", "400", "150", "100", "0.1"},
	}
}

// columns of Table that hold numbers, the others codes.
func isNumber(row, column int) bool {
	return row > 0 && column != 0 && column != 1 && column != 2 && column != 4
}

// Odd returns honest files with the habits of spreadsheet programs, exports of
// other systems and open data. Each holds Table and must be read as it.
func Odd() []File {
	return slices.Concat(oddWorkbooks(), oddTexts(), oddOpenDocuments())
}

// style gives a cell its text as an element of a workbook's sheet.
type style func(row, column int, text string) string

// place is the reference of a cell, both counted from 0.
func place(row, column int) string { return string(rune('A'+column)) + strconv.Itoa(row+1) }

func plain(row, column int, text string) string {
	if isNumber(row, column) {
		return fmt.Sprintf(`<c r=%q><v>%s</v></c>`, place(row, column), text)
	}
	return fmt.Sprintf(`<c r=%q t="inlineStr"><is><t>%s</t></is></c>`, place(row, column), escape(text))
}

// rowsOf writes the rows of a table from row first, counted from 0.
func rowsOf(table [][]string, first int, cell style) string {
	var b strings.Builder
	for i, row := range table {
		fmt.Fprintf(&b, `<row r="%d">`, first+i+1)
		for j, text := range row {
			b.WriteString(strings.Replace(cell(i, j, text), `r="`+place(i, j)+`"`, `r="`+place(first+i, j)+`"`, 1))
		}
		b.WriteString("</row>")
	}
	return b.String()
}

// shared is the table as references into a table of texts, item by item.
func shared(item func(text string) string) Archive {
	var items strings.Builder
	n := 0
	rows := rowsOf(Table(), 0, func(row, column int, text string) string {
		if isNumber(row, column) {
			return plain(row, column, text)
		}
		items.WriteString(item(escape(text)))
		n++
		return fmt.Sprintf(`<c r=%q t="s"><v> %d </v></c>`, place(row, column), n-1)
	})
	return Workbook(rows).With(StringsPart, Declaration+`<sst xmlns="`+MainSpace+`" count="9999" uniqueCount="3">`+items.String()+`</sst>`)
}

// without styles and texts: what libraries write that hold all in the sheet.
func bare(rows string) Archive {
	return Workbook(rows).Without(StylesPart).Without(StringsPart).With(MainRels, Relations("rId1 worksheet worksheets/sheet1.xml"))
}

// behind puts something behind the cells of the sheet.
func behind(a Archive, text string) Archive {
	return a.Replace(SheetPart, "</sheetData>", "</sheetData>"+text)
}

// sheetBeside adds a sheet of its own kind to a workbook.
func sheetBeside(a Archive, name, state, kind, part, content string) Archive {
	n := strings.Count(a.Part(MainRels), "<Relationship ") + 1
	line := strings.TrimPrefix(Relations(fmt.Sprintf("rId%d %s %s", n, kind, part)), Declaration+`<Relationships xmlns="`+PackageRels+`">`)
	return a.Replace(MainPart, "</sheets>", fmt.Sprintf(`<sheet name=%q sheetId="%d" state=%q r:id="rId%d"/></sheets>`, name, n, state, n)).
		Replace(MainRels, "</Relationships>", line).With("xl/"+part, content)
}

// everywhere replaces texts in all parts of an archive.
func everywhere(a Archive, oldNew ...string) Archive {
	r := strings.NewReplacer(oldNew...)
	var out Archive
	for _, e := range a {
		out = append(out, Entry{e.Name, r.Replace(e.Content)})
	}
	return out
}

func oddWorkbooks() []File {
	var list []File
	add := func(what string, a Archive) {
		list = append(list, File{Name: fmt.Sprintf("odd-%02d.xlsx", len(list)+1), What: what, Data: a.Zip()})
	}
	good := Workbook(rowsOf(Table(), 0, plain))

	// How the texts and numbers of cells are written.
	add("inline texts, no table of texts, no styles", bare(rowsOf(Table(), 0, plain)))
	add("texts as results of formulas that are not there", bare(rowsOf(Table(), 0, func(row, column int, text string) string {
		return fmt.Sprintf(`<c r=%q t="str"><v>%s</v></c>`, place(row, column), escape(text))
	})))
	add("inline rich text in runs", bare(rowsOf(Table(), 0, func(row, column int, text string) string {
		runes := []rune(text)
		return fmt.Sprintf(`<c r=%q t="inlineStr"><is><r><t>%s</t></r><r><rPr><b/><sz val="9"/></rPr><t xml:space="preserve">%s</t></r></is></c>`, place(row, column), escape(string(runes[:1])), escape(string(runes[1:])))
	})))
	add("shared texts with wrong counts", shared(func(text string) string { return "<si><t>" + text + "</t></si>" }))
	add("shared texts in runs, with reading aids", shared(func(text string) string {
		return `<si><r><rPr><rFont val="A"/></rPr><t>` + text + `</t></r><rPh sb="0" eb="1"><t>yomi</t></rPh><phoneticPr fontId="1"/></si>`
	}))
	add("shared texts with spaces that do not count", shared(func(text string) string { return "<si>\n  <t>" + text + "</t>\n</si>" }))
	add("numbers with exponents and the noise of binary fractions", Workbook(rowsOf(Table(), 0, func(row, column int, text string) string {
		noise := map[string]string{"12.5": "1.25E1", "0.25": "2.5E-1", "0.1": "0.10000000000000001", "400": "4E+2", "1.5": "1.5000000000000000"}
		if isNumber(row, column) && noise[text] != "" {
			text = noise[text]
		}
		return plain(row, column, text)
	})))
	add("numbers as texts", bare(rowsOf(Table(), 0, func(row, column int, text string) string {
		return fmt.Sprintf(`<c r=%q t="inlineStr"><is><t>%s</t></is></c>`, place(row, column), escape(text))
	})))
	add("a code as a number that its format pads, another with a prefix", Workbook(rowsOf(Table(), 0, func(row, column int, text string) string {
		if text == "00123" {
			return fmt.Sprintf(`<c r=%q s="1"><v>123</v></c>`, place(row, column))
		}
		return plain(row, column, text)
	})))
	add("text format and apostrophes", Workbook(rowsOf(Table(), 0, func(row, column int, text string) string {
		return strings.Replace(plain(row, column, text), "<c ", `<c s="14" `, 1)
	})))
	add("a formula shared by a column", Workbook(rowsOf(Table(), 0, func(row, column int, text string) string {
		if column == 8 && row > 0 {
			f := `<f t="shared" si="0"/>`
			if row == 1 {
				f = `<f t="shared" ref="I2:I4" si="0">D2*2</f>`
			}
			return fmt.Sprintf(`<c r=%q>%s<v>%s</v></c>`, place(row, column), f, text)
		}
		return plain(row, column, text)
	})))
	add("formulas of many cells, their texts as results", Workbook(rowsOf(Table(), 0, func(row, column int, text string) string {
		if column == 1 && row > 0 {
			return fmt.Sprintf(`<c r=%q t="str"><f t="array" ref="B2:B4" aca="1" ca="1">IF({1;1;0},"LENS","MAST")</f><v>%s</v></c>`, place(row, column), text)
		}
		return plain(row, column, text)
	})).With("xl/calcChain.xml", Declaration+`<calcChain xmlns="`+MainSpace+`"><c r="B2" i="1"/></calcChain>`))

	add("texts that are not there, kinds stated, blanks around numbers", bare(rowsOf(Table(), 0, func(row, column int, text string) string {
		return strings.NewReplacer(`"><v>`, "\" t=\"n\"><v>\n ", "</v>", " </v>").Replace(plain(row, column, text))
	})+`<row r="5"><c r="A5" t="s"/><c r="B5" t="inlineStr"/><c r="C5" t="str"><v></v></c><c r="D5"><v/></c></row>`))
	add("a formula without its result in a column of its own", good.Replace(SheetPart, "</c></row><row r=\"2\">", `</c><c r="K1" t="inlineStr"><is><t>Value</t></is></c></row><row r="2">`).
		Replace(SheetPart, `</row><row r="3">`, `<c r="K2"><f>D2*J2</f></c></row><row r="3">`))

	// Where cells stand.
	add("rows and cells without places", bare(strings.NewReplacer(placeless()...).Replace(rowsOf(Table(), 0, plain))))
	add("cells without places in rows with them", bare(strings.NewReplacer(placeless()[8:]...).Replace(rowsOf(Table(), 0, plain))))
	add("a dimension that is wrong", good.Replace(SheetPart, `<dimension ref="A1"/>`, `<dimension ref="C7:D8"/>`))
	add("a dimension of the whole sheet, no merges", good.Replace(SheetPart, `<dimension ref="A1"/>`, `<dimension ref="A1:XFD1048576"/>`).Replace(SheetPart, `<mergeCells count="1"><mergeCell ref="A1:B1"/></mergeCells>`, ""))
	add("formatted empty cells and rows to the end of the sheet", good.Replace(SheetPart, "</sheetData>", `<row r="900" s="3" customFormat="1"><c r="A900" s="2"/><c r="XFD900" s="2"/></row><row r="1048576"><c r="B1048576" s="1"><v/></c></row></sheetData>`))
	add("heights, spans and outlines of rows", everywhere(good, "<row ", `<row spans="1:10" ht="15.75" customHeight="1" thickBot="1" outlineLevel="1" collapsed="0" x14ac:dyDescent="0.25" xmlns:x14ac="http://schemas.microsoft.com/office/spreadsheetml/2009/9/ac" `))
	add("a title, a blank row and merged cells above the headings", Workbook(`<row r="1"><c r="A1" t="inlineStr"><is><t>Supply of hall 3, as of May</t></is></c></row><row r="2"/>`+rowsOf(Table(), 3, plain)))
	add("the table begins in column C below row 20", Workbook(shift(rowsOf(Table(), 20, plain))))
	add("places in small letters", bare(lowerPlaces(rowsOf(Table(), 0, plain))))
	add("hidden rows and columns that count", everywhere(good.Replace(SheetPart, "<sheetData>", `<cols><col min="6" max="8" width="0" hidden="1" customWidth="1"/></cols><sheetData>`), `<row r="3">`, `<row r="3" hidden="1">`))
	add("a key beside the table behind a blank column", good.Replace(SheetPart, "</c></row><row r=\"2\">", `</c><c r="M1" t="inlineStr"><is><t>Key</t></is></c></row><row r="2">`).
		Replace(SheetPart, `</row><row r="3">`, `<c r="M2" t="inlineStr"><is><t>LENS is hall 3</t></is></c></row><row r="3">`))
	add("a row of totals below", Workbook(rowsOf(append(Table(), []string{"Total", "", "", "50.5"}), 0, func(row, column int, text string) string {
		if text == "50.5" {
			return `<c r="D5"><f>SUM(D2:D4)</f><v>50.5</v></c>`
		}
		return plain(row, column, text)
	})))
	add("blank rows between the rows", Workbook(strings.NewReplacer(`r="4"`, `r="9"`, `4"`, `9"`).Replace(rowsOf(Table(), 0, plain))))
	add("line breaks and outer spaces in the headings", Workbook(rowsOf(Table(), 0, func(row, column int, text string) string {
		if row == 0 {
			text = " " + strings.Replace(text, " per ", " per_x000D_\n", 1) + " "
			return strings.Replace(plain(row, column, text), "<t>", `<t xml:space="preserve">`, 1)
		}
		return plain(row, column, text)
	})))
	add("no-break spaces in the headings", Workbook(rowsOf(Table(), 0, func(row, column int, text string) string {
		if row == 0 {
			text = strings.ReplaceAll(text, " ", "\u00a0")
		}
		return plain(row, column, text)
	})))

	// How the parts are written and named.
	add("the strict variant", everywhere(good, MainSpace, StrictSpace, RelSpace, "http://purl.oclc.org/ooxml/officeDocument/relationships"))
	add("every element with a prefix", good.With(SheetPart, prefixed(good.Part(SheetPart))))
	add("indented, with comments", everywhere(good, "><", ">\n    <!-- made by an export -->\n    <"))
	add("byte order marks", everywhere(good, Declaration, "\ufeff"+Declaration))
	add("declarations without an encoding, single quotes", everywhere(good, Declaration, `<?xml version='1.0'?>`, `"n"`, `'n'`))
	add("backslashes in the names of parts", slashed(good))
	add("places of parts from the root, odd names", good.Without(SheetPart).With("xl/Tabellen/Blatt Nr 1.xml", good.Part(SheetPart)).
		With(MainRels, strings.ReplaceAll(Relations("rId1 worksheet /xl/Tabellen/Blatt@Nr@1.xml", "rId2 styles /xl/styles.xml", "rId3 sharedStrings ./sharedStrings.xml"), "@", "%20")))
	add("the main part at a place of its own", everywhere(good, "xl/workbook.xml", "book/main.xml").Without(MainPart).Without(MainRels).
		With("book/main.xml", good.Part(MainPart)).With("book/_rels/main.xml.rels", Relations("rId1 worksheet ../xl/worksheets/sheet1.xml", "rId2 styles ../xl/styles.xml", "rId3 sharedStrings /xl/sharedStrings.xml")))
	list = append(list, File{"odd-trailing.xlsx", "a line end behind the archive", "", append(good.Zip(), '\r', '\n')})
	add("extensions of later versions", behind(good.Replace(SheetPart, "<worksheet ", `<worksheet xmlns:mc="http://schemas.openxmlformats.org/markup-compatibility/2006" mc:Ignorable="x14ac xr" xmlns:xr="http://schemas.microsoft.com/office/spreadsheetml/2014/revision" xr:uid="{00000000-0001-0000-0000-000000000000}" `),
		`<conditionalFormatting sqref="A1:D4"><cfRule type="dataBar" priority="1"><dataBar><cfvo type="min"/><cfvo type="max"/><color rgb="FF00FF00"/></dataBar></cfRule></conditionalFormatting><dataValidations count="1"><dataValidation type="list" sqref="B2"><formula1>"LENS,MAST"</formula1></dataValidation></dataValidations><extLst><ext uri="{0}" xmlns:x14="http://schemas.microsoft.com/office/spreadsheetml/2009/9/main"><x14:conditionalFormattings><x14:conditionalFormatting xmlns:xm="http://schemas.microsoft.com/office/excel/2006/main"><xm:sqref>A1</xm:sqref></x14:conditionalFormatting></x14:conditionalFormattings></ext></extLst>`))
	add("pivot cache, outside links, comments, drawings, names", good.
		Replace(MainPart, "</sheets>", `</sheets><externalReferences><externalReference r:id="rId8"/></externalReferences><definedNames><definedName name="_xlnm.Print_Area" localSheetId="0">Parts!$A$1:$J$4</definedName><definedName name="gone">#REF!</definedName></definedNames><calcPr calcId="1" fullCalcOnLoad="1"/><pivotCaches><pivotCache cacheId="1" r:id="rId9"/></pivotCaches>`).
		Replace(MainRels, "</Relationships>", strings.TrimPrefix(Relations("rId8 externalLink externalLinks/externalLink1.xml", "rId9 pivotCacheDefinition pivotCache/pivotCacheDefinition1.xml"), Declaration+`<Relationships xmlns="`+PackageRels+`">`)).
		With("xl/externalLinks/externalLink1.xml", Declaration+`<externalLink xmlns="`+MainSpace+`"><externalBook><sheetNames><sheetName val="Old"/></sheetNames><sheetDataSet><sheetData sheetId="0"><row r="1"><cell r="A1"><v>1</v></cell></row></sheetData></sheetDataSet></externalBook></externalLink>`).
		With("xl/pivotCache/pivotCacheDefinition1.xml", Declaration+`<pivotCacheDefinition xmlns="`+MainSpace+`"/>`).With("xl/pivotCache/pivotCacheRecords1.xml", Declaration+`<pivotCacheRecords xmlns="`+MainSpace+`"><r><n v="1"/></r></pivotCacheRecords>`).
		With("xl/comments1.xml", Declaration+`<comments xmlns="`+MainSpace+`"><commentList><comment ref="A1"><text><t>see list</t></text></comment></commentList></comments>`).
		With("xl/drawings/drawing1.xml", Declaration+`<wsDr xmlns="http://schemas.openxmlformats.org/drawingml/2006/spreadsheetDrawing"/>`).
		With("xl/printerSettings/printerSettings1.bin", "\x00\x01\x02").With("docProps/thumbnail.wmf", "\xd7\xcd\xc6\x9a"))
	add("a filter and a table with stripes", behind(good, `<autoFilter ref="A1:J4"/><tableParts count="1"><tablePart r:id="rId1"/></tableParts>`).
		With("xl/tables/table1.xml", Declaration+`<table xmlns="`+MainSpace+`" id="1" name="T" ref="A1:J4"><tableColumns count="1"><tableColumn id="1" name="Part"/></tableColumns></table>`))

	// Sheets beside it.
	add("two empty sheets beside it", sheetBeside(sheetBeside(good, "Sheet2", "visible", "worksheet", "worksheets/sheet2.xml", SheetXML("")), "Sheet3", "visible", "worksheet", "worksheets/sheet3.xml", `<worksheet xmlns="`+MainSpace+`"/>`))
	add("a hidden sheet with a list of choices", sheetBeside(good, "Lists &amp; choices", "veryHidden", "worksheet", "worksheets/sheet2.xml", SheetXML(`<row r="1"><c r="A1" t="inlineStr"><is><t>yes</t></is></c></row>`)))
	list = append(list, File{"odd-macros.xlsm", "macros", "sheet.macros-ignored", good.Replace(TypesPart, SheetType, "application/vnd.ms-excel.sheet.macroEnabled.main+xml").With("xl/vbaProject.bin", "\xd0\xcf").Zip()})
	list = append(list, File{"odd-chart.xlsx", "a chart sheet beside it", "sheet.no-table", sheetBeside(good, "Diagramm1", "visible", "chartsheet", "chartsheets/sheet1.xml", `<chartsheet xmlns="`+MainSpace+`"/>`).Zip()})
	add("the 1904 date system and a column of dates", good.Replace(MainPart, "<workbookPr/>", `<workbookPr date1904="true"/>`).
		Replace(SheetPart, "</c></row><row r=\"2\">", `</c><c r="K1" t="inlineStr"><is><t>Stand</t></is></c></row><row r="2">`).Replace(SheetPart, `</row><row r="3">`, `<c r="K2" s="3"><v>44000</v></c></row><row r="3">`))
	add("unknown columns with errors, dates and yes or no", good.Replace(SheetPart, "</c></row><row r=\"2\">", `</c><c r="K1" t="inlineStr"><is><t>Checked</t></is></c><c r="M1" t="inlineStr"><is><t>Ratio</t></is></c></row><row r="2">`).
		Replace(SheetPart, `</row><row r="3">`, `<c r="K2" t="b"><v>1</v></c><c r="M2" t="e"><f>1/0</f><v>#DIV/0!</v></c></row><row r="3">`).Replace(SheetPart, `</row><row r="4">`, `<c r="K3" t="d"><v>2026-03-05T07:00:00</v></c></row><row r="4">`))
	list = append(list, File{"odd-stored.xlsx", "nothing packed, folders listed", "", folders(good).Stored(noChange)})
	return list
}

// placeless takes the places of rows (the first eight texts) and cells away.
func placeless() (oldNew []string) {
	for row := range 4 {
		oldNew = append(oldNew, fmt.Sprintf(`<row r="%d">`, row+1), "<row>")
	}
	for row := range 4 {
		for column := range 10 {
			oldNew = append(oldNew, ` r="`+place(row, column)+`"`, "")
		}
	}
	return oldNew
}

// shift moves cells two columns to the right.
func shift(rows string) string {
	var oldNew []string
	for c := 'A'; c <= 'J'; c++ {
		oldNew = append(oldNew, `<c r="`+string(c), `<c r="`+string(c+2))
	}
	return strings.NewReplacer(oldNew...).Replace(rows)
}

// lowerPlaces writes the places of cells in small letters.
func lowerPlaces(rows string) string {
	var oldNew []string
	for c := 'A'; c <= 'J'; c++ {
		oldNew = append(oldNew, `r="`+string(c), `r="`+string(c+'a'-'A'))
	}
	return strings.NewReplacer(oldNew...).Replace(rows)
}

// numbered writes a table behind the numbers of its rows.
func numbered(table [][]string) string {
	var b strings.Builder
	for i, row := range table {
		if i > 0 {
			b.WriteString(strconv.Itoa(i - 1))
		}
		b.WriteString("," + strings.Join(row, ",") + "\n")
	}
	return b.String()
}

// prefixed writes the elements of a sheet with the prefix x.
func prefixed(xml string) string {
	s := strings.NewReplacer("</", "</x:", "<?", "<?", "<", "<x:").Replace(xml)
	return strings.Replace(s, "xmlns=", "xmlns:x=", 1)
}

func slashed(a Archive) (out Archive) {
	for _, e := range a {
		out = append(out, Entry{strings.ReplaceAll(e.Name, "/", `\`), e.Content})
	}
	return out
}

// folders lists the folders of an archive too.
func folders(a Archive) Archive {
	return append(Files("_rels/", "", "xl/", "", "xl/worksheets/", ""), a...)
}

func oddTexts() []File {
	var list []File
	add := func(ending, what, code, text string) {
		list = append(list, File{Name: fmt.Sprintf("odd-%02d.%s", len(list)+1, ending), What: what, Code: code, Data: []byte(text)})
	}
	table := Table()
	comma := delimited(table, ",", "\n", bareField)
	add("csv", "commas", "", comma)
	add("csv", "carriage returns alone", "", delimited(table, ",", "\r", bareField))
	add("csv", "a line that states the delimiter, a byte order mark", "", "\ufeffsep=;\r\n"+delimited(table, ";", "\r\n", bareField))
	add("csv", "semicolons and decimal commas", "", delimited(decimalCommas(), ";", "\r\n", bareField))
	add("csv", "every field in quotes", "", delimited(table, ";", "\n", quotedField))
	add("csv", "line breaks inside quoted headings", "", strings.Replace(delimited(table, ";", "\r\n", quotedField), "Pieces per hour", "Pieces\r\nper hour", 1))
	add("csv", "upright bars", "", delimited(table, "|", "\n", bareField))
	add("txt", "tabs and quotes", "", delimited(table, "\t", "\r\n", quotedField))
	add("tsv", "tabs", "", delimited(table, "\t", "\n", bareField))
	add("txt", "Unicode text of 16 bits, small end first", "", wide(delimited(table, "\t", "\r\n", bareField), binary.LittleEndian))
	add("txt", "Unicode text of 16 bits, great end first", "", wide(delimited(table, "\t", "\r\n", bareField), binary.BigEndian))
	add("csv", "a delimiter at the end of each line", "", delimited(table, ";", ";;\r\n", bareField))
	add("csv", "blank lines and lines of delimiters", "", strings.ReplaceAll(comma, "\n", "\n,,,,,,,,,\n\n"))
	add("csv", "no line end at the end", "", strings.TrimSuffix(comma, "\n"))
	add("csv", "the mark for the end of a file of another age", "", comma+"\x1a")
	add("csv", "titles above", "", "Export of materials;;;\nrun by;IHANSEN;on;2026-03-02\n\n"+delimited(table, ";", "\n", bareField))
	add("csv", "a note below", "", comma+"\n* weights as of last year\n")
	add("csv", "the headings again after some rows", "", strings.Replace(comma, "4711-A", strings.SplitN(comma, "\n", 2)[0]+"\n4711-A", 1))
	add("csv", "spaces around every field", "codes.outer-space", delimited(table, ";", "\n", func(s string) string { return " " + s + " " }))
	add("csv", "decimal commas in quotes between commas", "", delimited(decimalCommas(), ",", "\n", quotedField))
	add("csv", "carriage returns alone behind a stated delimiter", "", "SEP=;\r"+delimited(table, ";", "\r", bareField))
	add("csv", "numbered rows under no heading", "columns.no-heading", numbered(table))
	add("csv", "remarks above that begin with #", "", "# query 17\n# rows: 3\n"+comma)
	add("csv", "a byte order mark before quotes", "", "\ufeff"+delimited(table, ",", "\r\n", quotedField))
	add("csv", "blank lines above", "", "\n\n;;;\n"+delimited(table, ";", "\n", bareField))
	add("csv", "columns of a database without values", "", strings.NewReplacer("Piece mass (kg)\n", "Piece mass (kg),Unit cost,Scrap (%)\n", "0.25\n", "0.25,NULL,NULL\n", "1.5\n", "1.5,NULL,NULL\n", "0.1\n", "0.1,NULL,NULL\n").Replace(comma))
	add("csv", "the headings of another language", "", strings.NewReplacer("Part,", "Teile-Nr.,", "Cell", "Linie", "Station", "Arbeitsplatz", "Pieces per hour", "Stk/h", "Container", "Ladungsträger", "Length", "Länge", "Width", "Breite", "Height", "Höhe", "Standard pack", "Stk/KLT", "Piece mass", "Stückgewicht").Replace(comma))
	list = append(list, File{"odd-export.zip", "an archive with a folder and the files of another system", "", Files("export/", "", "export/Data.csv", comma, "__MACOSX/export/._Data.csv", "\x00\x05", "export/.DS_Store", "\x00").Zip()})
	list = append(list, File{"odd-readme.zip", "an archive with a letter", "sheet.not-read", Files("Data.csv", comma, "readme.docx", "x").Zip()})
	return list
}

func bareField(s string) string { return s }

func quotedField(s string) string { return `"` + s + `"` }

// delimited writes a table as text.
func delimited(table [][]string, delimiter, end string, field func(string) string) string {
	var b strings.Builder
	for _, row := range table {
		for i, text := range row {
			if i > 0 {
				b.WriteString(delimiter)
			}
			b.WriteString(field(text))
		}
		b.WriteString(end)
	}
	return b.String()
}

// decimalCommas returns Table as much of Europe writes it.
func decimalCommas() [][]string {
	table := Table()
	for i, row := range table {
		for j := range row {
			if isNumber(i, j) {
				row[j] = strings.ReplaceAll(row[j], ".", ",")
			}
		}
	}
	return table
}

// wide writes text in units of 16 bits behind a byte order mark.
func wide(text string, order binary.AppendByteOrder) string {
	var b []byte
	for _, u := range utf16.Encode([]rune("\ufeff" + text)) {
		b = order.AppendUint16(b, u)
	}
	return string(b)
}

// odsRows writes rows of an OpenDocument table.
func odsRows(table [][]string, cell style) string {
	var b strings.Builder
	for i, row := range table {
		b.WriteString(`<table:table-row>`)
		for j, text := range row {
			b.WriteString(cell(i, j, text))
		}
		b.WriteString(`</table:table-row>`)
	}
	return b.String()
}

func odsPlain(row, column int, text string) string {
	if isNumber(row, column) {
		return ODSNumber("float", text, text)
	}
	return ODSText(escape(text))
}

func oddOpenDocuments() []File {
	var list []File
	add := func(what string, a Archive) {
		list = append(list, File{Name: fmt.Sprintf("odd-%02d.ods", len(list)+1), What: what, Data: a.Zip()})
	}
	rows := odsRows(Table(), odsPlain)
	good := OpenDocument(rows)
	const filler = `<table:table-cell table:number-columns-repeated="16374"/>`
	add("as programs write it: the rest of the sheet as repeated cells and rows", OpenDocument(`<table:table-column table:number-columns-repeated="16384"/>`+
		strings.ReplaceAll(rows, `</table:table-row>`, filler+`</table:table-row>`)+`<table:table-row table:number-rows-repeated="1048572"><table:table-cell table:number-columns-repeated="16384"/></table:table-row>`))
	add("more repeated empty rows than a sheet has", OpenDocument(rows+`<table:table-row table:number-rows-repeated="1048576"><table:table-cell table:number-columns-repeated="16384"/></table:table-row>`))
	add("headings, groups of rows and of columns", OpenDocument(`<table:table-column-group><table:table-column/></table:table-column-group><table:table-header-rows>`+
		odsRows(Table()[:1], odsPlain)+`</table:table-header-rows><table:table-row-group><table:table-rows>`+strings.TrimPrefix(rows, odsRows(Table()[:1], odsPlain))+`</table:table-rows></table:table-row-group>`))
	add("numbers shown as people of another language write them", OpenDocument(odsRows(Table(), func(row, column int, text string) string {
		if isNumber(row, column) {
			return ODSNumber("float", text, strings.ReplaceAll(text, ".", ","))
		}
		return odsPlain(row, column, text)
	})))
	add("spans, fields, notes and spaces that count", OpenDocument(odsRows(Table(), func(row, column int, text string) string {
		if isNumber(row, column) {
			return odsPlain(row, column, text)
		}
		return ODSText(`<text:span text:style-name="T1">` + strings.ReplaceAll(escape(text), " ", `</text:span><text:s/><text:span>`) + `</text:span><text:note><text:note-body><text:p>note</text:p></text:note-body></text:note>`)
	})))
	add("comments and shapes in cells", OpenDocument(strings.ReplaceAll(rows, `<text:p>`, `<office:annotation><text:p>who?</text:p></office:annotation><text:p>`)))
	add("formulas", OpenDocument(strings.ReplaceAll(rows, `<table:table-cell office:value-type="float"`, `<table:table-cell table:formula="of:=[.D2]*1" office:value-type="float"`)))
	add("a code as a number that its format pads", OpenDocument(strings.ReplaceAll(rows, ODSText("00123"), ODSNumber("float", "123", "00123"))))
	add("a title over merged cells", OpenDocument(`<table:table-row><table:table-cell table:number-columns-spanned="10" office:value-type="string"><text:p>Supply of hall 3</text:p></table:table-cell><table:covered-table-cell table:number-columns-repeated="9"/></table:table-row><table:table-row><table:table-cell/></table:table-row>`+rows))
	add("rows that a filter hides, a range of data, names, checks", good.Replace("content.xml", "</table:table>", `</table:table><table:named-expressions><table:named-range table:name="n"/></table:named-expressions><table:database-ranges><table:database-range table:target-range-address="Parts.A1:Parts.J4"/></table:database-ranges>`).
		Replace("content.xml", "<office:spreadsheet>", `<office:spreadsheet><table:calculation-settings><table:null-date table:date-value="1899-12-30"/></table:calculation-settings><table:content-validations><table:content-validation table:name="v"/></table:content-validations>`).
		Replace("content.xml", "</table:table-row><table:table-row>", `</table:table-row><table:table-row table:visibility="filter">`))
	add("changes that were tracked", good.Replace("content.xml", "<office:spreadsheet>", `<office:spreadsheet><table:tracked-changes><table:cell-content-change table:id="ct1"><table:previous><table:change-track-table-cell office:value-type="float" office:value="3"/></table:previous></table:cell-content-change></table:tracked-changes>`))
	add("an empty sheet and a hidden one", good.Replace("content.xml", "</table:table>", `</table:table><table:table table:name="Sheet2"><table:table-row table:number-rows-repeated="1048576"><table:table-cell table:number-columns-repeated="16384"/></table:table-row></table:table><table:table table:name="H" table:style-name="ta2"><table:table-row><table:table-cell office:value-type="string"><text:p>x</text:p></table:table-cell></table:table-row></table:table>`))
	add("numbers with exponents", OpenDocument(strings.NewReplacer(`office:value="400"`, `office:value="4E2"`, `office:value="12.5"`, `office:value="1.25E1"`).Replace(rows)))
	add("no manifest, the kind of file last", append(good.Without("mimetype").Without("META-INF/manifest.xml"), good[0]))
	add("pictures, settings and a thumbnail beside it", good.With("settings.xml", Declaration+`<settings/>`).With("Thumbnails/thumbnail.png", "\x89PNG").With("Configurations2/", "").With("Pictures/1.png", "\x89PNG"))
	add("cells that are equal, written once", OpenDocument(odsRows([][]string{Table()[0]}, odsPlain)+odsRows([][]string{append(slices.Clone(Table()[1]), "ok", "ok")}, func(_, column int, text string) string {
		switch column {
		case 10:
			return strings.Replace(ODSText(text), "<table:table-cell", `<table:table-cell table:number-columns-repeated="2"`, 1)
		case 11:
			return ""
		}
		return odsPlain(1, column, text)
	})+odsRows(Table()[2:], func(row, column int, text string) string { return odsPlain(row+2, column, text) })))
	return list
}
