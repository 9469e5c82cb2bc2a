package value

import (
	"strings"
	"unicode/utf8"

	"lanewright/planner/units"
)

// scanned is a number as a text writes it.
type scanned struct {
	negative bool
	body     string // digits with their decimal and grouping marks
	exponent string // "e-3", or empty
	num, den string // of a fraction behind the body, or empty
	rest     string // what follows the number
}

// longestNumber bounds how many characters a number may have.
const longestNumber = 40

// vulgar are the fractions that are one character.
var vulgar = map[rune][2]string{
	'½': {"1", "2"}, '¼': {"1", "4"}, '¾': {"3", "4"}, '⅓': {"1", "3"}, '⅔': {"2", "3"},
	'⅛': {"1", "8"}, '⅜': {"3", "8"}, '⅝': {"5", "8"}, '⅞': {"7", "8"}, '⅕': {"1", "5"}, '⅖': {"2", "5"},
	'⅗': {"3", "5"}, '⅘': {"4", "5"}, '⅙': {"1", "6"}, '⅚': {"5", "6"},
}

// scan takes a number from the beginning of a clean text.
func scan(s string) (scanned, bool) {
	var t scanned
	if s != "" && (s[0] == '-' || s[0] == '+') {
		t.negative = s[0] == '-'
		s = strings.TrimLeft(s[1:], " ")
	}
	n := bodyLength(s)
	t.body, t.rest = s[:n], s[n:]
	if n > longestNumber {
		return t, false
	}
	if !strings.ContainsAny(t.body, ".,") {
		t.fraction()
	}
	if t.den == "" {
		t.takeExponent()
	}
	return t, t.body != "" || t.den != ""
}

// bodyLength returns how far digits and their marks reach. A mark counts only
// before a digit; a space or apostrophe only before a group of three.
func bodyLength(s string) int {
	i, marks := 0, false
	for i < len(s) {
		c := s[i]
		switch {
		case isDigit(c):
		case (c == '.' || c == ',') && i+1 < len(s) && isDigit(s[i+1]):
			marks = true
		case (c == ' ' || c == '\'') && !marks && i > 0 && digitsAt(s[i+1:]) == 3 && isGroupStart(s[:i]) && !isFractionAt(s[i+1:]):
		default:
			return i
		}
		i++
	}
	return i
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// digitsAt counts the digits at the beginning of s.
func digitsAt(s string) int {
	n := 0
	for n < len(s) && isDigit(s[n]) {
		n++
	}
	return n
}

// isGroupStart reports whether what stands before a grouping mark is one to
// three digits, or groups of three after them.
func isGroupStart(s string) bool {
	n := 0
	for n < len(s) && isDigit(s[len(s)-1-n]) {
		n++
	}
	return n == len(s) && n <= 3 || n == 3
}

func isFractionAt(s string) bool {
	n := digitsAt(s)
	return n > 0 && n < len(s) && s[n] == '/' && digitsAt(s[n+1:]) > 0
}

// fraction takes a fraction that is the number itself (3/8, ½) or follows its
// whole part (15 1/4, 15-1/4, 15½).
func (t *scanned) fraction() {
	rest := t.rest
	switch {
	case t.body != "" && strings.HasPrefix(rest, "/") && digitsAt(rest[1:]) > 0:
		n := digitsAt(rest[1:])
		t.num, t.den, t.rest = t.body, rest[1:1+n], rest[1+n:]
		t.body = ""
		return
	case t.body != "":
		rest = strings.TrimLeft(rest, " ")
		rest = strings.TrimLeft(strings.TrimPrefix(rest, "-"), " ")
	}
	if isFractionAt(rest) && (t.body == "" || rest != t.rest) {
		n := digitsAt(rest)
		m := n + 1 + digitsAt(rest[n+1:])
		t.num, t.den, t.rest = rest[:n], rest[n+1:m], rest[m:]
		return
	}
	r, n := utf8.DecodeRuneInString(rest)
	if f, ok := vulgar[r]; ok {
		t.num, t.den, t.rest = f[0], f[1], rest[n:]
	}
}

func (t *scanned) takeExponent() {
	s := t.rest
	if s == "" || s[0] != 'e' && s[0] != 'E' {
		return
	}
	i := 1
	if i < len(s) && (s[i] == '+' || s[i] == '-') {
		i++
	}
	n := digitsAt(s[i:])
	if n == 0 || n > 3 {
		return
	}
	t.exponent, t.rest = s[:i+n], s[i+n:]
}

// number returns the value. Where the decimal mark is not known and the body
// can be read in two ways, other is the reading with a grouping mark.
func (t *scanned) number(m Marks) (v units.Ratio, other *units.Ratio, ok bool) {
	body, grouped, ok := t.plain(m)
	if !ok {
		return v, nil, false
	}
	if v, ok = t.value(body); !ok || grouped == "" {
		return v, nil, ok
	}
	g, ok := t.value(grouped)
	return v, &g, ok
}

// value puts sign, exponent and fraction to a plain decimal.
func (t *scanned) value(body string) (units.Ratio, bool) {
	var v units.Ratio
	var err error
	if body != "" {
		if v, err = units.ParseRatio(body + t.exponent); err != nil {
			return v, false
		}
	}
	if t.den != "" {
		f, err := units.ParseRatio(t.num + "/" + t.den)
		if err != nil || body != "" && f.Cmp(units.Int(1)) >= 0 {
			return v, false
		}
		v = v.Add(f)
	}
	if t.negative {
		v = units.Int(0).Sub(v)
	}
	return v, true
}

// plain returns the body as a decimal with a point. grouped is the other
// reading of a single mark before exactly three digits.
func (t *scanned) plain(m Marks) (body, grouped string, ok bool) {
	s := strings.ReplaceAll(strings.ReplaceAll(t.body, " ", ""), "'", "")
	points, commas := strings.Count(s, "."), strings.Count(s, ",")
	switch {
	case points+commas == 0:
		return s, "", true
	case m.Decimal == '.' || m.Decimal == ',':
		return split(s, byte(m.Decimal), otherMark(byte(m.Decimal)))
	case points > 0 && commas > 0:
		decimal := byte('.')
		if strings.LastIndexByte(s, ',') > strings.LastIndexByte(s, '.') {
			decimal = ','
		}
		return split(s, decimal, otherMark(decimal))
	}
	mark := byte('.')
	if commas > 0 {
		mark = ','
	}
	if points+commas > 1 {
		return split(s, otherMark(mark), mark)
	}
	body, _, ok = split(s, mark, otherMark(mark))
	if whole, _, wellGrouped := split(s, otherMark(mark), mark); wellGrouped && len(s) == len(t.body) {
		grouped = whole
	}
	return body, grouped, ok
}

func otherMark(c byte) byte {
	if c == '.' {
		return ','
	}
	return '.'
}

// split reads s with these two marks. Groups have three digits, the first one
// to three and no leading zero; the decimal mark stands once, behind them.
func split(s string, decimal, grouping byte) (body, none string, ok bool) {
	whole, decimals, has := strings.Cut(s, string(decimal))
	if strings.IndexByte(decimals, decimal) >= 0 || strings.IndexByte(decimals, grouping) >= 0 {
		return "", "", false
	}
	groups := strings.Split(whole, string(grouping))
	for i, g := range groups {
		if len(groups) > 1 && (i > 0 && len(g) != 3 || i == 0 && (len(g) == 0 || len(g) > 3 || g[0] == '0')) {
			return "", "", false
		}
	}
	body = strings.Join(groups, "")
	if body == "" {
		body = "0"
	}
	if has {
		body += "." + decimals
	}
	return body, "", true
}
