package importers

import (
	"strings"

	"lanewright/importers/value"
)

// codes is a list of codes between commas, semicolons or line breaks; a code
// that holds one of these stands in quotes.
func (s slot) codes() []string {
	if s.blank {
		return nil
	}
	var list []string
	for rest := s.code(); rest != ""; {
		var c string
		if c, rest = cutItem(rest); trim(c) != "" {
			list = append(list, trim(c))
		}
	}
	return list
}

// isSeparator reports whether r parts the items of a list in one cell.
func isSeparator(r rune) bool { return r == ',' || r == ';' || r == '\n' }

// cutItem takes the first item from a list of codes. One in double quotes may
// hold separators, and quotes written twice; a quote that is not closed before
// the next separator is a letter like any other.
func cutItem(list string) (item, rest string) {
	list = strings.TrimLeft(list, " \t\r")
	if item, rest, ok := cutQuoted(list); ok {
		return item, rest
	}
	i := strings.IndexFunc(list, isSeparator)
	if i < 0 {
		return list, ""
	}
	return list[:i], list[i+1:]
}

func cutQuoted(list string) (item, rest string, ok bool) {
	body, ok := strings.CutPrefix(list, `"`)
	for ok {
		text, after, closed := strings.Cut(body, `"`)
		item += text
		if !closed {
			return "", "", false
		}
		if body, ok = strings.CutPrefix(after, `"`); ok {
			item += `"`
			continue
		}
		after = strings.TrimLeft(after, " \t\r")
		if i := strings.IndexFunc(after, isSeparator); i == 0 || after == "" {
			return item, strings.TrimLeftFunc(after[min(1, len(after)):], isSpaceOfList), true
		}
	}
	return "", "", false
}

func isSpaceOfList(r rune) bool { return r == ' ' || r == '\t' || r == '\r' }

// doubtfulCommas words why splitNumbers can not split a list.
const doubtfulCommas = "a comma may be a decimal mark or part two numbers"

// splitNumbers takes a list of numbers apart at its commas, semicolons and
// line breaks and returns the marks to read them with. A comma between two
// digits is a decimal mark where the file has decimal commas and the list is
// parted in another way; ok is false where it could be either.
func splitNumbers(list string, m value.Marks) (items []string, marks value.Marks, ok bool) {
	tight, other := false, false
	for i, r := range list {
		if r == ',' && isDigitAt(list, i-1) && isDigitAt(list, i+1) {
			tight = true
		} else if isSeparator(r) {
			other = true
		}
	}
	decimal := tight && other && m.Decimal == ','
	if tight && !decimal && (m.Decimal == ',' || other && m.Decimal == 0) {
		return nil, m, false
	}
	if !decimal && m.Decimal == 0 {
		m.Decimal = '.'
	}
	start := 0
	for i, r := range list {
		if isSeparator(r) && !(decimal && r == ',' && isDigitAt(list, i-1) && isDigitAt(list, i+1)) {
			items = append(items, trim(list[start:i]))
			start = i + 1
		}
	}
	return append(items, trim(list[start:])), m, true
}

func isDigitAt(s string, i int) bool { return i >= 0 && i < len(s) && s[i] >= '0' && s[i] <= '9' }
