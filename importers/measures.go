package importers

import (
	"regexp"
	"slices"
	"strings"

	"lanewright/importers/column"
	"lanewright/importers/sheet"
	"lanewright/importers/value"
)

// sides are the lengths of a container in the order of column.Measures.
var sides = []string{"Length", "Width", "Height"}

var (
	times    = regexp.MustCompile(`\s*[xX×*]\s*`)
	slashes  = regexp.MustCompile(`\s*/\s*`)
	lastUnit = regexp.MustCompile(`[\pL"″'′]+\.?\s*$`)
)

// ofMeasures takes a side out of the one cell that holds all three, where the table
// has no column for the side itself.
func (s *slot) ofMeasures() {
	side := slices.Index(sides, s.field)
	at, ok := s.row.t.match.At[column.Measures]
	if side < 0 || !ok {
		return
	}
	s.column, s.unit = at, s.row.t.match.Unit[column.Measures]
	cells := s.row.cells()
	if at >= len(cells) {
		return
	}
	s.cell = cells[at]
	if s.blank = blank(s.cell); s.blank {
		return
	}
	parts, ok := threeOf(s.cell.Text)
	if !ok || s.cell.Error || s.cell.NoValue {
		s.field, s.told = column.Measures, side > 0 // one finding for one cell
		s.bad = value.Problem{
			Expected: "length, width and height of the container, such as 600 x 400 x 300 mm",
			Remedy:   "Write the three with an x between, or give Length, Width and Height a column each.", Found: s.cell.Text,
		}
		return
	}
	s.cell = sheet.Cell{Text: parts[side]}
}

// threeOf parts "600 x 400 x 280 mm" in three; a unit that only the last names is
// that of all.
func threeOf(text string) (parts []string, ok bool) {
	text = strings.TrimSpace(text)
	if parts = times.Split(text, -1); len(parts) != len(sides) {
		if parts = slashes.Split(text, -1); len(parts) != len(sides) {
			return nil, false
		}
	}
	unit := lastUnit.FindString(parts[2])
	for i, p := range parts {
		if strings.TrimSpace(p) == "" {
			return nil, false
		}
		if i < 2 && unit != "" && !lastUnit.MatchString(p) {
			parts[i] = p + " " + unit
		}
	}
	return parts, true
}

// canonicalSides are the three measures of one cell as the plan will reckon with them.
func (s slot) canonicalSides() (string, error) {
	texts := make([]string, len(sides))
	for i, side := range sides {
		of := s.row.slot(side, may)
		if of.bad != nil {
			return "", of.bad
		}
		text, err := of.canonical()
		if err != nil {
			return "", err
		}
		texts[i] = text
	}
	return strings.Join(texts, " x "), nil
}
