package value

import (
	"strings"

	"lanewright/importers/sheet"
	"lanewright/planner/units"
)

// Marks says how numbers are written in texts.
type Marks struct {
	// Decimal is '.', ',' or 0 where it is not known. Then 1.5 and 1,5 are
	// decimals, 1.234,5 and 1,234.5 are clear by themselves, and a single mark
	// before exactly three digits is reported rather than guessed.
	Decimal rune
}

const (
	numberWanted = "a number such as 12, 1.5 or 15 1/4"
	numberRemedy = "Type the number alone; its unit belongs into the heading."
)

// Ratio reads a plain number: "12", "1,5", "1.234,5", "15 1/4", "3/8", "1e3",
// also with a word for pieces behind it ("24 pcs"). A spreadsheet's
// percentage is its share; in a text a percent sign is refused.
func Ratio(c sheet.Cell, m Marks) (units.Ratio, error) {
	n, err := readClear(c, m, numberWanted)
	if err != nil {
		return units.Ratio{}, err
	}
	if n.rest != "" && !c.Number && !isCountWord(n.rest) {
		return units.Ratio{}, problem(c, numberWanted, numberRemedy)
	}
	return n.value, nil
}

// Percent reads a percentage as a share: "99.5" and "99.5 %" are 0.995, and
// so is a spreadsheet's 0.995 shown as a percentage.
func Percent(c sheet.Cell, m Marks) (units.Ratio, error) {
	const wanted, remedy = "a percentage such as 99.5 or 99.5 %", "Type the percentage alone."
	n, err := readClear(c, m, wanted)
	switch {
	case err != nil:
		return units.Ratio{}, err
	case c.Number && n.rest == "%":
		return n.value, nil
	case n.rest != "" && n.rest != "%" && !c.Number:
		return units.Ratio{}, problem(c, wanted, remedy)
	}
	return n.value.Div(units.Int(100)), nil
}

// Whole reads a whole number. Where "1,250" could also be a decimal that is
// not whole, the whole reading is the only one.
func Whole(c sheet.Cell, m Marks) (int64, error) {
	const wanted, remedy = "a whole number", "Type a whole number without a unit."
	n, err := read(c, m, wanted)
	if err != nil {
		return 0, err
	}
	if n.other != nil && !isWhole(n.value) {
		n.value, n.other = *n.other, nil
	}
	if err := n.ambiguity(c, wanted); err != nil {
		return 0, err
	}
	if n.rest != "" && !c.Number && !isCountWord(n.rest) || !isWhole(n.value) {
		return 0, problem(c, wanted, remedy)
	}
	return n.value.Floor(), nil
}

// isWhole reports whether v is a whole number that an int64 holds.
func isWhole(v units.Ratio) bool { return v.Equal(units.Int(v.Floor())) }

// isCountWord reports whether s is a word for pieces behind a count, in one
// of four languages.
func isCountWord(s string) bool {
	switch strings.TrimSuffix(fold(s), ".") {
	case "pc", "pcs", "piece", "pieces", "ea", "each", "unit", "units",
		"st", "stk", "stück", "stueck", "pz", "pza", "pzas", "pieza", "piezas",
		"pce", "pces", "pièce", "pièces":
		return true
	}
	return false
}

// numeral is a number and the text behind it.
type numeral struct {
	value units.Ratio
	// other is the second number the text can mean; nil when there is none.
	other *units.Ratio
	rest  string
}

// ambiguity returns the Problem of a number with two readings.
func (n numeral) ambiguity(c sheet.Cell, wanted string) error {
	if n.other == nil {
		return nil
	}
	return problem(c, wanted+"; this one can mean "+n.value.String()+" or "+n.other.String(),
		"Leave out the mark between thousands, or write one decimal more (1.2340), so that the decimal mark is clear.")
}

// readClear is read for numbers that have one reading only.
func readClear(c sheet.Cell, m Marks, wanted string) (numeral, error) {
	n, err := read(c, m, wanted)
	if err == nil {
		err = n.ambiguity(c, wanted)
	}
	return n, err
}

// read reads the number at the beginning of a cell. For a spreadsheet's
// number the rest is the text its format shows behind it.
func read(c sheet.Cell, m Marks, wanted string) (numeral, error) {
	switch {
	case unusable(c):
		return numeral{}, problem(c, wanted, "")
	case c.Date:
		return numeral{}, problem(c, wanted+", not a date or time", "The sheet took the entry for a date. Set the format of the cell to General or Number and type the number again.")
	case c.Number:
		return readStored(c, wanted)
	}
	return readText(c, clean(c.Text), m, wanted)
}

// readStored reads a number the spreadsheet holds as one.
func readStored(c sheet.Cell, wanted string) (numeral, error) {
	v, err := units.ParseRatio(c.Raw)
	if err != nil {
		return numeral{}, problem(c, wanted+" of reasonable size", "Correct the value.")
	}
	n := numeral{value: v}
	if c.Text != c.Raw {
		if t, ok := scan(clean(c.Text)); ok {
			n.rest = strings.TrimSpace(t.rest)
		}
	}
	return n, nil
}

// readText reads the number at the beginning of a clean text.
func readText(c sheet.Cell, text string, m Marks, wanted string) (numeral, error) {
	t, ok := scan(text)
	if !ok {
		return numeral{}, problem(c, wanted, numberRemedy)
	}
	v, other, ok := t.number(m)
	if !ok {
		return numeral{}, problem(c, wanted, "Write the number with one decimal mark, and groups of three digits or none.")
	}
	if other != nil && other.Equal(v) {
		other = nil
	}
	return numeral{value: v, other: other, rest: strings.TrimSpace(t.rest)}, nil
}
