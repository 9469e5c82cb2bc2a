package sheet

import (
	"context"
	"fmt"
	"strings"

	"lanewright/planner/finding"
)

// Codes about CSV files.
const (
	CodeOpenQuote  = "sheet.open-quote"
	CodeStrayQuote = "sheet.stray-quote"
	CodeRows       = "sheet.too-many-rows"
	CodeColumns    = "sheet.too-many-columns"
	CodeCells      = "sheet.too-many-cells"
	CodeLongText   = "sheet.long-text"
)

// strayQuotesTold is how many rows with text behind a quotation mark are listed
// one by one. People are shown fifty findings of a kind and told how many more
// there are, so this is far above it.
const strayQuotesTold = 1000

// readTextBook reads one CSV file as a book of one sheet.
func readTextBook(ctx context.Context, file string, data []byte, limits Limits) (*Book, error) {
	s, notes, err := readText(ctx, file, file, data, limits, &budget{cells: limits.Cells})
	if err != nil {
		return nil, err
	}
	return &Book{File: file, Format: FormatCSV, Sheets: []Sheet{s}, Notes: notes}, nil
}

// readText reads one delimited text into the sheet named after base.
func readText(ctx context.Context, file, base string, data []byte, limits Limits, b *budget) (Sheet, finding.List, error) {
	s := Sheet{File: file, Name: withoutExtension(base), State: Visible}
	at := finding.Origin{File: file, Sheet: s.Name}
	text, refused := decode(data, limits.form.Encoding, at)
	if refused != nil {
		return s, nil, refused
	}
	text, mark := statedDelimiter(text)
	if limits.form.Delimiter != 0 {
		mark = limits.form.Delimiter
	}
	if mark == 0 {
		mark = delimiterOf(base, text)
	}
	s.Delimiter = mark
	r := records{text: text, mark: mark, width: limits.Columns}
	shelf := newShelf(b, limits)
	var cells []Cell
	var notes finding.List
	strays := 0
	for r.next() {
		if r.number%1024 == 0 && ctx.Err() != nil {
			return s, nil, fmt.Errorf("read %s: %w", file, ctx.Err())
		}
		cells = cells[:0]
		for i, field := range r.fields {
			if len(field) > limits.CellBytes {
				return s, nil, longText(s.Origin(r.number, i), limits)
			}
			cells = append(cells, Cell{Text: field})
		}
		if refused := shelf.keep(&s, r.number, cells); refused != nil {
			return s, nil, refused
		}
		if r.stray >= 0 {
			if strays++; strays <= strayQuotesTold {
				notes = append(notes, strayQuote(s.Origin(r.number, r.stray)))
			}
		}
	}
	if refused := r.broken(&s, limits); refused != nil {
		return s, nil, refused
	}
	if more := strays - strayQuotesTold; more > 0 {
		f := strayQuote(s.Origin(0, -1))
		f.Summary = fmt.Sprintf("there is text after a closing quotation mark in %d more rows", more)
		notes = append(notes, f)
	}
	return s, notes, nil
}

// records walks the records of a delimited text. A quote that opens a field
// ends at the next single quote; two quotes in it are one; elsewhere a quote
// is a letter like any other, as in 15 1/4". Records end at a line feed, a
// carriage return or both.
type records struct {
	text   string
	mark   byte
	pos    int
	number int      // of the current record, from 1, blank ones counted
	fields []string // of the current record
	stray  int      // first field with text after its closing quote, or -1
	open   bool     // the text ended inside a quote
	width  int      // the most fields a record may have
	wide   bool     // a record has more
}

// next moves to the next record.
func (r *records) next() bool {
	if r.pos >= len(r.text) || r.open || r.wide {
		return false
	}
	r.number++
	r.fields, r.stray = r.fields[:0], -1
	for {
		field, ok := r.field()
		if !ok {
			r.open = true
			return false
		}
		if r.wide = len(r.fields) >= r.width; r.wide {
			return false
		}
		r.fields = append(r.fields, field)
		if !r.skipMark() {
			r.skipLineEnd()
			return true
		}
	}
}

