package sheet_test

import (
	"bytes"
	"context"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"lanewright/importers/sheet"
	"lanewright/testdata/sheets"
)

// mutations is how many broken workbooks the campaign makes.
const mutations = 600

// campaignRows are the rows of the workbook that the campaign breaks.
func campaignRows() string {
	var b strings.Builder
	for r := 1; r <= 12; r++ {
		fmt.Fprintf(&b, `<row r="%[1]d"><c r="A%[1]d" t="s"><v>%[2]d</v></c><c r="B%[1]d" s="1"><v>%[1]d</v></c><c r="C%[1]d" t="inlineStr"><is><t>x %[1]d</t></is></c><c r="D%[1]d"><f>B%[1]d*2</f><v>%[3]d</v></c><c r="E%[1]d" t="b"><v>1</v></c></row>`, r, r%3, 2*r)
	}
	return b.String()
}

// breakers change a text in a way of their own.
var breakers = []struct {
	name string
	how  func(r *rand.Rand, text string) string
}{
	{"cut", func(r *rand.Rand, s string) string { return s[:r.IntN(len(s))] }},
	{"byte", func(r *rand.Rand, s string) string {
		b := []byte(s)
		b[r.IntN(len(b))] ^= byte(1 << r.IntN(8))
		return string(b)
	}},
	{"piece lost", func(r *rand.Rand, s string) string {
		from := r.IntN(len(s))
		return s[:from] + s[min(len(s), from+1+r.IntN(60)):]
	}},
	{"piece doubled", func(r *rand.Rand, s string) string {
		from := r.IntN(len(s))
		to := min(len(s), from+1+r.IntN(120))
		return s[:to] + s[from:to] + s[to:]
	}},
	{"tag lost", func(r *rand.Rand, s string) string { return oneTag(r, s, func(string) string { return "" }) }},
	{"tag doubled", func(r *rand.Rand, s string) string { return oneTag(r, s, func(tag string) string { return tag + tag }) }},
	{"number changed", func(r *rand.Rand, s string) string {
		return oneOf(r, s, regexp.MustCompile(`\d+`), func(string) string {
			return []string{"0", "-1", "99999999", "1e9", "", "18446744073709551616"}[r.IntN(6)]
		})
	}},
	{"declaration of a type", func(_ *rand.Rand, s string) string {
		return strings.Replace(s, "?>", `?><!DOCTYPE a [<!ENTITY b "c">]>`, 1)
	}},
	{"entity", func(r *rand.Rand, s string) string {
		return oneTag(r, s, func(tag string) string { return tag + "&b;" })
	}},
	{"control character", func(r *rand.Rand, s string) string { i := r.IntN(len(s)); return s[:i] + "\x02" + s[i:] }},
	{"blown up", func(r *rand.Rand, s string) string {
		return oneTag(r, s, func(tag string) string { return strings.Repeat(tag, 300) })
	}},
	{"attribute doubled", func(r *rand.Rand, s string) string {
		return oneOf(r, s, regexp.MustCompile(` \w+="[^"]*"`), func(a string) string { return a + a })
	}},
}

func oneTag(r *rand.Rand, s string, change func(string) string) string {
	return oneOf(r, s, regexp.MustCompile(`<[^>]*>`), change)
}

// oneOf changes one match of a pattern.
func oneOf(r *rand.Rand, s string, pattern *regexp.Regexp, change func(string) string) string {
	all := pattern.FindAllStringIndex(s, -1)
	if len(all) == 0 {
		return s
	}
	at := all[r.IntN(len(all))]
	return s[:at[0]] + change(s[at[0]:at[1]]) + s[at[1]:]
}

