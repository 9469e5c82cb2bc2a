package sheet_test

import (
	"archive/zip"
	"bytes"
	"context"
	"errors"
	"io"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"lanewright/importers/sheet"
	"lanewright/testdata/sheets"
)

// checkSound checks that data is read whole or refused in words, with rows
// and cells in order. The limits are such that no try takes long.
func checkSound(t *testing.T, name string, data []byte) {
	limits := sheet.DefaultLimits()
	limits.Cells, limits.InflatedBytes = 50_000, 4<<20
	book, err := sheet.Read(context.Background(), name, data, limits)
	if err != nil {
		var r *sheet.Refused
		require.True(t, errors.As(err, &r), "%v", err)
		require.NotEmpty(t, r.Summary)
		require.NotEmpty(t, r.Remedy)
		require.NotEmpty(t, r.Detail)
		return
	}
	for _, s := range book.Sheets {
		last := 0
		for _, row := range s.Rows {
			require.Greater(t, row.Number, last)
			last = row.Number
			require.NotEmpty(t, row.Cells)
			require.False(t, row.Cells()[row.Width()-1].IsEmpty())
			for _, c := range row.Cells() {
				require.False(t, c.Number && c.Raw == "")
				require.False(t, c.Date && !c.Number)
			}
		}
	}
}

// small returns the odd and broken files that are small enough to be changed
// at every place.
func small() []sheets.File {
	return slices.DeleteFunc(append(sheets.Odd(), sheets.Broken()...), func(f sheets.File) bool { return len(f.Data) > 16<<10 })
}

// parts returns one part of every small file of a kind.
func parts(f *testing.F, ending, part string) (list [][]byte) {
	f.Helper()
	for _, file := range small() {
		z, err := zip.NewReader(bytes.NewReader(file.Data), int64(len(file.Data)))
		if !strings.HasSuffix(file.Name, ending) || err != nil {
			continue
		}
		if r, err := z.Open(part); err == nil {
			data, err := io.ReadAll(r)
			if err == nil {
				list = append(list, data)
			}
		}
	}
	require.NotEmpty(f, list)
	return list
}

func FuzzCSV(f *testing.F) {
	for _, s := range []string{"a,b\n1,2\n", "a;b\n\"x\ny\";1,5\n", "sep=|\na|b", "\ufeffa\tb\r\n", "\xff\xfea\x00", "\"open", "a,\"b\"c\n"} {
		f.Add([]byte(s))
	}
	for _, file := range small() {
		if strings.HasSuffix(file.Name, "csv") || strings.HasSuffix(file.Name, "txt") {
			f.Add(file.Data)
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) { checkSound(t, "Parts.csv", data) })
}

// FuzzSheetXML changes the XML of one sheet in a sound workbook.
func FuzzSheetXML(f *testing.F) {
	for _, rows := range []string{oneCell, `<row r="2"><c r="B2" s="3"><v>45356</v></c></row>`, `<row><c t="inlineStr"><is><t>x</t></is></c></row>`, `<row><c><f>A1</f></c><c t="e"><v>#N/A</v></c></row>`} {
		f.Add([]byte(sheets.SheetXML(rows)))
	}
	for _, part := range parts(f, ".xlsx", sheets.SheetPart) {
		f.Add(part)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		checkSound(t, "Plant.xlsx", sheets.Workbook("").With(sheets.SheetPart, string(data)).Zip())
	})
}

// FuzzArchive changes the bytes of a workbook.
func FuzzArchive(f *testing.F) {
	f.Add(sheets.Workbook(oneCell).Zip())
	f.Add(sheets.Files("Parts.csv", "a,b\n").Zip())
	for _, file := range small() {
		f.Add(file.Data)
	}
	f.Fuzz(func(t *testing.T, data []byte) { checkSound(t, "Plant.xlsx", data) })
}

// FuzzOpenDocument changes the content of an OpenDocument workbook.
func FuzzOpenDocument(f *testing.F) {
	f.Add([]byte(sheets.OpenDocument(sheets.ODSRow(sheets.ODSText("a"), sheets.ODSNumber("float", "1.5", "1,50 kg")))[1].Content))
	f.Add([]byte(sheets.OpenDocument(`<table:table-row table:number-rows-repeated="3"><table:table-cell table:number-columns-repeated="2"/></table:table-row>`)[1].Content))
	for _, part := range parts(f, ".ods", "content.xml") {
		f.Add(part)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		checkSound(t, "Plant.ods", sheets.OpenDocument("").With("content.xml", string(data)).Zip())
	})
}

// FuzzEncoding reads texts in an older encoding: what is read can be read again.
func FuzzEncoding(f *testing.F) {
	f.Add([]byte("Beh\xe4lter;\x80"), uint8(0))
	f.Add([]byte("a,b"), uint8(3))
	f.Fuzz(func(t *testing.T, data []byte, which uint8) {
		names := sheet.Encodings()
		form := sheet.Form{Encoding: names[int(which)%len(names)]}
		book, err := sheet.ReadAs(context.Background(), "Parts.csv", data, form, sheet.DefaultLimits())
		if err != nil {
			return
		}
		for _, row := range book.Sheets[0].Rows {
			for _, c := range row.Cells() {
				require.True(t, utf8.ValidString(c.Text))
			}
		}
	})
}
