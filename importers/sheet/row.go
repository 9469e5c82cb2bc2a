package sheet

import "strings"

// Row is one row that has a non-empty cell. A sheet of two million cells must
// fit into little memory, so a row keeps them packed and unpacks them when it
// is asked.
type Row struct {
	// Number counts from 1, the first row of the sheet.
	Number int
	// packed has for each cell a byte of what it is and what that says follows;
	// long are the texts that are too long for it, in their order.
	packed string
	long   []string
}

// What a cell is, as a bit each. A number's shortest decimal is mostly its text.
const (
	hasText = 1 << iota
	isLong
	isNumber
	isDate
	isError
	isNoValue
	hasRaw
	rawIsText
)

// longest is how many bytes a text may have to be packed with its row. Longer
// ones may be shared by many cells, so they are referred to.
const longest = 255

// NewRow returns a row of cells, the first in column A.
func NewRow(number int, cells []Cell) Row {
	packed, long := pack(nil, nil, cells)
	return Row{Number: number, packed: string(packed), long: long}
}

// pack appends what cells are to packed, and to long the texts that are too
// long for it.
func pack(packed []byte, long []string, cells []Cell) ([]byte, []string) {
	for i := range cells {
		c := &cells[i]
		var is byte
		if c.Number {
			is |= isNumber
		}
		if c.Date {
			is |= isDate
		}
		if c.Error {
			is |= isError
		}
		if c.NoValue {
			is |= isNoValue
		}
		switch {
		case c.Text == "":
		case len(c.Text) > longest:
			is |= isLong
			long = append(long, c.Text)
		default:
			is |= hasText
		}
		switch {
		case c.Raw == "":
		case c.Raw == c.Text:
			is |= rawIsText
		default: // a number's, never longer than longest
			is |= hasRaw
		}
		packed = append(packed, is)
		if is&hasText != 0 {
			packed = append(append(packed, byte(len(c.Text))), c.Text...)
		}
		if is&hasRaw != 0 {
			raw := c.Raw[:min(len(c.Raw), longest)]
			packed = append(append(packed, byte(len(raw))), raw...)
		}
	}
	return packed, long
}

// unpacking is how far a row is unpacked: the next byte says what a cell is.
type unpacking struct {
	packed string
	long   []string
}

func (r *Row) unpack() unpacking { return unpacking{r.packed, r.long} }

func (u *unpacking) more() bool { return u.packed != "" }

// next unpacks the next cell into c.
func (u *unpacking) next(c *Cell) {
	is := u.packed[0]
	u.packed = u.packed[1:]
	*c = Cell{Number: is&isNumber != 0, Date: is&isDate != 0, Error: is&isError != 0, NoValue: is&isNoValue != 0}
	switch {
	case is&hasText != 0:
		c.Text = u.short()
	case is&isLong != 0:
		c.Text, u.long = u.long[0], u.long[1:]
	}
	switch {
	case is&hasRaw != 0:
		c.Raw = u.short()
	case is&rawIsText != 0:
		c.Raw = c.Text
	}
}

func (u *unpacking) short() string {
	n := 1 + int(u.packed[0])
	text := u.packed[1:n]
	u.packed = u.packed[n:]
	return text
}

// skip passes over the next cell.
func (u *unpacking) skip() {
	is, n := u.packed[0], 1
	if is&hasText != 0 {
		n += 1 + int(u.packed[n])
	}
	if is&hasRaw != 0 {
		n += 1 + int(u.packed[n])
	}
	if is&isLong != 0 {
		u.long = u.long[1:]
	}
	u.packed = u.packed[n:]
}

// Cells returns the cells of the row from column A on; trailing empty cells are
// cut.
func (r *Row) Cells() []Cell { return r.AppendCells(nil) }

// AppendCells appends them to cells.
func (r *Row) AppendCells(cells []Cell) []Cell {
	for u := r.unpack(); u.more(); {
		cells = append(cells, Cell{})
		u.next(&cells[len(cells)-1])
	}
	return cells
}

// Cell returns the cell of a column, from 0; one beyond the last is empty.
func (r *Row) Cell(column int) (c Cell) {
	u := r.unpack()
	for ; u.more() && column > 0; column-- {
		u.skip()
	}
	if u.more() {
		u.next(&c)
	}
	return c
}

// Width is the number of cells of the row.
func (r *Row) Width() (n int) {
	for u := r.unpack(); u.more(); n++ {
		u.skip()
	}
	return n
}

// texts stores many short texts in few large blocks.
type texts struct{ block strings.Builder }

// Blocks grow from the first one to the largest.
const (
	textsFirst = 1 << 10
	textsBlock = 64 << 10
)

// keep returns p as a string.
func (t *texts) keep(p []byte) string {
	if len(p) == 0 {
		return ""
	}
	if len(p) > textsBlock/4 {
		return string(p)
	}
	if t.block.Cap()-t.block.Len() < len(p) {
		size := min(max(2*t.block.Cap(), textsFirst), textsBlock)
		t.block = strings.Builder{}
		t.block.Grow(max(size, len(p)))
	}
	from := t.block.Len()
	t.block.Write(p)
	return t.block.String()[from:]
}
