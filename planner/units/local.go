package units

import (
	"iter"
	"regexp"
	"strconv"
	"strings"
)

// named is a length in millimetres or a mass in kilograms in a sentence.
var named = regexp.MustCompile(`[0-9]+(?:\.[0-9]+)? (?:mm|kg)\b`)

// Speech is how a plant's people read the measures in sentences: lengths in inches
// where their length unit is in, ft or yd, masses in pounds where their mass unit is
// lb or oz. The zero Speech is millimetres and kilograms.
type Speech struct {
	inches, pounds bool
	// names are the people's own that contain a measure, as "box 600 mm" does.
	names []string
}

// NewSpeech returns the speech of people with those units, whose codes and names
// stay as they are.
func NewSpeech(lengthUnit, massUnit string, names iter.Seq[string]) Speech {
	s := Speech{
		inches: lengthUnit == "in" || lengthUnit == "ft" || lengthUnit == "yd",
		pounds: massUnit == "lb" || massUnit == "oz",
	}
	if !s.inches && !s.pounds {
		return s
	}
	for name := range names {
		if (strings.Contains(name, " mm") || strings.Contains(name, " kg")) && named.MatchString(name) {
			s.names = append(s.names, name)
		}
	}
	return s
}

// Local writes the lengths and masses that a sentence names in millimetres and
// kilograms as the people read them. Inches and pounds have two decimals at most.
// What stands in quotes or in one of the names is as it was, for it is somebody's
// own word; so are rates (kg/h) and products (30 x 30 x 2.5 mm).
func (s Speech) Local(text string) string {
	if !s.inches && !s.pounds {
		return text
	}
	places := named.FindAllStringIndex(text, -1)
	if places == nil {
		return text
	}
	own := ownWords(text, s.names)
	var b strings.Builder
	done := 0
	for _, at := range places {
		from, to := at[0], at[1]
		number, unit, _ := strings.Cut(text[from:to], " ")
		if unit == "mm" && !s.inches || unit == "kg" && !s.pounds || own(from) || within(text, from, to) {
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

// ownWords reports whether a place of text lies in quotes or in one of the names.
func ownWords(text string, names []string) func(at int) bool {
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
	for _, c := range names {
		for from := 0; ; {
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
