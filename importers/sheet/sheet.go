// Package sheet turns workbooks and CSV files into rows of text cells that
// know where they stood. It is the only package that knows file formats.
//
// A file goes through a gate before a single cell is believed: the archive is
// opened here, its names, its entry count and the bytes it inflates to are
// checked, every part is inflated to its end and compared with its checksum,
// and the XML is walked strictly to its last byte. The walk that checks is the
// walk that reads, so there is no second reader that could lose a row in
// silence: a file is either read whole or refused in words.
package sheet

import (
	"lanewright/planner/finding"
)

// Cell is one cell as text.
type Cell struct {
	// Text is what the sheet shows where it matters: a text cell byte for
	// byte, a number as its format pads it ("00123"), a percentage with its
	// sign ("99.5%"), a date or time as ISO text, a truth value as TRUE or
	// FALSE, an error by its name. Digits a format would round away are kept.
	Text string
	// Raw is, for numbers, the shortest decimal of the stored value to the
	// fifteen digits a spreadsheet keeps (702.43, not 702.4299999999999); for
	// dates the serial number. It is empty for everything else.
	Raw string
	// Number says that the cell holds a number, dates included.
	Number bool
	// Date says that the number has a date or time format; Text is then
	// 2006-01-02, 15:04, 15:04:05 or 2006-01-02T15:04:05.
	Date bool
	// Error says that the cell holds an error value such as #REF!.
	Error bool
	// NoValue says that the cell holds a formula whose result was not saved.
	NoValue bool
}

// IsEmpty reports whether nothing at all stands in the cell.
func (c Cell) IsEmpty() bool { return c.Text == "" && !c.Error && !c.NoValue }

// States of a sheet. Hidden sheets are read like any other.
const (
	Visible    = "visible"
	Hidden     = "hidden"
	VeryHidden = "veryHidden"
)

// Sheet is one table of a book.
type Sheet struct {
	// File is the base name of the workbook or archive, or of the CSV file.
	File string
	// Name is the sheet's name; for a CSV file its name without extension.
	Name string
	// State is Visible, Hidden or VeryHidden.
	State string
	// Rows are the rows with a non-empty cell, by ascending number.
	Rows []Row
	// Merges counts the ranges of merged cells, Merged has them, up to 10,000.
	Merges int
	Merged []Range
	// HiddenRows counts the rows with a non-empty cell that are hidden, by a
	// filter too; they are read like all others.
	HiddenRows int
	// HiddenColumns are the columns that are hidden, as ranges that may reach
	// beyond the last cell. Those are read too.
	HiddenColumns []Span
	// Filtered says that a filter is set.
	Filtered bool
	// Formulas counts the cells that hold the saved result of a formula.
	Formulas int
	// Date1904 says that day 0 of serial dates is 1904-01-01.
	Date1904 bool
	// Delimiter is what parts the fields of a CSV file, 0 in workbooks.
	Delimiter byte
}

// Range is a rectangle of cells: rows from 1, columns from 0, all inclusive.
type Range struct {
	Top, Bottom int
	Left, Right int
}

// Span is a run of columns, from 0, inclusive.
type Span struct{ From, To int }

// keepMerge takes note of merged cells.
func (s *Sheet) keepMerge(r Range) {
	s.Merges++
	if len(s.Merged) < mostRanges {
		s.Merged = append(s.Merged, r)
	}
}

// mostRanges bounds the merged ranges and hidden columns that are kept.
const mostRanges = 10_000

// hide takes note of hidden columns.
func (s *Sheet) hide(from, to int) {
	if len(s.HiddenColumns) < mostRanges {
		s.HiddenColumns = append(s.HiddenColumns, Span{from, to})
	}
}

// Origin returns the place of a cell: row counts from 1, column from 0; a
// negative column means the whole row.
func (s *Sheet) Origin(row, column int) finding.Origin {
	o := finding.Origin{File: s.File, Sheet: s.Name, Row: row}
	if column >= 0 {
		o.Column = Letters(column)
	}
	return o
}

// Formats of a book.
const (
	FormatXLSX   = "xlsx"
	FormatODS    = "ods"
	FormatCSV    = "csv"
	FormatZip    = "zip"
	FormatFolder = "folder"
)

// Book is all that one file, archive or folder holds.
type Book struct {
	// File is the base name of the file or folder.
	File string
	// Format is FormatXLSX, FormatODS, FormatCSV, FormatZip or FormatFolder.
	Format string
	// Date1904 says that the workbook counts its dates from 1904.
	Date1904 bool
	// Sheets are in the order of the file; in archives and folders by name.
	Sheets []Sheet
	// Notes say what was in the file and is no part of its tables: macros, a
	// chart sheet, a file of another kind.
	Notes finding.List
}

// Letters returns the letters of a column: 0 is "A", 25 "Z", 26 "AA". A
// negative column has none.
func Letters(column int) string {
	var buf [16]byte
	i := len(buf)
	for n := column + 1; n > 0; n = (n - 1) / 26 {
		i--
		buf[i] = byte('A' + (n-1)%26)
	}
	return string(buf[i:])
}
