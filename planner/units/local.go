package units

import (
	"regexp"
	"strconv"
	"strings"
)

// named is a length in millimetres or a mass in kilograms in a sentence.
var named = regexp.MustCompile(`[0-9]+(?:\.[0-9]+)? (?:mm|kg)\b`)

// Local writes the lengths and masses that a sentence names in millimetres and
// kilograms in inches and pounds, where the plant's people read those: length unit
// in, ft or yd; mass unit lb or oz. Inches and pounds have two decimals at most.
// What stands in quotes or in one of the codes is as it was, for it is somebody's
// own word; so are rates (kg/h) and products (30 x 30 x 2.5 mm).
func Local(text, lengthUnit, massUnit string, codes ...string) string {
	inches := lengthUnit == "in" || lengthUnit == "ft" || lengthUnit == "yd"
	pounds := massUnit == "lb" || massUnit == "oz"
	if !inches && !pounds {
		return text
	}
	own := ownWords(text, codes)
	var b strings.Builder
	done := 0
	for _, at := range named.FindAllStringIndex(text, -1) {
		from, to := at[0], at[1]
		number, unit, _ := strings.Cut(text[from:to], " ")
		if unit == "mm" && !inches || unit == "kg" && !pounds || own(from) || within(text, from, to) {
			continue
		}
		value, err := strconv.ParseFloat(number, 64)
		if err != nil {
			continue
		}
		b.WriteString(text[done:from])
		if unit == "mm" {
			b.WriteString(hundredths(value*float64(Millimetre)/float64(Inch)) + " in")
		} else {
			b.WriteString(hundredths(value*float64(Kilogram)/float64(Pound)) + " lb")
		}
		done = to
	}
	return b.String() + text[done:]
}

// within reports whether the measure at from is part of something longer: another
// number, a product, a range, a rate, or a pair that has the other unit already.
func within(text string, from, to int) bool {
	before, after := text[:from], text[to:]
	if before != "" && strings.ContainsAny(before[len(before)-1:], "0123456789.,/") {
		return true
	}
	for _, joint := range []string{" x ", " to ", " and ", " or ", " – ", "-"} {
		if rest, ok := strings.CutSuffix(before, joint); ok && rest != "" && rest[len(rest)-1] >= '0' && rest[len(rest)-1] <= '9' {
			return true
		}
	}
	return strings.HasPrefix(after, "/") || strings.HasPrefix(after, "²") || strings.HasPrefix(after, "³") || strings.HasPrefix(after, " (")
}

// ownWords reports whether a place of text lies in quotes or in one of the codes.
func ownWords(text string, codes []string) func(at int) bool {
	own := make([]bool, len(text))
	mark := func(from, to int) {
		for i := from; i < to; i++ {
			own[i] = true
		}
	}
	for from := 0; ; {
		open := strings.IndexByte(text[from:], '"')
		if open < 0 {
			break
		}
		open += from
		length := strings.IndexByte(text[open+1:], '"')
		if length < 0 {
			break
		}
		from = open + length + 2
		mark(open, from)
	}
	for _, c := range codes {
		for from := 0; c != ""; {
			i := strings.Index(text[from:], c)
			if i < 0 {
				break
			}
			mark(from+i, from+i+len(c))
			from += i + len(c)
		}
	}
	return func(at int) bool { return own[at] }
}

// hundredths writes f with two decimals at most.
func hundredths(f float64) string {
	return strings.TrimSuffix(strings.TrimRight(strconv.FormatFloat(f, 'f', 2, 64), "0"), ".")
}
