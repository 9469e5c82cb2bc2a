package sheet

import (
	"fmt"
	"strings"
)

// grid is what the readers of both kinds of workbook have in common: the cells
// of the row that is read, and where they stand.
type grid struct {
	*scanner
	archive *archive
	shelf   *shelf
	texts   texts

	sheet  *Sheet // nil between sheets
	row    int    // number of the last row, repeated ones counted
	column int    // of the current cell, from 0
	cells  []Cell // of the current row, from column A
	raw    []byte
}

// judge says what the end of the walk over p means: a refusal is as it is, an
// error of the scanner gets the place that was reached.
func (g *grid) judge(p *part, err error) error {
	at := g.archive.origin()
	if g.sheet != nil {
		at = g.sheet.Origin(g.row, -1)
	}
	return g.archive.badXML(p, at, err)
}

// children hands every child of the current element to read, which must read
// it to its end.
func (g *grid) children(read func() error) error {
	depth := g.depth()
	for {
		t, err := g.next()
		switch {
		case err != nil:
			return err
		case t == tokenClose && g.depth() < depth:
			return nil
		case t == tokenStart:
			err = read()
		}
		if err != nil {
			return err
		}
	}
}

// pass goes over the current element to its end. What holds says may not
// stand in it refuses the sheet: no row and no cell is passed over.
func (g *grid) pass(holds func() bool) error {
	depth := g.depth()
	for {
		if holds() {
			return xmlError(fmt.Sprintf("it holds a <%s> where none may stand", g.local))
		}
		t, err := g.next()
		if err != nil {
			return err
		}
		if t == tokenClose && g.depth() < depth {
			return nil
		}
	}
}

// put puts a cell into the current column and those behind it, times in all.
func (g *grid) put(c Cell, formula bool, times int) error {
	if c.IsEmpty() {
		return nil
	}
	if g.column+times > g.archive.limits.Columns {
		return tooWide(g.sheet, g.row, g.archive.limits)
	}
	if formula && !c.NoValue {
		g.sheet.Formulas++
	}
	for len(g.cells) < g.column {
		g.cells = append(g.cells, Cell{})
	}
	for range times {
		g.cells = append(g.cells, c)
	}
	return nil
}

// keepRow stores the current row as often as it is repeated; those that the
// sheet does not show are counted.
func (g *grid) keepRow(times int, hidden bool) error {
	before := len(g.sheet.Rows)
	for i := range times {
		if len(g.cells) == 0 {
			break
		}
		if refused := g.shelf.keep(g.sheet, g.row+i, g.cells); refused != nil {
			return refused
		}
	}
	if hidden {
		g.sheet.HiddenRows += len(g.sheet.Rows) - before
	}
	return nil
}

func (g *grid) badPlace(format string, args ...any) error {
	return damaged(CodeBadPlace, g.sheet.Origin(g.row, -1), format, args...)
}

func (g *grid) badCell(format string, args ...any) error {
	at := g.sheet.Origin(g.row, g.column)
	return damaged(CodeBadCell, at, "cell %s%d %s", at.Column, at.Row, fmt.Sprintf(format, args...))
}

// truth reads a truth value as the file writes it.
func (g *grid) truth(v string) (Cell, error) {
	switch strings.ToLower(v) {
	case "1", "true":
		return Cell{Text: "TRUE"}, nil
	case "0", "false":
		return Cell{Text: "FALSE"}, nil
	}
	return Cell{}, g.badCell("holds the truth value %.40q", v)
}

// isoDate reads an ISO date; what is none stays a text.
func (g *grid) isoDate(v string) Cell {
	serial, format, ok := parseISO(v, g.sheet.Date1904)
	if !ok {
		return Cell{Text: v}
	}
	return g.serial(serial, format, v)
}

// serial is the cell of a day, shown as its format says or, where no calendar
// has it, as the file writes it.
func (g *grid) serial(serial float64, format numberFormat, as string) Cell {
	g.raw = appendFloat(g.raw[:0], serial)
	c := Cell{Text: as, Raw: g.texts.keep(g.raw), Number: true, Date: true}
	if text, ok := isoSerial(serial, g.sheet.Date1904, format); ok {
		c.Text = text
	}
	return c
}
