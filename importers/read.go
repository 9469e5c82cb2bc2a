// Package importers turns the sheets of a plant into a plant.Plant: it finds
// the tables and their headings, reads every row into typed facts and joins
// the codes. Nothing is dropped in silence: each row of each sheet is used,
// reported with a finding, or skipped with a reason, and the ledger of its
// sheet says how many of each.
package importers

import (
	"context"
	"errors"
	"path/filepath"
	"strings"

	_ "time/tzdata" // time zones must be known wherever the program runs

	"lanewright/importers/mapping"
	"lanewright/importers/sheet"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
)

// Result is what was read.
type Result struct {
	// Plant holds every fact that could be used. It is fit for planning only
	// when Findings has no errors.
	Plant plant.Plant
	// Findings are those of reading, of joining and of plant.Check, sorted.
	Findings finding.List
	// Sheets accounts for the rows of each sheet, in the order of the files.
	Sheets []Ledger
	// Mapping says how every table was understood, with the questions that
	// are open. It is nil when every file was refused.
	Mapping *mapping.Mapping
	// Used is the mapping that was given or known and used, nil when none was.
	Used *mapping.Mapping
	// Preview shows the first twenty rows of each table as understood.
	Preview []Preview
}

// Ledger accounts for the rows of one sheet: Rows = Used + Reported + Skipped.
type Ledger struct {
	File, Sheet string
	// Kind is the canonical name of the sheet it was read as, "Parts"; "Flat
	// table" for a flat one; empty for a sheet that was not read.
	Kind string
	// Rows counts the rows with a value in any cell.
	Rows int
	// Used rows are in the plant; Reported ones are not, and a finding says
	// why; Skipped ones are titles, headings, totals, rows with nothing in a
	// known column, and all rows of a sheet that was not read.
	Used, Reported, Skipped int
}

// ReadFiles reads one or more workbooks, CSV files, archives or folders as
// one plant. A file that is refused is an error finding of the result; the
// error is for a failing world, such as a file that can not be opened.
func ReadFiles(ctx context.Context, paths ...string) (*Result, error) {
	return ReadFilesWith(ctx, Options{}, paths...)
}

// ReadBytes reads an upload or standard input as one plant. The name's
// extension helps to tell the format, and findings show it.
func ReadBytes(ctx context.Context, name string, data []byte) (*Result, error) {
	return ReadBytesWith(ctx, Options{}, name, data)
}

// reading is one import under way.
type reading struct {
	// name is the plant's when no sheet names it: that of the first file.
	name string
	// files are the names of the files, archives and folders that were read,
	// books counts them.
	files []string
	books int
	plant plant.Plant
	found finding.List
	// said counts the findings by kind, those that are not listed too.
	said map[kindOfFinding]int
	// last is where the last of those stands that are not listed.
	last     map[kindOfFinding]finding.Origin
	tables   []*table
	facts    facts
	settings settingsRows
	// mapping is what somebody said, known what was said of earlier files;
	// applied are the tables of the mapping that were found.
	mapping *mapping.Mapping
	known   []*mapping.Mapping
	applied map[*mapping.Table]bool
	onto    *Base
}

func newReading() *reading {
	return &reading{plant: plant.Plant{Settings: plant.DefaultSettings()}, applied: map[*mapping.Table]bool{}, said: map[kindOfFinding]int{}, last: map[kindOfFinding]finding.Origin{}}
}

// take adds what a file held, or why it was refused.
func (rd *reading) take(path string, book *sheet.Book, err error) error {
	if rd.name == "" {
		base := filepath.Base(path)
		if book != nil {
			base = book.File
		}
		rd.name = strings.TrimSuffix(base, filepath.Ext(base))
	}
	var refused *sheet.Refused
	switch {
	case errors.As(err, &refused):
		rd.say(refused.Finding())
		return nil
	case err != nil:
		return err
	}
	for _, f := range book.Notes {
		rd.say(f)
	}
	rd.books++
	rd.files = append(rd.files, book.File)
	for i := range book.Sheets {
		rd.tables = append(rd.tables, newTable(rd, &book.Sheets[i], rd.books))
	}
	return nil
}

// result reads the tables, joins their codes and checks the plant. Where every
// file was refused there is nothing to say beside that.
func (rd *reading) result() (*Result, error) {
	if rd.books == 0 {
		rd.plant.Name = rd.name
		return &Result{Plant: rd.plant, Findings: rd.sorted()}, nil
	}
	rd.split()
	rd.chooseMapping()
	if err := rd.identify(); err != nil {
		return nil, err
	}
	rd.refuseTooMany()
	rd.findMarks()
	rd.readSettings()
	for _, t := range rd.tables {
		t.describeTitle()
		rd.readTable(t)
		t.describeNumbers()
	}
	rd.join()
	r := &Result{Mapping: rd.propose(), Used: rd.mapping, Preview: rd.preview()}
	for _, t := range rd.tables {
		r.Sheets = append(r.Sheets, t.ledger())
	}
	rd.tables, rd.facts = nil, facts{} // the rows are not needed any more
	for _, f := range plant.Check(&rd.plant) {
		rd.say(f)
	}
	r.Plant, r.Findings = rd.plant, rd.sorted()
	return r, nil
}
