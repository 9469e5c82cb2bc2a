package main

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"lanewright/importers/sheet"
)

func TestOddities(t *testing.T) {
	t.Parallel()
	assert.Empty(t, oddities(sheet.SheetInspection{Rows: 3}))
	assert.Equal(t, "1 hidden row, 2 hidden columns, a filter, 3 formulas, 1 of them without a saved result, 1 error value",
		oddities(sheet.SheetInspection{HiddenRows: 1, HiddenColumns: 2, Filtered: true, Formulas: 3, NoValue: 1, Errors: 1}))
}
