package sheet_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/importers/sheet"
	"lanewright/testdata/sheets"
)

func TestCells(t *testing.T) {
	t.Parallel()
	num := func(text, raw string) sheet.Cell { return sheet.Cell{Text: text, Raw: raw, Number: true} }
	date := func(text, raw string) sheet.Cell { return sheet.Cell{Text: text, Raw: raw, Number: true, Date: true} }
	text := func(s string) sheet.Cell { return sheet.Cell{Text: s} }
	for _, c := range []struct {
		name, xml string
		want      sheet.Cell
	}{
		{"shared text", `<c r="A1" t="s"><v>0</v></c>`, text("t0")},
		{"outer spaces stay", `<c r="A1" t="s"><v>1</v></c>`, text(" t1 ")},
		{"rich text without its phonetic guide", `<c r="A1" t="s"><v>2</v></c>`, text("t2")},
		{"entity and escaped character", `<c r="A1" t="s"><v>3</v></c>`, text("a&b\nc")},
		{"inline text", `<c r="A1" t="inlineStr"><is><t>x</t></is></c>`, text("x")},
		{"inline rich text", `<c r="A1" t="inlineStr"><is><r><t>x</t></r><r><t>y</t></r></is></c>`, text("xy")},
		{"text of a formula", `<c r="A1" t="str"><f>A2</f><v>x</v></c>`, text("x")},
		{"CDATA", `<c r="A1" t="str"><v><![CDATA[a<b]]>c</v></c>`, text("a<bc")},
		{"leading zeros of a text", `<c r="A1" t="inlineStr"><is><t>00123</t></is></c>`, text("00123")},
		{"truth", `<c r="A1" t="b"><v>1</v></c>`, text("TRUE")},
		{"untruth", `<c r="A1" t="b"><v>0</v></c>`, text("FALSE")},
		{"error", `<c r="A1" t="e"><v>#REF!</v></c>`, sheet.Cell{Text: "#REF!", Error: true}},
		{"formula without result", `<c r="A1"><f>A2+1</f></c>`, sheet.Cell{NoValue: true}},
		{"formula with an empty result", `<c r="A1"><f>A2+1</f><v></v></c>`, sheet.Cell{NoValue: true}},
		{"formula with result", `<c r="A1"><f>A2+1</f><v>7</v></c>`, num("7", "7")},
		{"integer", `<c r="A1"><v>123</v></c>`, num("123", "123")},
		{"number type stated", `<c r="A1" t="n"><v> 123 </v></c>`, num("123", "123")},
		{"exponent", `<c r="A1"><v>1E5</v></c>`, num("100000", "100000")},
		{"small exponent", `<c r="A1"><v>1.5E-7</v></c>`, num("0.00000015", "0.00000015")},
		{"noise of binary fractions", `<c r="A1"><v>702.42999999999995</v></c>`, num("702.43", "702.43")},
		{"noise of a sum", `<c r="A1"><v>0.30000000000000004</v></c>`, num("0.3", "0.3")},
		{"trailing zeros", `<c r="A1"><v>1.50</v></c>`, num("1.5", "1.5")},
		{"negative zero", `<c r="A1"><v>-0</v></c>`, num("0", "0")},
		{"19 digits", `<c r="A1"><v>1234567890123456789</v></c>`, num("1234567890123456789", "1234567890123456789")},
		{"huge", `<c r="A1"><v>1E+300</v></c>`, num("1E+300", "1E+300")},
		{"not a number", `<c r="A1"><v>NaN</v></c>`, text("NaN")},
		{"out of range", `<c r="A1"><v>1E999</v></c>`, text("1E999")},
		{"zero-padded", `<c r="A1" s="1"><v>123</v></c>`, num("00123", "123")},
		{"more digits than the padding", `<c r="A1" s="1"><v>1234567</v></c>`, num("1234567", "1234567")},
		{"padded decimals", `<c r="A1" s="2"><v>12.5</v></c>`, num("12.50", "12.5")},
		{"digits a format hides stay", `<c r="A1" s="2"><v>12.3456</v></c>`, num("12.3456", "12.3456")},
		{"date", `<c r="A1" s="3"><v>45356</v></c>`, date("2024-03-05", "45356")},
		{"first of March 1900", `<c r="A1" s="3"><v>61</v></c>`, date("1900-03-01", "61")},
		{"first day", `<c r="A1" s="3"><v>1</v></c>`, date("1900-01-01", "1")},
		{"no date before the first", `<c r="A1" s="3"><v>-1</v></c>`, num("-1", "-1")},
		{"no date after the last", `<c r="A1" s="3"><v>2958466</v></c>`, num("2958466", "2958466")},
		{"time", `<c r="A1" s="4"><v>0.29166666666666669</v></c>`, date("07:00", "0.291666666666667")},
		{"time with seconds", `<c r="A1" s="4"><v>0.5000115740740741</v></c>`, date("12:00:01", "0.500011574074074")},
		{"date and time", `<c r="A1" s="5"><v>45356.25</v></c>`, date("2024-03-05T06:00:00", "45356.25")},
		{"time rounds to the next day", `<c r="A1" s="5"><v>45355.999999999</v></c>`, date("2024-03-05T00:00:00", "45355.999999999")},
		{"percentage", `<c r="A1" s="6"><v>0.995</v></c>`, num("99.5%", "0.995")},
		{"percentage finer than its format", `<c r="A1" s="6"><v>0.99999</v></c>`, num("99.999%", "0.99999")},
		{"unit in the format", `<c r="A1" s="7"><v>1.25</v></c>`, num("1.25 kg", "1.25")},
		{"elapsed time", `<c r="A1" s="8"><v>1.25</v></c>`, date("30:00", "1.25")},
		{"digits with a hyphen", `<c r="A1" s="9"><v>12345</v></c>`, num("012-345", "12345")},
		{"digits with a hyphen, too many", `<c r="A1" s="9"><v>1234567</v></c>`, num("1234-567", "1234567")},
		{"exponent shown", `<c r="A1" s="10"><v>100000</v></c>`, num("1.00E+05", "100000")},
		{"exponent that would lose digits", `<c r="A1" s="10"><v>123456</v></c>`, num("123456", "123456")},
		{"grouping is left out", `<c r="A1" s="11"><v>1234.5</v></c>`, num("1234.50", "1234.5")},
		{"prefix", `<c r="A1" s="12"><v>7</v></c>`, num("P-0007", "7")},
		{"negative with prefix", `<c r="A1" s="12"><v>-7</v></c>`, num("-P-0007", "-7")},
		{"fraction format", `<c r="A1" s="13"><v>15.25</v></c>`, num("15.25", "15.25")},
		{"text format", `<c r="A1" s="14"><v>123</v></c>`, num("123", "123")},
		{"accounting", `<c r="A1" s="15"><v>5</v></c>`, num("5.00", "5")},
		{"month format", `<c r="A1" s="16"><v>45356</v></c>`, date("2024-03-05", "45356")},
		{"scaled format", `<c r="A1" s="17"><v>5000</v></c>`, num("5000", "5000")},
		{"empty style", `<c r="A1" s=""><v>5</v></c>`, num("5", "5")},
		{"empty type", `<c r="A1" t=""><v>5</v></c>`, num("5", "5")},
		{"ISO date", `<c r="A1" t="d"><v>2024-03-05T06:00:00</v></c>`, date("2024-03-05T06:00:00", "45356.25")},
		{"ISO day", `<c r="A1" t="d"><v>2024-03-05</v></c>`, date("2024-03-05", "45356")},
		{"ISO in words", `<c r="A1" t="d"><v>yesterday</v></c>`, text("yesterday")},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			book := read(t, "Plant.xlsx", sheets.Workbook(`<row r="1">`+c.xml+`</row>`).Zip())
			require.Len(t, book.Sheets, 1)
			require.Len(t, book.Sheets[0].Rows, 1)
			assert.Equal(t, []sheet.Cell{c.want}, book.Sheets[0].Rows[0].Cells())
		})
	}
}