// TestCampaign breaks one part of a workbook in some hundred ways, each packed
// anew with sound checksums. It is read whole, as an independent reading of
// the same XML counts it, or refused in words; nothing takes long.
func TestCampaign(t *testing.T) {
	t.Parallel()
	ods := sheets.OpenDocument(sheets.ODSRow(sheets.ODSText("a"), sheets.ODSNumber("float", "2", "2")) + sheets.ODSRow(sheets.ODSText("b"), sheets.ODSNumber("percentage", "0.5", "50%")))
	for n := range mutations {
		r := rand.New(rand.NewPCG(uint64(n), 41))
		source, name := sheets.Workbook(campaignRows()), "Plant.xlsx"
		if n%4 == 3 {
			source, name = ods, "Plant.ods"
		}
		part := source[r.IntN(len(source))]
		how := breakers[n%len(breakers)]
		broken := source.With(part.Name, how.how(r, part.Content))
		check := fmt.Sprintf("mutation %d: %s in %s", n, how.name, part.Name)
		book := campaignRead(t, check, name, broken.Zip())
		if book != nil && name == "Plant.xlsx" {
			rows, cells := countCells(t, check, broken)
			require.Equal(t, rows, len(book.Sheets[0].Rows), check)
			got := 0
			for _, row := range book.Sheets[0].Rows {
				for _, c := range row.Cells() {
					if !c.IsEmpty() {
						got++
					}
				}
			}
			require.Equal(t, cells, got, check)
		}
	}
}

// campaignRead reads a broken file; nil when it was refused in words.
func campaignRead(t *testing.T, check, name string, data []byte) *sheet.Book {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), 10*time.Second)
	defer cancel()
	book, err := sheet.Read(ctx, name, data, sheet.DefaultLimits())
	if err == nil {
		return book
	}
	var refused *sheet.Refused
	require.True(t, errors.As(err, &refused), "%s: %v", check, err)
	require.NotEmpty(t, refused.Summary, check)
	require.NotEmpty(t, refused.Remedy, check)
	return nil
}

// countCells counts the rows and cells with a value in the sheet of a workbook
// of Workbook, with the standard library's reader of XML.
func countCells(t *testing.T, check string, a sheets.Archive) (rows, cells int) {
	t.Helper()
	var text string
	var shared struct {
		Texts []struct {
			T string   `xml:"t"`
			R []string `xml:"r>t"`
		} `xml:"si"`
	}
	for _, e := range a {
		switch e.Name {
		case sheets.SheetPart:
			text = e.Content
		case sheets.StringsPart:
			require.NoError(t, xml.Unmarshal([]byte(e.Content), &shared), check)
		}
	}
	type cell struct {
		Type    string  `xml:"t,attr"`
		Value   *string `xml:"v"`
		Inline  string  `xml:"is>t"`
		Formula *string `xml:"f"`
	}
	var doc struct {
		Rows []struct {
			Cells []cell `xml:"c"`
		} `xml:"sheetData>row"`
	}
	d := xml.NewDecoder(bytes.NewReader([]byte(text)))
	require.NoError(t, d.Decode(&doc), check)
	_, err := d.Token()
	require.ErrorIs(t, err, io.EOF, check)
	for _, row := range doc.Rows {
		filled := 0
		for _, c := range row.Cells {
			empty := c.Inline == "" && (c.Value == nil || *c.Value == "") && c.Formula == nil
			if c.Type == "s" && c.Value != nil {
				var i int
				_, err := fmt.Sscan(*c.Value, &i)
				require.NoError(t, err, check)
				empty = shared.Texts[i].T == "" && strings.Join(shared.Texts[i].R, "") == ""
			}
			if !empty {
				filled++
			}
		}
		cells += filled
		if filled > 0 {
			rows++
		}
	}
	return rows, cells
}

// TestBrokenTexts breaks CSV files: each is read or refused in words.
func TestBrokenTexts(t *testing.T) {
	t.Parallel()
	source := "Part;Text;Pack\n" + strings.Repeat("00123;\"a \"\"b\"\"\nc\";12,5\n4711;x;7\n", 20)
	for n := range 200 {
		r := rand.New(rand.NewPCG(uint64(n), 43))
		text := source
		for range 1 + r.IntN(4) {
			if text == "" {
				break
			}
			text = breakers[r.IntN(4)].how(r, text)
		}
		campaignRead(t, fmt.Sprintf("text %d", n), "Parts.csv", []byte(text))
	}
}
