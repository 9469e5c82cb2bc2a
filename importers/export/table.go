// Package export writes workbooks: the blank plant workbook, the facts of a
// plant in the canonical form of that workbook, and the plant rack report.
package export

import (
	"archive/zip"
	"encoding/csv"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"lanewright/planner/units"
)

// Table is one sheet: a header row and the rows below it.
//
// A cell is nil (blank), a string (always text, whatever it looks like), an
// int, int64, uint64 or float64, a units.Ratio (exact) or a time.Time (a
// date). Any other type is written as fmt.Sprint shows it.
type Table struct {
	Sheet  string
	Header []string
	Rows   [][]any
	// Required marks header cells by position and Help explains them; both may
	// be shorter than Header. They show in an xlsx workbook only.
	Required []bool
	Help     []string
}

// WriteFolder writes one CSV file per table into dir, which is made when it
// does not exist: "Rack types" becomes "Rack types.csv". The files are UTF-8
// with commas (RFC 4180). Text is written as it is: whoever opens a CSV file
// of foreign text in a spreadsheet program should use WriteXLSX, where text
// can not turn into a formula.
func WriteFolder(dir string, tables []Table) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("make folder: %w", err)
	}
	for _, t := range tables {
		if err := writeFile(filepath.Join(dir, t.fileName()), t); err != nil {
			return fmt.Errorf("write sheet %q: %w", t.Sheet, err)
		}
	}
	return nil
}

func writeFile(name string, t Table) error {
	f, err := os.Create(name)
	if err != nil {
		return err
	}
	if err := t.writeCSV(f); err != nil {
		_ = f.Close()
		return err
	}
	return f.Close()
}

// WriteZip writes the files of WriteFolder as one zip archive. The same tables
// give the same bytes.
func WriteZip(w io.Writer, tables []Table) error {
	archive := zip.NewWriter(w)
	for _, t := range tables {
		f, err := archive.CreateHeader(&zip.FileHeader{Name: t.fileName(), Method: zip.Deflate})
		if err == nil {
			err = t.writeCSV(f)
		}
		if err != nil {
			return fmt.Errorf("write sheet %q: %w", t.Sheet, err)
		}
	}
	if err := archive.Close(); err != nil {
		return fmt.Errorf("write archive: %w", err)
	}
	return nil
}

// fileName keeps a sheet's name from naming another folder.
func (t Table) fileName() string {
	return strings.NewReplacer("/", "-", `\`, "-").Replace(t.Sheet) + ".csv"
}

func (t Table) writeCSV(w io.Writer) error {
	out := csv.NewWriter(w)
	if err := out.Write(t.Header); err != nil {
		return err
	}
	record := make([]string, len(t.Header))
	for _, row := range t.Rows {
		for i := range record {
			record[i] = ""
			if i < len(row) {
				record[i] = cellText(row[i])
			}
		}
		if err := out.Write(record); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// cellText is a cell as a CSV file holds it: numbers with a point, no
// thousands and every digit they have, three decimals as four, dates as 2026-01-31.
func cellText(v any) string {
	switch v := v.(type) {
	case nil:
		return ""
	case string:
		return v
	case float64:
		return unmistakable(strconv.FormatFloat(v, 'f', -1, 64))
	case units.Ratio:
		return unmistakable(v.String())
	case time.Time:
		return v.Format(time.DateOnly)
	default:
		return fmt.Sprint(v)
	}
}

// unmistakable adds a zero to a number with three decimals: in a file with no other
// decimals 1.234 could be read as a thousand and more, 1.2340 can not.
func unmistakable(number string) string {
	whole, decimals, _ := strings.Cut(strings.TrimPrefix(number, "-"), ".")
	if len(decimals) == 3 && len(whole) <= 3 && whole[0] != '0' {
		return number + "0"
	}
	return number
}

// number returns a ratio as a spreadsheet cell can hold it without changing
// it: a float64 when its decimal has at most 15 digits, which is what
// spreadsheet programs keep, else its exact text ("1/3").
func number(r units.Ratio) any {
	s := r.String()
	f, err := strconv.ParseFloat(s, 64)
	digits := strings.TrimLeft(strings.NewReplacer("-", "", ".", "").Replace(s), "0")
	if err != nil || len(digits) > 15 || strconv.FormatFloat(f, 'f', -1, 64) != s {
		return s
	}
	return f
}
