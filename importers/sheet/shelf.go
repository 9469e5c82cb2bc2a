package sheet

import (
	"fmt"

	"lanewright/planner/finding"
)

// shelf stores the rows of sheets, packed, in few large blocks, so that a hundred
// thousand rows do not cost a hundred thousand allocations.
type shelf struct {
	budget *budget
	limits Limits
	texts  texts
	packed []byte
}

func newShelf(b *budget, limits Limits) *shelf { return &shelf{budget: b, limits: limits} }

// keep appends a copy of cells to s as row number, unless all are empty.
func (h *shelf) keep(s *Sheet, number int, cells []Cell) *Refused {
	for len(cells) > 0 && cells[len(cells)-1].IsEmpty() {
		cells = cells[:len(cells)-1]
	}
	if len(cells) == 0 {
		return nil
	}
	switch {
	case number > h.limits.Rows:
		return tooMuch(CodeRows, s.Origin(number, -1), fmt.Sprintf("the sheet has more than %d rows", h.limits.Rows))
	case len(cells) > h.limits.Columns:
		return tooWide(s, number, h.limits)
	case !h.budget.take(len(cells)):
		return tooMuch(CodeCells, s.Origin(number, -1), fmt.Sprintf("the file has more than %d cells", h.limits.Cells))
	}
	row := Row{Number: number}
	h.packed, row.long = pack(h.packed[:0], nil, cells)
	row.packed = h.texts.keep(h.packed)
	s.Rows = append(s.Rows, row)
	return nil
}

func tooWide(s *Sheet, number int, limits Limits) *Refused {
	return tooMuch(CodeColumns, s.Origin(number, -1), fmt.Sprintf("row %d has more than %d columns", number, limits.Columns))
}

func tooMuch(code string, at finding.Origin, summary string) *Refused {
	return &Refused{
		Code: code, Origin: at, Summary: summary,
		Detail: "Cells left of a filled one count too. The limit protects the machine against files made to exhaust it.",
		Remedy: "Delete stray cells far to the right or below the table, or split the sheet.",
	}
}
