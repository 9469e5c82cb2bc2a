// Package annotate gives people their own workbook back with its findings in
// it: each bad cell marked and commented, and a sheet that lists the findings
// with links to their cells. Nothing else in the workbook changes: every part
// that needs no mark is copied byte for byte, and in the others text is only
// put between what stands there. For files of other kinds, a copy of their
// rows as a workbook serves instead.
package annotate

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"lanewright/planner/finding"
)

// mostMarks is how many cells of one sheet are marked; the list of findings
// has them all.
const mostMarks = 5000

// place is a cell: row from 1, column from 0.
type place struct{ row, column int }

// mark is what is said at one cell.
type mark struct {
	at       place
	severity finding.Severity
	text     string
}

// Workbook writes data, a workbook that package sheet accepts, with the
// findings whose origin is the file of that name.
func Workbook(w io.Writer, file string, data []byte, findings finding.List) error {
	return withFindings(w, data, "", findings, func(o finding.Origin) string {
		if o.File != file {
			return ""
		}
		return o.Sheet
	})
}

// withFindings writes a workbook with findings; sheetOf names the sheet that an
// origin lies in, intro is said above the list.
func withFindings(w io.Writer, data []byte, intro string, findings finding.List, sheetOf func(finding.Origin) string) error {
	p, err := open(data)
	if err != nil {
		return err
	}
	styles, err := p.openStyles()
	if err != nil {
		return err
	}
	for n, s := range p.sheets {
		marks := marksOf(s.name, findings, sheetOf)
		if len(marks) == 0 {
			continue
		}
		if err := p.markSheet(n+1, s, marks, styles); err != nil {
			return fmt.Errorf("mark sheet %q: %w", s.name, err)
		}
	}
	styles.save()
	if err := p.addList(intro, findings, sheetOf); err != nil {
		return err
	}
	return p.write(w)
}

// marksOf gathers what is said at each cell of a sheet, by row and column. A
// finding about a whole row is said at its first cell.
func marksOf(sheet string, findings finding.List, sheetOf func(finding.Origin) string) []mark {
	by := map[place]*mark{}
	var list []*mark
	for _, f := range findings {
		o := f.Origin
		if o.Row < 1 || sheetOf(o) != sheet {
			continue
		}
		at := place{o.Row, max(columnOf(o.Column), 0)}
		m := by[at]
		if m == nil {
			if len(list) >= mostMarks {
				continue
			}
			m = &mark{at: at, severity: f.Severity}
			by[at] = m
			list = append(list, m)
		}
		if f.Severity.Rank() < m.severity.Rank() {
			m.severity = f.Severity
		}
		m.text += said(f, m.text != "")
	}
	out := make([]mark, len(list))
	for i, m := range list {
		out[i] = *m
	}
	slices.SortFunc(out, func(a, b mark) int {
		return cmp.Or(cmp.Compare(a.at.row, b.at.row), cmp.Compare(a.at.column, b.at.column))
	})
	return out
}

// said is a finding as a comment says it.
func said(f finding.Finding, more bool) string {
	lead := ""
	if more {
		lead = "\n\n"
	}
	return lead + strings.TrimSpace(fmt.Sprintf("%s: %s\n%s", f.Severity, f.Summary, strings.TrimSpace(f.Detail+" "+f.Remedy)))
}

// columnOf is the position of letters, -1 of none.
func columnOf(letters string) int {
	n := 0
	for _, c := range letters {
		if c < 'A' || c > 'Z' {
			return -1
		}
		n = n*26 + int(c-'A') + 1
	}
	return n - 1
}
