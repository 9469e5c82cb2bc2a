// Package mapping says in a small text what the columns of a plant's own
// sheets mean, where their names alone do not: which sheet is what, where its
// headings stand, what each of them is and in which unit, how numbers are
// written and in which encoding a text is.
//
// The program proposes a mapping, a person answers what is still asked in it,
// and the same mapping serves every later file of the same shape.
package mapping

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"

	"lanewright/importers/column"
)

// Mapping is what a person and the program agreed on about files of one shape.
type Mapping struct {
	// Encoding is that of texts that are not UTF-8, Delimiter what parts their
	// fields; both may be empty.
	Encoding, Delimiter string
	// Decimal is '.', ',' or 0 where each file shows it.
	Decimal rune
	// AskDecimal says that the decimal mark is still asked.
	AskDecimal bool
	Tables     []Table
}

// Table says what one table is.
type Table struct {
	// Sheet is the name of the sheet it stands in.
	Sheet string
	// Kind is the canonical name of the sheet it is read as; empty for one
	// that is not read.
	Kind string
	// Row is the row of the first line of its headings, from 1, Lines how many
	// lines they have.
	Row, Lines int
	// Columns are its headings; where there are none they are recognised.
	Columns []Column
}

// Column says what one heading means.
type Column struct {
	Heading string
	// Field is the canonical column; empty for one that is kept out.
	Field string
	// Unit is the unit of its values, where heading and cell name none.
	Unit string
	// Ask says that it is not known yet; Candidates are what it may be.
	Ask        bool
	Candidates []string
	// Samples are the first few texts below a heading that is asked about.
	Samples []string
	// By says why the field was proposed.
	By column.Basis
}

// Questions lists what is still asked, one line each, with the first values below
// the heading that is asked about.
func (m *Mapping) Questions() []string {
	var list []string
	if m.AskDecimal {
		list = append(list, "decimal: point or comma?")
	}
	for _, t := range m.Tables {
		for _, c := range t.Columns {
			if c.Ask {
				q := fmt.Sprintf("sheet %q, heading %q: %s?", t.Sheet, c.Heading, strings.Join(c.Candidates, " or "))
				if len(c.Samples) > 0 {
					q += " Its first values: " + strings.Join(c.Samples, ", ") + "."
				}
				list = append(list, q)
			}
		}
	}
	return list
}

// Shape names what files of one kind have in common: the headings of their
// tables in order, whatever the sheets are called and wherever they stand.
// Tables that are not read do not count.
func (m *Mapping) Shape() string {
	h := sha256.New()
	for _, t := range m.Tables {
		if t.Kind == "" {
			continue
		}
		for _, c := range t.Columns {
			h.Write([]byte(column.Fold(c.Heading) + "\x00"))
		}
		h.Write([]byte{1})
	}
	return hex.EncodeToString(h.Sum(nil)[:8])
}

// Fits reports whether all headings of the table are among these, which have
// single spaces.
func (t *Table) Fits(headings []string) bool {
	have := map[string]int{}
	for _, h := range headings {
		have[h]++
	}
	for _, c := range t.Columns {
		if have[c.Heading]--; have[c.Heading] < 0 {
			return false
		}
	}
	return len(t.Columns) > 0
}

// Answer settles what a heading means, in every table that asks about it or
// has it. An empty field keeps it out.
func (m *Mapping) Answer(heading, field, unit string) error {
	if strings.EqualFold(heading, "decimal") {
		mark, ok := decimals[strings.ToLower(field)]
		if !ok {
			return fmt.Errorf("the decimal mark is point or comma, not %q", field)
		}
		m.Decimal, m.AskDecimal = mark, false
		return nil
	}
	found := false
	for i := range m.Tables {
		t := &m.Tables[i]
		for j := range t.Columns {
			c := &t.Columns[j]
			if column.Fold(c.Heading) != column.Fold(heading) {
				continue
			}
			known, err := knownField(t.Kind, field)
			if err != nil {
				return err
			}
			if k := slices.IndexFunc(t.Columns, func(o Column) bool { return known != "" && o.Field == known }); k >= 0 && k != j {
				return fmt.Errorf("%q means %s already; say first that it does not", t.Columns[k].Heading, known)
			}
			found = true
			c.Field, c.Ask, c.Candidates, c.By = known, false, nil, column.Stated
			if unit != "" {
				c.Unit = unit
			}
		}
	}
	if !found {
		return fmt.Errorf("there is no heading %q", heading)
	}
	return nil
}

// knownField returns the canonical spelling of a column of a kind of sheet.
func knownField(kind, field string) (string, error) {
	if field == "" || field == "-" {
		return "", nil
	}
	s, ok := KindOf(kind)
	if !ok {
		return "", fmt.Errorf("%q is no kind of sheet", kind)
	}
	var names []string
	for _, c := range s.Columns {
		if column.Fold(c.Field) == column.Fold(field) {
			return c.Field, nil
		}
		names = append(names, c.Field)
	}
	hint := ""
	if near, ok := column.Nearest(field, names); ok {
		hint = fmt.Sprintf("; did you mean %s?", near)
	}
	return "", fmt.Errorf("%s has no column %q%s", s.Name, field, hint)
}

// KindOf returns the sheet of that name, or the flat table.
func KindOf(name string) (column.Sheet, bool) {
	all := append(column.Sheets(), column.FlatTable())
	i := slices.IndexFunc(all, func(s column.Sheet) bool { return column.Fold(s.Name) == column.Fold(name) })
	if i < 0 {
		return column.Sheet{}, false
	}
	return all[i], true
}
