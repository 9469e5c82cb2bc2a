package placement

import (
	"bufio"
	"fmt"
	"io"
	"strconv"
)

// WriteMPS writes the model as free MPS, the open format that solvers of linear
// programs read: sections of rows, columns, limits and bounds, one value to a
// line, names without spaces. The word FREE keeps readers that know both forms of
// the format from taking it for the one with fixed columns. Lines that begin with
// * are notes.
func (m *Model) WriteMPS(w io.Writer) error {
	b := bufio.NewWriter(w)
	for _, n := range m.Notes {
		fmt.Fprintf(b, "* %s\n", oneLine(n))
	}
	fmt.Fprintf(b, "NAME %s FREE\n", m.Name)
	m.writeRows(b)
	m.writeColumns(b)
	m.writeLimits(b)
	m.writeBounds(b)
	fmt.Fprintln(b, "ENDATA")
	return b.Flush()
}

// objectiveRow is the name of the row that is minimised.
const objectiveRow = "goal"

func (m *Model) writeRows(b *bufio.Writer) {
	fmt.Fprintf(b, "ROWS\n N %s\n", objectiveRow)
	for _, r := range m.Rows {
		fmt.Fprintf(b, " %c %s\n", r.Sense, r.Name)
	}
}

// entry is a value in a column.
type entry struct {
	row   string
	value float64
}

// writeColumns writes the values column by column. Every column is in the
// goal's row, with 0 where it does not count, so that none is lost.
func (m *Model) writeColumns(b *bufio.Writer) {
	list := make([][]entry, len(m.Columns))
	for _, r := range m.Rows {
		for _, t := range r.Terms {
			list[t.Column] = append(list[t.Column], entry{r.Name, t.Value})
		}
	}
	goal := make([]float64, len(m.Columns))
	for _, t := range m.Objective {
		goal[t.Column] += t.Value
	}
	fmt.Fprintln(b, "COLUMNS")
	whole, markers := false, 0
	for i, c := range m.Columns {
		if c.Integer != whole {
			whole, markers = c.Integer, markers+1
			writeMarker(b, markers, whole)
		}
		fmt.Fprintf(b, " %s %s %s\n", c.Name, objectiveRow, decimal(goal[i]))
		for _, e := range list[i] {
			fmt.Fprintf(b, " %s %s %s\n", c.Name, e.row, decimal(e.value))
		}
	}
	if whole {
		writeMarker(b, markers+1, false)
	}
}

// writeMarker begins or ends a stretch of columns that are whole numbers.
func writeMarker(b *bufio.Writer, n int, begins bool) {
	word := "INTEND"
	if begins {
		word = "INTORG"
	}
	fmt.Fprintf(b, " M%d 'MARKER' '%s'\n", n, word)
}

func (m *Model) writeLimits(b *bufio.Writer) {
	fmt.Fprintln(b, "RHS")
	for _, r := range m.Rows {
		if r.Limit != 0 {
			fmt.Fprintf(b, " RHS %s %s\n", r.Name, decimal(r.Limit))
		}
	}
}

func (m *Model) writeBounds(b *bufio.Writer) {
	fmt.Fprintln(b, "BOUNDS")
	for _, c := range m.Columns {
		fmt.Fprintf(b, " UP BND %s %s\n", c.Name, decimal(c.Upper))
	}
}

// decimal writes a number with as few digits as give it back.
func decimal(v float64) string {
	if v == 0 {
		return "0" // and not -0
	}
	return strconv.FormatFloat(v, 'g', -1, 64)
}
