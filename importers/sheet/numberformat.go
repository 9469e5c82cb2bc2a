package sheet

import "strings"

// formatKind says how a number format changes what a cell shows.
type formatKind int

const (
	formatPlain      formatKind = iota // the number itself
	formatDigits                       // padded digits with literal text
	formatPercent                      // times 100, with a percent sign
	formatScientific                   // with an exponent
	formatDate                         // a date, a time or both
)

// numberFormat is one number format, reduced to what fixes the text of a
// code: padding, literal text, dates. Grouping marks and rounding are left
// out, so a text never has fewer digits than the number.
type numberFormat struct {
	kind                      formatKind
	hasDate, hasTime, elapsed bool
	prefix, suffix            string
	// pattern is the integer part from the left.
	pattern []patternPiece
	// zeros counts the integer digits always shown.
	zeros int
	// decimals counts the decimals always shown, exponent those of an exponent.
	decimals, exponent int
	inline             bool // pattern holds literal text
}

// patternPiece is a digit ('0' always shown, '#' shown when there is one) or,
// where digit is 0, a text between digits.
type patternPiece struct {
	digit byte
	text  string
}

// builtinFormat returns the format a workbook refers to by number only
// (ISO/IEC 29500-1, 18.8.30); the numbers left out are plain, fractions or
// accounting formats whose text adds nothing to the number.
func builtinFormat(id int) numberFormat {
	switch {
	case id == 2 || id == 4 || id == 39 || id == 40:
		return numberFormat{kind: formatDigits, zeros: 1, decimals: 2}
	case id == 9 || id == 10:
		return numberFormat{kind: formatPercent}
	case id == 11:
		return numberFormat{kind: formatScientific, decimals: 2, exponent: 2}
	case id >= 14 && id <= 17, id >= 27 && id <= 31, id >= 34 && id <= 36, id >= 50 && id <= 58:
		return numberFormat{kind: formatDate, hasDate: true}
	case id >= 18 && id <= 21, id == 32, id == 33, id == 45, id == 47:
		return numberFormat{kind: formatDate, hasTime: true}
	case id == 22:
		return numberFormat{kind: formatDate, hasDate: true, hasTime: true}
	case id == 46:
		return numberFormat{kind: formatDate, hasTime: true, elapsed: true}
	}
	return numberFormat{}
}

// formatParser walks one section of a format code.
type formatParser struct {
	f         numberFormat
	literal   strings.Builder // since the last digit
	digits    int             // placeholders seen
	inDecimal bool
	inExp     bool
	unclear   bool // holds something whose text is not worked out here
}

// longestFormat is the length in bytes beyond which a format code is not
// worked out; spreadsheet programs allow 255 characters.
const longestFormat = 1024

// parseFormat reduces a format code. Only the section for positive numbers
// counts.
func parseFormat(code string) numberFormat {
	if len(code) > longestFormat {
		return numberFormat{}
	}
	var p formatParser
	for i := 0; i < len(code); {
		n := p.step(code[i:])
		if n == 0 {
			break
		}
		i += n
	}
	return p.finish()
}

// step reads one element at the beginning of rest and returns its length; 0
// ends the section.
func (p *formatParser) step(rest string) int {
	low := strings.ToLower(rest)
	switch c := rest[0]; {
	case c == ';':
		return 0
	case c == '"':
		text, _, closed := strings.Cut(rest[1:], `"`)
		p.literal.WriteString(text)
		if !closed {
			return len(rest)
		}
		return len(text) + 2
	case c == '\\' && len(rest) > 1:
		n := runeLen(rest[1:])
		p.literal.WriteString(rest[1 : 1+n])
		return 1 + n
	case (c == '_' || c == '*') && len(rest) > 1:
		return 1 + runeLen(rest[1:])
	case c == '[':
		return p.bracket(rest)
	case strings.HasPrefix(low, "general"):
		p.digit('0')
		return len("general")
	case strings.HasPrefix(low, "am/pm"):
		return p.dateLetters("am/pm")
	case strings.HasPrefix(low, "a/p"):
		return p.dateLetters("a/p")
	case strings.HasPrefix(low, "e+"), strings.HasPrefix(low, "e-"):
		p.inExp = true
		return 2
	case strings.IndexByte("ymdhs", low[0]) >= 0:
		return p.dateLetters(low[:1])
	}
	return p.sign(rest)
}

