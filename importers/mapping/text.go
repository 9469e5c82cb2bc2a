package mapping

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lanewright/importers/column"
	"lanewright/importers/sheet"
	"lanewright/importers/value"
)

// firstLine begins every mapping and names its format.
const firstLine = "lanewright mapping 1"

// The words for decimal marks, delimiters and what is kept out.
var (
	decimals   = map[string]rune{"point": '.', "comma": ','}
	delimiters = map[string]string{"comma": ",", "semicolon": ";", "tab": "\t", "bar": "|"}
)

const (
	keptOut = "-"
	asked   = "?"
)

// Text writes the mapping:
//
//	lanewright mapping 1
//	encoding: windows-1252
//	decimal: comma
//
//	sheet: Teile
//	read as: Flat table
//	headings: row 5, 2 lines
//	"Teile-Nr." = Part
//	"Länge" = Length in mm
//	"Bemerkung" = -
//	"Menge" = ? Standard pack or Pieces per day
//
// A line that begins with # is a remark.
func (m *Mapping) Text() string {
	var b strings.Builder
	b.WriteString(firstLine + "\n")
	b.WriteString("# \"heading\" = column, = column in unit, = - for one that is kept out, = ? for one that is still asked\n")
	if m.Encoding != "" {
		b.WriteString("encoding: " + m.Encoding + "\n")
	}
	if m.Delimiter != "" {
		b.WriteString("delimiter: " + m.DelimiterWord() + "\n")
	}
	switch {
	case m.AskDecimal:
		b.WriteString("decimal: ? point or comma\n")
	case m.Decimal != 0:
		b.WriteString("decimal: " + m.DecimalWord() + "\n")
	}
	for _, t := range m.Tables {
		t.write(&b)
	}
	return b.String()
}

func (t *Table) write(b *strings.Builder) {
	fmt.Fprintf(b, "\nsheet: %s\n", strconv.Quote(t.Sheet))
	if t.Kind == "" {
		b.WriteString("read as: " + keptOut + "\n")
		return
	}
	fmt.Fprintf(b, "read as: %s\n", t.Kind)
	if t.Row > 0 {
		fmt.Fprintf(b, "headings: row %d", t.Row)
		if t.Lines > 1 {
			fmt.Fprintf(b, ", %d lines", t.Lines)
		}
		b.WriteByte('\n')
	}
	for _, c := range t.Columns {
		fmt.Fprintf(b, "%s = %s\n", strconv.Quote(c.Heading), c.meaning())
	}
}

// meaning is what stands behind a heading, with a remark where it rests on
// the words alone.
func (c *Column) meaning() string {
	switch {
	case c.Ask:
		return strings.TrimSpace(asked + " " + strings.Join(c.Candidates, " or "))
	case c.Field == "":
		return keptOut
	}
	s := c.Field
	if c.Unit != "" {
		s += " in " + c.Unit
	}
	if c.By == column.Words {
		s += "   # by its words"
	}
	return s
}

// DecimalWord is the decimal mark as the text names it, "" where each file
// shows it.
func (m *Mapping) DecimalWord() string { return nameOf(decimals, m.Decimal) }

// DelimiterWord is the delimiter as the text names it, "" where none is named.
func (m *Mapping) DelimiterWord() string { return nameOf(delimiters, m.Delimiter) }

func nameOf[T comparable](names map[string]T, v T) string {
	for name, is := range names {
		if is == v {
			return name
		}
	}
	return ""
}

// parser reads the text of a mapping line by line.
type parser struct {
	m     *Mapping
	table *Table
}

// longest is the most bytes that a mapping may have.
const longest = 1 << 20

// Parse reads the text of a mapping. An error says in which line it is wrong.
func Parse(text string) (*Mapping, error) {
	if len(text) > longest {
		return nil, fmt.Errorf("a mapping has at most %d bytes", longest)
	}
	p := parser{m: &Mapping{}}
	begun := false
	number := 0
	for line := range strings.SplitSeq(strings.TrimPrefix(text, "\ufeff"), "\n") {
		number++
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		if !begun {
			if begun = line == firstLine; !begun {
				return nil, fmt.Errorf("line %d: a mapping begins with %q", number, firstLine)
			}
			continue
		}
		if err := p.line(line); err != nil {
			return nil, fmt.Errorf("line %d: %w", number, err)
		}
	}
	if !begun {
		return nil, fmt.Errorf("a mapping begins with %q", firstLine)
	}
	return p.m, nil
}

func (p *parser) line(line string) error {
	if strings.HasPrefix(line, `"`) {
		return p.heading(line)
	}
	key, v, ok := strings.Cut(line, ":")
	v = strings.TrimSpace(v)
	if !ok {
		return fmt.Errorf("%q is neither a heading in quotes nor a line such as decimal: comma", line)
	}
	switch strings.ToLower(strings.TrimSpace(key)) {
	case "encoding":
		return p.encoding(v)
	case "delimiter":
		return p.delimiter(v)
	case "decimal":
		return p.decimal(v)
	case "sheet":
		return p.sheet(v)
	case "read as":
		return p.kind(v)
	case "headings":
		return p.headings(v)
	}
	return fmt.Errorf("%q is not known; the lines are encoding, delimiter, decimal, sheet, read as, headings", key)
}

