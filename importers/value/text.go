package value

import (
	"slices"
	"strings"
	"unicode"

	"lanewright/importers/sheet"
)

// blanks are the texts by which people say that there is no value, and databases too: NULL, \N.
var blanks = []string{"", "-", "--", "---", "–", "—", "?", "n/a", "n.a.", "tbd", "t.b.d.", "tbc", "k.a.", "k. a.", "n/d", "n.d.", "s/d", "null", "(null)", `\n`}

// Blank reports whether a cell gives no value: empty, "-", "n/a", "tbd" and
// the like. An error value or a formula without a result is not blank.
func Blank(c sheet.Cell) bool {
	if c.Error || c.NoValue || c.Number || len(c.Text) > 16 {
		return false
	}
	return slices.Contains(blanks, strings.ToLower(strings.TrimSpace(c.Text)))
}

// clean returns a text with outer space cut and the many shapes of spaces,
// signs, quotes and digits made plain.
func clean(text string) string {
	return strings.TrimSpace(strings.Map(plainRune, text))
}

func plainRune(r rune) rune {
	switch {
	case r < 0x80:
		return r
	case unicode.IsSpace(r) || r == '\u202f' || r == '\u200b' || r == '\ufeff':
		return ' '
	case r >= '０' && r <= '９':
		return '0' + r - '０'
	}
	switch r {
	case '−', '–', '—', '‐', '‑':
		return '-'
	case '’', '‘', '′', '´':
		return '\''
	case '“', '”', '″':
		return '"'
	case '，':
		return ','
	case '．':
		return '.'
	case '⁄', '∕':
		return '/'
	}
	return r
}

// fold returns a text for comparing words: clean, lower case, single spaces.
func fold(text string) string {
	return strings.Join(strings.Fields(strings.ToLower(clean(text))), " ")
}
