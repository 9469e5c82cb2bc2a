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
	in := SheetInspection{Name: s.Name, State: s.State, Rows: len(s.Rows), Merges: s.Merges}
	for _, row := range s.Rows {
		for _, c := range row.Cells {
			if !c.IsEmpty() {
				in.Cells++
			}
		}
	}
	return in
}