func (p *parser) encoding(v string) error {
	v = strings.ToLower(v)
	if v != "utf-8" && !slices.Contains(sheet.Encodings(), v) {
		return fmt.Errorf("the encoding %q is not known; use one of utf-8, %s", v, strings.Join(sheet.Encodings(), ", "))
	}
	p.m.Encoding = v
	return nil
}

func (p *parser) delimiter(v string) (err error) {
	mark, ok := delimiters[strings.ToLower(v)]
	if !ok {
		return fmt.Errorf("the delimiter is comma, semicolon, tab or bar, not %q", v)
	}
	p.m.Delimiter = mark
	return nil
}

func (p *parser) decimal(v string) error {
	if strings.HasPrefix(v, asked) {
		p.m.AskDecimal = true
		return nil
	}
	return p.m.Answer("decimal", v, "")
}

func (p *parser) sheet(v string) error {
	if strings.HasPrefix(v, `"`) {
		name, err := strconv.Unquote(v)
		if err != nil {
			return fmt.Errorf("the name %s has no closing quote", v)
		}
		v = name
	}
	p.m.Tables = append(p.m.Tables, Table{Sheet: v, Lines: 1})
	p.table = &p.m.Tables[len(p.m.Tables)-1]
	return nil
}

// inTable says where a line belongs that stands before any sheet.
func (p *parser) inTable() error {
	if p.table == nil {
		return fmt.Errorf("this belongs behind a line such as sheet: Parts")
	}
	return nil
}

func (p *parser) kind(v string) error {
	if err := p.inTable(); err != nil || v == keptOut {
		return err
	}
	s, ok := KindOf(v)
	if !ok {
		return fmt.Errorf("%q is no kind of sheet of a plant", v)
	}
	p.table.Kind = s.Name
	return nil
}

// headings reads "row 5" or "row 5, 2 lines".
func (p *parser) headings(v string) error {
	if err := p.inTable(); err != nil {
		return err
	}
	first, second, more := strings.Cut(v, ",")
	row, err := strconv.Atoi(strings.TrimSpace(strings.TrimPrefix(first, "row")))
	if err != nil || row < 1 {
		return fmt.Errorf("write headings: row 5, or row 5, 2 lines")
	}
	p.table.Row, p.table.Lines = row, 1
	if more {
		word := strings.TrimSuffix(strings.TrimSuffix(strings.TrimSpace(second), "s"), " line")
		if p.table.Lines, err = strconv.Atoi(word); err != nil || p.table.Lines < 1 || p.table.Lines > 2 {
			return fmt.Errorf("headings have 1 or 2 lines")
		}
	}
	return nil
}

// heading reads "Länge" = Length in mm.
func (p *parser) heading(line string) error {
	if err := p.inTable(); err != nil {
		return err
	}
	quoted, err := strconv.QuotedPrefix(line)
	if err != nil {
		return fmt.Errorf("the heading %s has no closing quote", line)
	}
	name, _ := strconv.Unquote(quoted)
	meaning, ok := strings.CutPrefix(strings.TrimSpace(line[len(quoted):]), "=")
	if !ok {
		return fmt.Errorf("the heading %s needs = and a column", quoted)
	}
	meaning, _, _ = strings.Cut(meaning, "#")
	c := Column{Heading: strings.Join(strings.Fields(name), " "), By: column.Stated}
	if err := p.meaning(&c, strings.TrimSpace(meaning)); err != nil {
		return err
	}
	p.table.Columns = append(p.table.Columns, c)
	return nil
}

func (p *parser) meaning(c *Column, text string) (err error) {
	if rest, ok := strings.CutPrefix(text, asked); ok {
		c.Ask = true
		for f := range strings.SplitSeq(rest, " or ") {
			if f = strings.TrimSpace(f); f != "" {
				c.Candidates = append(c.Candidates, f)
			}
		}
		return nil
	}
	field := text
	if i := strings.LastIndex(text, " in "); i > 0 {
		field, c.Unit = text[:i], strings.TrimSpace(text[i+len(" in "):])
		if !value.Known(c.Unit) {
			return fmt.Errorf("the unit %q is not known", c.Unit)
		}
	}
	if text == "" {
		return fmt.Errorf("the heading %q needs a column, or - to keep it out", c.Heading)
	}
	c.Field, err = knownField(p.table.Kind, strings.TrimSpace(field))
	if err != nil {
		return err
	}
	if c.Field != "" && slices.ContainsFunc(p.table.Columns, func(o Column) bool { return o.Field == c.Field }) {
		return fmt.Errorf("two headings mean %s; one of them must be -", c.Field)
	}
	return nil
}