func TestPlaces(t *testing.T) {
	t.Parallel()
	const x = `<v>1</v>`
	for _, c := range []struct {
		name, rows string
		want       []string
	}{
		{"gaps in rows and columns", `<row r="2"><c r="B2">` + x + `</c><c r="AB2">` + x + `</c></row><row r="9"><c r="A9">` + x + `</c></row>`,
			[]string{"2: |1||||||||||||||||||||||||||1", "9: 1"}},
		{"no places given", `<row><c>` + x + `</c><c>` + x + `</c></row><row/><row><c>` + x + `</c></row>`, []string{"1: 1|1", "3: 1"}},
		{"only some places given", `<row r="3"><c>` + x + `</c><c r="D3">` + x + `</c><c>` + x + `</c></row><row><c>` + x + `</c></row>`, []string{"3: 1|||1|1", "4: 1"}},
		{"trailing empty cells", `<row r="1"><c r="A1">` + x + `</c><c r="B1" s="1"/><c r="C1" t="str"><f>D1</f><v></v></c></row>`, []string{"1: 1"}},
		{"rows without values", `<row r="1"><c r="A1" s="1"/></row><row r="2"/><row r="3" hidden="1"><c r="A3">` + x + `</c></row>`, []string{"3: 1"}},
		{"small letters", `<row r="1"><c r="b1">` + x + `</c></row>`, []string{"1: |1"}},
		{"foreign elements", `<row r="1"><c r="A1">` + x + `<extLst><ext/></extLst></c><x:y xmlns:x="other"><x:row/></x:y></row>`, []string{"1: 1"}},
		{"no rows at all", ``, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			book := read(t, "Plant.xlsx", sheets.Workbook(c.rows).Zip())
			assert.Equal(t, c.want, grid(book.Sheets[0]))
			assert.Equal(t, 1, book.Sheets[0].Merges)
		})
	}
}

func TestDateSystem1904(t *testing.T) {
	t.Parallel()
	a := sheets.Workbook(`<row><c s="3"><v>43894</v></c><c s="4"><v>0.5</v></c><c t="d"><v>2024-03-05</v></c></row>`).
		Replace(sheets.MainPart, "<workbookPr/>", `<workbookPr date1904="1"/>`)
	book := read(t, "Plant.xlsx", a.Zip())
	assert.True(t, book.Date1904)
	assert.True(t, book.Sheets[0].Date1904)
	assert.Equal(t, []string{"1: 2024-03-05|12:00|2024-03-05"}, grid(book.Sheets[0]))
	assert.Equal(t, "43894", book.Sheets[0].Rows[0].Cells()[2].Raw)
}

func TestLetters(t *testing.T) {
	t.Parallel()
	for column, want := range map[int]string{0: "A", 25: "Z", 26: "AA", 51: "AZ", 52: "BA", 701: "ZZ", 702: "AAA", 16383: "XFD", -1: ""} {
		assert.Equal(t, want, sheet.Letters(column))
	}
}
