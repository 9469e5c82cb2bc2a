// Package value turns one cell of a sheet into one typed value: numbers with
// either decimal mark, fractions, percentages, lengths, masses, times, speeds,
// money, truth values, times of day, dates and weekdays.
//
// Nothing is guessed. A text that can be read in two ways, such as "1,234"
// with no decimal mark known, is a Problem that says so; a number a
// spreadsheet holds as a number never is one.
package value

import (
	"fmt"

	"lanewright/importers/sheet"
)

// Problem says why a cell could not be read. It is the one error of this
// package.
type Problem struct {
	// Expected is what should stand in the cell, Remedy how to repair it.
	Expected, Remedy string
	// Found is what stands there, as the sheet shows it.
	Found string
}

// Error returns the problem in one line.
func (p Problem) Error() string {
	return fmt.Sprintf("%q: expected %s; %s", p.Found, p.Expected, p.Remedy)
}

// problem returns the Problem of a cell. Errors, formulas without a result
// and blanks have a remedy of their own.
func problem(c sheet.Cell, expected, remedy string) Problem {
	switch {
	case c.Error:
		expected += ", not an error value"
		remedy = "Repair the formula in the sheet, or type the value itself."
	case c.NoValue:
		expected += "; the formula was saved without its result"
		remedy = "Open the file in a spreadsheet program, let it calculate and save it again."
	case Blank(c):
		expected += "; no value is given"
		remedy = "Fill in the cell."
	}
	return Problem{Expected: expected, Remedy: remedy, Found: c.Text}
}

// unusable reports whether the cell holds nothing that could be read.
func unusable(c sheet.Cell) bool { return c.Error || c.NoValue || Blank(c) }
