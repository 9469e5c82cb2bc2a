package sheet

import (
	"context"
	"errors"
)

// Inspection is what a file holds before any meaning is read.
type Inspection struct {
	File     string
	Format   string
	Date1904 bool
	// Refused is nil when the file was read whole.
	Refused *Refused
	Sheets  []SheetInspection
}

// SheetInspection counts one sheet.
type SheetInspection struct { //nolint:revive // an Inspection is of a book, this of a sheet
	Name, State string
	// Rows and Cells count the non-empty ones, Merges the merged ranges.
	Rows, Cells, Merges int
	// HiddenRows and HiddenColumns count what is hidden and not empty,
	// Formulas the cells with a formula, NoValue those of them whose result
	// was not saved, Errors the cells with an error value.
	HiddenRows, HiddenColumns int
	Formulas, NoValue, Errors int
	// Filtered says that a filter is set.
	Filtered bool
	// Delimiter parts the fields of a CSV file; empty in workbooks.
	Delimiter string
}

// Inspect reads the file, folder or archive at path and counts what it holds.
// A refusal is part of the answer; the error is a failing world.
func Inspect(ctx context.Context, path string, limits Limits) (Inspection, error) {
	book, err := Open(ctx, path, limits)
	return inspection(baseName(path), book, err)
}

// InspectBytes is Inspect for what an upload or standard input brought.
func InspectBytes(ctx context.Context, name string, data []byte, limits Limits) (Inspection, error) {
	book, err := Read(ctx, name, data, limits)
	return inspection(baseName(name), book, err)
}

func inspection(file string, book *Book, err error) (Inspection, error) {
	in := Inspection{File: file}
	if errors.As(err, &in.Refused) {
		return in, nil
	}
	if err != nil {
		return in, err
	}
	in.Format, in.Date1904 = book.Format, book.Date1904
	for i := range book.Sheets {
		in.Sheets = append(in.Sheets, book.Sheets[i].inspect())
	}
	return in, nil
}

func (s *Sheet) inspect() SheetInspection {
	in := SheetInspection{
		Name: s.Name, State: s.State, Rows: len(s.Rows), Merges: s.Merges, HiddenRows: s.HiddenRows,
		HiddenColumns: len(s.HiddenWithin()), Formulas: s.Formulas, Filtered: s.Filtered,
	}
	if s.Delimiter != 0 {
		in.Delimiter = string(s.Delimiter)
	}
	var cells []Cell
	for i := range s.Rows {
		cells = s.Rows[i].AppendCells(cells[:0])
		for _, c := range cells {
			switch {
			case c.IsEmpty():
				continue
			case c.NoValue:
				in.NoValue++
				in.Formulas++
			case c.Error:
				in.Errors++
			}
			in.Cells++
		}
	}
	return in
}

// HiddenWithin lists the hidden columns that reach no further than the widest
// row.
func (s *Sheet) HiddenWithin() []int {
	width := 0
	if len(s.HiddenColumns) == 0 {
		return nil
	}
	for i := range s.Rows {
		width = max(width, s.Rows[i].Width())
	}
	hidden := make([]bool, width)
	for _, span := range s.HiddenColumns {
		for c := span.From; c <= min(span.To, width-1) && !hidden[c]; c++ {
			hidden[c] = true
		}
	}
	var list []int
	for c, is := range hidden {
		if is {
			list = append(list, c)
		}
	}
	return list
}
