package sheet_test

import (
	"context"
	"errors"
	"testing"

	"github.com/stretchr/testify/require"

	"lanewright/importers/sheet"
)

// checkSound checks that data is read whole or refused in words, with rows
// and cells in order.
func checkSound(t *testing.T, name string, data []byte) {
	book, err := sheet.Read(context.Background(), name, data, sheet.DefaultLimits())
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
			require.False(t, row.Cells[len(row.Cells)-1].IsEmpty())
			for _, c := range row.Cells {
				require.False(t, c.Number && c.Raw == "")
				require.False(t, c.Date && !c.Number)
			}
		}
	}
}

func FuzzCSV(f *testing.F) {
	for _, s := range []string{"a,b\n1,2\n", "a;b\n\"x\ny\";1,5\n", "sep=|\na|b", "\ufeffa\tb\r\n", "\xff\xfea\x00", "\"open", "a,\"b\"c\n"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) { checkSound(t, "Parts.csv", data) })
}

// FuzzSheetXML changes the XML of one sheet in a sound workbook.
func FuzzSheetXML(f *testing.F) {
	for _, rows := range []string{oneCell, `<row r="2"><c r="B2" s="3"><v>45356</v></c></row>`, `<row><c t="inlineStr"><is><t>x</t></is></c></row>`, `<row><c><f>A1</f></c><c t="e"><v>#N/A</v></c></row>`} {
		f.Add([]byte(sheetXML(rows)))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		checkSound(t, "Plant.xlsx", workbookOf("").with(sheetPart, string(data)).zip(t))
	})
}

// FuzzArchive changes the bytes of a workbook.
func FuzzArchive(f *testing.F) {
	f.Add(workbookOf(oneCell).zip(f))
	f.Add(archive{{"Parts.csv", "a,b\n"}}.zip(f))
	f.Fuzz(func(t *testing.T, data []byte) { checkSound(t, "Plant.xlsx", data) })
}
