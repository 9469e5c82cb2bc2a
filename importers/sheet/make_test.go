package sheet_test

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lanewright/importers/sheet"
)

// read reads data that must be accepted.
func read(t testing.TB, name string, data []byte) *sheet.Book {
	t.Helper()
	book, err := sheet.Read(context.Background(), name, data, sheet.DefaultLimits())
	require.NoError(t, err)
	return book
}

// refused reads data that must be refused under this code, in words.
func refused(t testing.TB, code, name string, data []byte) sheet.Refused {
	t.Helper()
	return refusedWithin(t, code, name, data, sheet.DefaultLimits())
}

func refusedWithin(t testing.TB, code, name string, data []byte, limits sheet.Limits) sheet.Refused {
	t.Helper()
	_, err := sheet.Read(context.Background(), name, data, limits)
	var r *sheet.Refused
	require.ErrorAs(t, err, &r)
	require.Equal(t, code, r.Code, r.Error())
	require.NotEmpty(t, r.Summary)
	require.NotEmpty(t, r.Detail)
	require.NotEmpty(t, r.Remedy)
	require.NotEmpty(t, r.Origin.File)
	require.NotContains(t, r.Origin.File, "/")
	return *r
}

// grid returns the texts of a sheet, one string per row: "3: a|b".
func grid(s sheet.Sheet) []string {
	var out []string
	for _, row := range s.Rows {
		var texts []string
		for _, c := range row.Cells() {
			texts = append(texts, c.Text)
		}
		out = append(out, fmt.Sprintf("%d: %s", row.Number, strings.Join(texts, "|")))
	}
	return out
}
