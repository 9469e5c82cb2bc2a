package sheet

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"lanewright/planner/finding"
)

// Codes about archives and folders of CSV files.
const (
	CodeNoSheets     = "sheet.no-sheets"
	CodeDoubledSheet = "sheet.doubled-sheet"
	CodeNotRead      = "sheet.not-read"
	CodeTooMany      = "sheet.too-many"
)

// textFile is one CSV file of a folder or archive.
type textFile struct {
	file string // what Sheet.File shall be
	base string
	data []byte
}

// IsTable reports whether a file name is one of a delimited table, which is
// read as a sheet when the file lies in a folder or archive.
func IsTable(name string) bool {
	return slices.Contains([]string{".csv", ".tsv", ".tab", ".txt"}, strings.ToLower(filepath.Ext(name)))
}

// isHousekeeping reports whether a file is one that programs leave behind.
func isHousekeeping(path string) bool {
	for _, part := range strings.Split(path, "/") {
		if strings.HasPrefix(part, ".") || part == "__MACOSX" {
			return true
		}
	}
	low := strings.ToLower(baseName(path))
	return low == "thumbs.db" || low == "desktop.ini" || strings.HasPrefix(low, "~$")
}

// readFolder reads every CSV file of a folder, not of the folders in it.
func readFolder(ctx context.Context, path string, limits Limits) (*Book, error) {
	entries, err := os.ReadDir(path)
	if err != nil {
		return nil, fmt.Errorf("read folder %s: %w", baseName(path), err)
	}
	if whole, err := filepath.Abs(path); err == nil {
		path = whole
	}
	book := &Book{File: baseName(path), Format: FormatFolder}
	if len(entries) > limits.Entries {
		return nil, tooMany(finding.Origin{File: book.File}, "files", len(entries), limits.Entries)
	}
	var files []textFile
	left := limits.FileBytes
	for _, e := range entries {
		name := e.Name()
		switch {
		case isHousekeeping(name):
			continue
		case e.IsDir() || !IsTable(name):
			book.Notes = append(book.Notes, notRead(finding.Origin{File: readable(name)}))
			continue
		}
		data, err := load(filepath.Join(path, name), limits.FileBytes)
		if err != nil {
			return nil, err
		}
		if left -= int64(len(data)); left < 0 {
			return nil, tooBig(book.File, limits.FileBytes)
		}
		files = append(files, textFile{file: readable(name), base: readable(name), data: data})
	}
	return book.addFiles(ctx, files, limits)
}

// addFiles reads the files into b, one sheet each, by name.
func (b *Book) addFiles(ctx context.Context, files []textFile, limits Limits) (*Book, error) {
	if len(files) == 0 {
		return nil, noTables(b)
	}
	if len(files) > limits.Sheets {
		return nil, tooMany(finding.Origin{File: b.File}, "sheets", len(files), limits.Sheets)
	}
	slices.SortFunc(files, func(x, y textFile) int { return strings.Compare(x.base, y.base) })
	names := newNameSet(finding.Origin{File: b.File})
	budget := &budget{cells: limits.Cells}
	for _, f := range files {
		name := withoutExtension(f.base)
		if refused := names.add(name); refused != nil {
			return nil, refused
		}
		if _, refused := sniff(f.base, f.data); refused != nil && refused.Code != CodeEmptyFile {
			refused.Origin = finding.Origin{File: f.file, Sheet: name}
			return nil, refused
		}
		s, notes, err := readText(ctx, f.file, f.base, f.data, limits, budget)
		if err != nil {
			return nil, err
		}
		b.Sheets, b.Notes = append(b.Sheets, s), append(b.Notes, notes...)
	}
	return b, nil
}

// nameSet refuses a second sheet of one name, in whatever case.
type nameSet struct {
	seen map[string]bool
	at   finding.Origin
}

func newNameSet(at finding.Origin) *nameSet { return &nameSet{seen: map[string]bool{}, at: at} }

func (n *nameSet) add(name string) *Refused {
	key := strings.ToLower(strings.TrimSpace(name))
	if !n.seen[key] {
		n.seen[key] = true
		return nil
	}
	return &Refused{
		Code: CodeDoubledSheet, Origin: finding.Origin{File: n.at.File, Sheet: name},
		Summary: fmt.Sprintf("there are two sheets named %q", name),
		Detail:  "Which of them holds the facts cannot be told, and reading both would count rows twice.",
		Remedy:  "Remove one of them or give it another name.",
	}
}

func noTables(b *Book) *Refused {
	return &Refused{
		Code: CodeNoSheets, Origin: finding.Origin{File: b.File},
		Summary: "there is no CSV file in this " + b.Format,
		Detail:  "A folder or zip archive is read as one workbook whose sheets are its CSV files (.csv, .tsv, .tab, .txt).",
		Remedy:  "Put one CSV file per sheet into it, named after the sheet (Parts.csv), or hand in the .xlsx file itself.",
	}
}

func tooMany(at finding.Origin, what string, have, limit int) *Refused {
	return &Refused{
		Code: CodeTooMany, Origin: at,
		Summary: fmt.Sprintf("there are %d %s, more than the %d that are read", have, what, limit),
		Detail:  "The limit protects the machine against files made to exhaust it; no plant's workbook comes near it.",
		Remedy:  "Remove what does not belong to the plan, or split the file.",
	}
}

// notRead is the note about a file that is no table.
func notRead(at finding.Origin) finding.Finding {
	return finding.Finding{
		Severity: finding.Warning, Code: CodeNotRead, Origin: at,
		Summary: fmt.Sprintf("%s was not read", at.File),
		Detail:  "Only CSV files (.csv, .tsv, .tab, .txt) directly in a folder or anywhere in a zip archive are read as sheets.",
		Remedy:  "If it holds facts of the plant, save it as a CSV file named after its sheet.",
	}
}

// budget is what all sheets of a book may use together.
type budget struct{ cells int }

// take uses n cells and reports whether they were left.
func (b *budget) take(n int) bool {
	b.cells -= n
	return b.cells >= 0
}
