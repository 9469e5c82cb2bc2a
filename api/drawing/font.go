package drawing

import (
	"strings"
	"unicode"
)

// Both writers set their text in the Go fonts, by Bigelow & Holmes, under the
// BSD licence of the Go project; the PDF carries the signs it uses, the SVG asks
// for fonts of the same widths and holds each text to its measured width.

// How far a text reaches over and under its base line, in sizes.
const (
	ascent  = 0.76
	descent = 0.22
)

// otherWidth is taken for signs beyond the tables of widths: the widest sign of
// the two fonts is 1.115 wide.
const otherWidth = 1115

// width is how long t is in mm.
func (t Text) width() float64 {
	table := &plainWidths
	if t.Bold {
		table = &boldWidths
	}
	sum := 0
	for _, r := range t.Text {
		w := otherWidth
		if r >= 0x20 && r < 0x180 {
			w = int(table[r-0x20])
		}
		sum += w
	}
	return float64(sum) * t.Size / 1000
}

// extent is the room t takes on the paper.
func (t Text) extent() box {
	w := t.width()
	start := -w * float64(t.Anchor) / 2
	up, down := ascent*t.Size, descent*t.Size
	if t.Turned {
		return box{t.At.X - up, t.At.Y - start - w, t.At.X + down, t.At.Y - start}
	}
	return box{t.At.X + start, t.At.Y - up, t.At.X + start + w, t.At.Y + down}
}

// centred moves t so that its middle lies at p.
func (t Text) centred(p Point) Text {
	t.Anchor = AtMiddle
	drop := (ascent - descent) / 2 * t.Size
	t.At = Point{p.X, p.Y + drop}
	if t.Turned {
		t.At = Point{p.X + drop, p.Y}
	}
	return t
}

// noBreak is the space at which no line is broken.
const noBreak = '\u00a0'

// wrap breaks text into lines no longer than width; a longer word is broken
// where it has to be. A no-break space is none.
func wrap(text string, size, width float64, bold bool) []string {
	long := func(s string) float64 { return Text{Size: size, Bold: bold, Text: s}.width() }
	fits := func(s string) bool { return long(s) <= width }
	var lines []string
	line, at, space := "", 0.0, long(" ")
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return unicode.IsSpace(r) && r != noBreak }) {
		wide := long(word)
		if line != "" && at+space+wide <= width {
			line, at = line+" "+word, at+space+wide
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		for line, at = word, wide; at > width && len([]rune(line)) > 1; at = long(line) {
			head := cut(line, fits)
			lines, line = append(lines, head), line[len(head):]
		}
	}
	return append(lines, line)
}

// cut is the longest beginning of word that fits, one sign at least.
func cut(word string, fits func(string) bool) string {
	end := 0
	for at, r := range word {
		next := at + len(string(r))
		if at > 0 && !fits(word[:next]) {
			break
		}
		end = next
	}
	return word[:end]
}
