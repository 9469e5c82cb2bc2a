package sheets

import (
	"archive/zip"
	"fmt"
	"strings"
)

func noChange(*zip.FileHeader) {}

// Broken returns files that are broken or hostile at one place each, or of a
// kind that is not read; for every code of reading there is one at least.
func Broken() []File {
	good := Workbook(rowsOf(Table(), 0, plain))
	rows := func(text string) []byte { return Workbook(text).Zip() }
	part := func(name, old, text string) []byte { return good.Replace(name, old, text).Zip() }
	old := "\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + strings.Repeat("\x00", 600)
	comma := delimited(Table(), ",", "\n", bareField)
	return []File{
		{"large.csv", "more bytes than are read", "sheet.too-big", []byte(strings.Repeat("a,b\n", 9<<20))},
		{"nothing.xlsx", "no bytes", "sheet.empty-file", nil},
		{"old.xls", "the format before 2007", "sheet.old-workbook", []byte(old)},
		{"secret.xlsx", "a password", "sheet.encrypted", []byte(old + utf16Name("EncryptedPackage"))},
		{"binary.xlsb", "a binary workbook", "sheet.binary-workbook", part(TypesPart, SheetType, "application/vnd.ms-excel.sheet.binary.macroEnabled.main")},
		{"picture.xlsx", "a picture", "sheet.not-a-sheet", []byte("\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR")},
		{"page.csv", "a web page", "sheet.not-a-sheet", []byte("<!DOCTYPE html><html><body><table><tr><td>Part</td></tr></table></body></html>")},
		{"letter.xlsx", "a text document", "sheet.other-office-document", part(TypesPart, "spreadsheetml.sheet", "wordprocessingml.document")},
		{"text.xlsx", "plain text under a workbook's name", "sheet.name-misleads", []byte(comma)},
		{"cut.xlsx", "the file cut in its middle", "sheet.damaged-archive", good.Zip()[:2000]},
		{"checksum.xlsx", "a part that does not match its checksum", "sheet.damaged-part", good.Stored(func(h *zip.FileHeader) {
			if h.Name == SheetPart {
				h.CRC32++
			}
		})},
		{"climbing.xlsx", "a name that leads out of the archive", "sheet.bad-name", good.With("../../evil.xml", "x").Zip()},
		{"twice.xlsx", "one file twice", "sheet.doubled-entry", append(good, Entry{SheetPart, "x"}).Zip()},
		{"bomb.xlsx", "a part that inflates without end", "sheet.inflates-too-far", good.With("xl/media/x.bin", strings.Repeat(" ", 32<<20)).Zip()},
		{"many.zip", "thousands of files", "sheet.too-many", manyFiles(1001).Zip()},
		{"no-texts.xlsx", "the table of texts is missing", "sheet.missing-part", good.Without(StringsPart).Zip()},
		{"no-sheet.xlsx", "a sheet is missing", "sheet.missing-part", good.Without(SheetPart).Zip()},
		{"doctype.xlsx", "a declaration of a document type", "sheet.doctype", part(SheetPart, "<worksheet", `<!DOCTYPE x [<!ENTITY a "b">]><worksheet`)},
		{"cut-sheet.xlsx", "a sheet that ends in its middle", "sheet.bad-xml", good.With(SheetPart, good.Part(SheetPart)[:900]).Zip()},
		{"strayed-row.xlsx", "a row where no program looks for one", "sheet.bad-xml", part(SheetPart, "</sheetData>", `</sheetData><extLst><row r="9"><c r="A9"><v>1</v></c></row></extLst>`)},
		{"lost-text.xlsx", "a text number beyond the table", "sheet.missing-text", rows(`<row r="1"><c r="A1" t="s"><v>4711</v></c></row>`)},
		{"same-place.xlsx", "two cells at one place", "sheet.bad-place", rows(`<row r="1"><c r="A1"><v>1</v></c><c r="A1"><v>2</v></c></row>`)},
		{"strange-cell.xlsx", "a cell of an unknown type", "sheet.bad-cell", rows(`<row r="1"><c r="A1" t="z"><v>1</v></c></row>`)},
		{"no-sheets.xlsx", "a list of no sheets", "sheet.no-sheets", part(MainPart, `<sheet name="Parts" sheetId="1" r:id="rId1"/>`, "")},
		{"same-name.xlsx", "two sheets of one name", "sheet.doubled-sheet", sheetBeside(good, "parts", "visible", "worksheet", "worksheets/sheet2.xml", SheetXML("")).Zip()},
		{"rows.csv", "more rows than a sheet has", "sheet.too-many-rows", []byte(strings.Repeat("a\n", 1_048_577))},
		{"columns.csv", "more columns than a sheet has", "sheet.too-many-columns", []byte(strings.Repeat("a,", 16_385) + "\nb\n")},
		{"cells.ods", "a filled cell repeated to the end of the sheet", "sheet.too-many-cells", OpenDocument(`<table:table-row table:number-rows-repeated="1048576"><table:table-cell table:number-columns-repeated="16384" office:value-type="string"><text:p>a</text:p></table:table-cell></table:table-row>`).Zip()},
		{"long.csv", "a cell longer than any program writes", "sheet.long-text", []byte("Part,Text\nA," + strings.Repeat("x", 140_000) + "\n")},
		{"latin1.csv", "an older encoding", "sheet.not-utf-8", []byte("Teil;Bezeichnung\n1;Beh\xe4lter\n")},
		{"half.txt", "16 bits, cut inside a character", "sheet.bad-utf-16", []byte("\xff\xfeP\x00a\x00r\x00\x3d\xd8")},
		{"zero.csv", "a zero byte in the text", "sheet.nul-byte", []byte("Part,Cell\n" + strings.Repeat("A,B\n", 3000) + "A\x00B,C\n")},
		{"open.csv", "a quotation mark that is never closed", "sheet.open-quote", []byte("Part,Text\nA,\"never closed\nB,x\n")},
		{"dot.xlsx", "one file twice, once by a detour", "sheet.doubled-entry", append(good, Entry{"xl/worksheets/./sheet1.xml", "x"}).Zip()},
		{"long-name.xlsx", "a name of thousands of letters", "sheet.bad-name", good.With(strings.Repeat("x", 2000), "x").Zip()},
		{"foreign-row.xlsx", "a row of another namespace among the rows", "sheet.bad-xml", part(SheetPart, "</sheetData>", `<y:row xmlns:y="urn:y" r="9"><y:c r="A9"><y:v>1</y:v></y:c></y:row></sheetData>`)},
		{"long-text.xlsx", "a text longer than a cell may be", "sheet.long-text", good.Replace(StringsPart, "<t>t0</t>", "<t>"+strings.Repeat("ab", 70_000)+"</t>").Zip()},
		{"no-parts.xlsx", "an archive of nothing under a workbook's name", "sheet.no-sheets", Files("readme.md", "x").Zip()},
		{"no-type.ods", "an OpenDocument workbook that does not say so", "sheet.no-sheets", OpenDocument(ODSRow(ODSText("a"))).Without("mimetype").Zip()},
		{"wide.ods", "a filled cell repeated two thousand million times", "sheet.too-many-columns", OpenDocument(`<table:table-row><table:table-cell table:number-columns-repeated="2000000000" office:value-type="string"><text:p>a</text:p></table:table-cell></table:table-row>`).Zip()},
		{"unmarked.csv", "16 bits without a mark", "sheet.nul-byte", []byte(utf16Name(comma))},
		{"control.csv", "a control character in a code", "sheet.not-a-sheet", []byte(strings.Replace(comma, "4711-A", "4711\x01A", 1))},
		{"module.xlsx", "a module of macros that were taken out", "sheet.no-table", good.Replace(MainPart, "</sheets>", `<sheet name="Module" sheetId="9" r:id=""/></sheets>`).Zip()},
		{"stray.csv", "text behind a closing quotation mark", "sheet.stray-quote", []byte("Part,Text\nA,\"3\" tube\"\n")},
		{"letters.zip", "a letter among the sheets", "sheet.not-read", Files("Data.csv", comma, "letter.docx", "x").Zip()},
		{"macros.xlsm", "macros", "sheet.macros-ignored", part(TypesPart, SheetType, "application/vnd.ms-excel.sheet.macroEnabled.main+xml")},
		{"chart.xlsx", "a chart sheet", "sheet.no-table", sheetBeside(good, "Chart", "visible", "chartsheet", "chartsheets/sheet1.xml", "<chartsheet/>").Zip()},
		{"lost-sheet.xlsx", "a sheet that no list names", "sheet.stray-sheet", good.With("xl/worksheets/sheet9.xml", SheetXML("")).Zip()},
	}
}

// utf16Name is a name as a compound file has it.
func utf16Name(name string) string {
	var b strings.Builder
	for _, c := range name {
		fmt.Fprintf(&b, "%c\x00", c)
	}
	return b.String()
}

func manyFiles(n int) (a Archive) {
	for i := range n {
		a = append(a, Entry{fmt.Sprintf("%d.csv", i), "a,b\n"})
	}
	return a
}