// broken refuses a text whose records came to a bad end.
func (r *records) broken(s *Sheet, limits Limits) *Refused {
	switch {
	case r.open:
		return openQuote(s.Origin(r.number, len(r.fields)))
	case r.wide:
		return tooWide(s, r.number, limits)
	}
	return nil
}

// field reads one field up to, not including, the delimiter or line end.
func (r *records) field() (string, bool) {
	if r.pos >= len(r.text) || r.text[r.pos] != '"' {
		return r.plain(), true
	}
	quoted, ok := r.quoted()
	if !ok {
		return "", false
	}
	rest := r.plain()
	if rest != "" && r.stray < 0 {
		r.stray = len(r.fields)
	}
	return quoted + rest, true
}

func (r *records) plain() string {
	start := r.pos
	for r.pos < len(r.text) {
		if c := r.text[r.pos]; c == r.mark || c == '\n' || c == '\r' {
			break
		}
		r.pos++
	}
	return r.text[start:r.pos]
}

// quoted reads from an opening quote to behind its closing one.
func (r *records) quoted() (string, bool) {
	r.pos++
	var out strings.Builder
	for {
		i := strings.IndexByte(r.text[r.pos:], '"')
		if i < 0 {
			return "", false
		}
		piece := r.text[r.pos : r.pos+i]
		r.pos += i + 1
		if r.pos >= len(r.text) || r.text[r.pos] != '"' {
			if out.Len() == 0 {
				return piece, true
			}
			out.WriteString(piece)
			return out.String(), true
		}
		out.WriteString(piece)
		out.WriteByte('"')
		r.pos++
	}
}

func (r *records) skipMark() bool {
	if r.pos < len(r.text) && r.text[r.pos] == r.mark {
		r.pos++
		return true
	}
	return false
}

func (r *records) skipLineEnd() {
	if strings.HasPrefix(r.text[r.pos:], "\r\n") {
		r.pos += 2
	} else if r.pos < len(r.text) {
		r.pos++
	}
}

// statedDelimiter cuts the line "sep=;" that some programs write before the
// table and returns its delimiter, or 0.
func statedDelimiter(text string) (string, byte) {
	line, rest := text, ""
	if end := strings.IndexAny(text, "\r\n"); end >= 0 {
		line, rest = text[:end], strings.TrimPrefix(text[end:], "\r")
		rest = strings.TrimPrefix(rest, "\n")
	}
	if len(line) == 5 && strings.EqualFold(line[:4], "sep=") {
		return rest, line[4]
	}
	return text, 0
}

func openQuote(at finding.Origin) *Refused {
	return &Refused{
		Code: CodeOpenQuote, Origin: at,
		Summary: fmt.Sprintf("a quotation mark opens in record %d and is never closed", at.Row),
		Detail:  "Everything after it would be read as the text of one cell, and all rows below would be lost.",
		Remedy:  "Close the quotation mark, or write it twice where it belongs to the text; a file cut off in the middle must be fetched again.",
	}
}

func strayQuote(at finding.Origin) finding.Finding {
	return finding.Finding{
		Severity: finding.Warning, Code: CodeStrayQuote, Origin: at,
		Summary: "there is text after a closing quotation mark",
		Detail:  "The text before and after the mark was joined, as spreadsheet programs do.",
		Remedy:  "Write a quotation mark that belongs to the text twice.",
	}
}

func longText(at finding.Origin, limits Limits) *Refused {
	return &Refused{
		Code: CodeLongText, Origin: at,
		Summary: fmt.Sprintf("the text of one cell is longer than %d bytes", limits.CellBytes),
		Detail:  "A workbook holds at most 32 767 characters in a cell; in a CSV file a missing quotation mark makes such cells out of many rows.",
		Remedy:  "Look for a quotation mark that is not closed at this place, or shorten the text.",
	}
}