// sign handles placeholders, marks and plain literals.
func (p *formatParser) sign(rest string) int {
	switch c := rest[0]; c {
	case '0', '#', '?':
		p.digit(c)
	case '.':
		if p.isDate() {
			return 1
		}
		p.unclear = p.unclear || p.inDecimal
		p.inDecimal = true
	case ',':
		p.unclear = p.unclear || !strings.ContainsAny(nextChar(rest), "0#?")
	case '%':
		p.f.kind = formatPercent
	case '@':
		p.unclear = true
	case '/':
		p.unclear = p.unclear || p.digits > 0 && !p.isDate() && p.literal.Len() == 0
		p.literal.WriteByte('/')
	default:
		n := runeLen(rest)
		p.literal.WriteString(rest[:n])
		return n
	}
	return 1
}

func nextChar(rest string) string {
	if len(rest) < 2 {
		return " "
	}
	return rest[1:2]
}

func runeLen(s string) int {
	for i := range s {
		if i > 0 {
			return i
		}
	}
	return len(s)
}

func (p *formatParser) isDate() bool { return p.f.kind == formatDate }

// digit takes one digit placeholder.
func (p *formatParser) digit(c byte) {
	if p.isDate() {
		return
	}
	text := p.literal.String()
	switch {
	case p.inExp:
		p.f.exponent++
		return
	case p.digits == 0:
		p.f.prefix = text
	case text != "" && p.inDecimal:
		p.unclear = true
	case text != "":
		p.f.pattern = append(p.f.pattern, patternPiece{text: text})
		p.f.inline = true
	}
	p.literal.Reset()
	p.digits++
	switch {
	case p.inDecimal && c == '0':
		p.f.decimals++
	case p.inDecimal:
	case c == '0':
		p.f.zeros++
		p.f.pattern = append(p.f.pattern, patternPiece{digit: '0'})
	default:
		p.f.pattern = append(p.f.pattern, patternPiece{digit: '#'})
	}
}

// dateLetters takes letters that stand for a part of a date or time. Behind a
// digit placeholder they are taken as a unit somebody forgot to quote.
func (p *formatParser) dateLetters(letters string) int {
	if p.digits > 0 && !p.isDate() {
		p.literal.WriteString(letters)
		return len(letters)
	}
	p.f.kind = formatDate
	switch letters {
	case "y", "d":
		p.f.hasDate = true
	case "h", "s", "am/pm", "a/p":
		p.f.hasTime = true
	}
	return len(letters)
}

// bracket takes a colour, a condition, a currency or an elapsed time.
func (p *formatParser) bracket(rest string) int {
	inside, _, closed := strings.Cut(rest[1:], "]")
	if !closed {
		p.unclear = true
		return len(rest)
	}
	low := strings.ToLower(inside)
	switch {
	case low != "" && strings.Trim(low, low[:1]) == "" && strings.IndexByte("hms", low[0]) >= 0:
		p.f.kind = formatDate
		p.f.hasTime, p.f.elapsed = true, true
	case strings.HasPrefix(inside, "$"):
		symbol, _, _ := strings.Cut(inside[1:], "-")
		p.literal.WriteString(symbol)
	case strings.ContainsAny(inside, "<>="):
		p.unclear = true
	}
	return len(inside) + 2
}

func (p *formatParser) finish() numberFormat {
	f := p.f
	switch {
	case f.kind == formatDate:
		// A month alone ("mmm") is a date; beside hours m stands for minutes.
		f.hasDate = f.hasDate || !f.hasTime
		return numberFormat{kind: formatDate, hasDate: f.hasDate, hasTime: f.hasTime, elapsed: f.elapsed && !f.hasDate}
	case p.unclear || p.digits == 0:
		return numberFormat{}
	case f.kind == formatPercent:
		return numberFormat{kind: formatPercent}
	case p.inExp:
		if len(f.pattern) != 1 || f.prefix != "" || p.literal.Len() > 0 {
			return numberFormat{}
		}
		return numberFormat{kind: formatScientific, decimals: f.decimals, exponent: max(f.exponent, 1)}
	}
	f.suffix = p.literal.String()
	if f.inline && (f.decimals > 0 || p.inDecimal) {
		return numberFormat{}
	}
	if f.zeros <= 1 && f.decimals == 0 && f.prefix == "" && f.suffix == "" && !f.inline {
		return numberFormat{}
	}
	f.kind = formatDigits
	return f
}
