package drawing

import (
	"bufio"
	"encoding/xml"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// fonts are asked for in this order; the first have the widths of the Go fonts.
const fonts = "'Go', Arial, Helvetica, 'Liberation Sans', 'DejaVu Sans', sans-serif"

// svgPaper writes one picture.
type svgPaper struct{ w *bufio.Writer }

// writeSVG writes one sheet as a picture of its true size, with a title and a
// description for those who can't see it.
func writeSVG(w io.Writer, s Size, title, description string, body func(Paper)) error {
	p := svgPaper{bufio.NewWriter(w)}
	fmt.Fprintf(p.w, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %s %s" width="%smm" height="%smm" role="img" aria-labelledby="t d" font-family="%s">`+"\n",
		mm(s.Width), mm(s.Height), mm(s.Width), mm(s.Height), fonts)
	fmt.Fprintf(p.w, "<title id=\"t\">%s</title>\n<desc id=\"d\">%s</desc>\n", escape(title), escape(description))
	p.Area(NoPen, White, box{0, 0, s.Width, s.Height}.corners()...)
	body(p)
	fmt.Fprint(p.w, "</svg>\n")
	if err := p.w.Flush(); err != nil {
		return fmt.Errorf("write drawing: %w", err)
	}
	return nil
}

// put writes a text; the writer keeps its first error for Flush.
func (p svgPaper) put(s string) { _, _ = p.w.WriteString(s) }

// Line is a path without a fill.
func (p svgPaper) Line(pen Pen, at ...Point) { p.path(pen, NoShade, at, "") }

// Area is a closed path.
func (p svgPaper) Area(pen Pen, f Shade, at ...Point) { p.path(pen, f, at, "Z") }

func (p svgPaper) path(pen Pen, f Shade, at []Point, end string) {
	p.put(`<path d="`)
	for i, s := range at {
		p.put([]string{"M", "L"}[min(i, 1)] + mm(s.X) + " " + mm(s.Y))
	}
	p.put(end + `"`)
	p.look(pen, f)
}

// Circle is a circle.
func (p svgPaper) Circle(pen Pen, f Shade, middle Point, radius float64) {
	p.put(`<circle cx="` + mm(middle.X) + `" cy="` + mm(middle.Y) + `" r="` + mm(radius) + `"`)
	p.look(pen, f)
}

// Rollers are dots of a dotted line, black and smaller ones in white over them.
func (p svgPaper) Rollers(from, to Point, pitch, radius float64) {
	for _, one := range rings(radius) {
		p.put(`<path d="M` + mm(from.X) + " " + mm(from.Y) + "L" + mm(to.X) + " " + mm(to.Y) + `" fill="none" stroke="` + grey(one.shade) +
			`" stroke-width="` + mm(one.width) + `" stroke-linecap="round" stroke-dasharray="0 ` + strconv.FormatFloat(pitch, 'f', 4, 64) + "\"/>\n")
	}
}

// ring is a dotted line of the two that make rings.
type ring struct {
	shade Shade
	width float64
}

func rings(radius float64) [2]ring {
	return [2]ring{{Black, 2*radius + ringWidth}, {White, 2*radius - ringWidth}}
}

func grey(f Shade) string { return fmt.Sprintf("#%02x%02[1]x%02[1]x", greys[f]) }

// look ends an element with its fill and its line.
func (p svgPaper) look(pen Pen, f Shade) {
	if f == NoShade {
		p.put(` fill="none"`)
	} else {
		p.put(` fill="` + grey(f) + `"`)
	}
	if s := strokes[pen]; pen != NoPen {
		p.put(` stroke="#000" stroke-width="` + mm(s.width) + `" stroke-linejoin="round"`)
		if s.dash > 0 {
			p.put(` stroke-dasharray="` + mm(s.dash) + `"`)
		}
	}
	p.put("/>\n")
}

// Text holds each text to the width that was measured, whatever the font.
func (p svgPaper) Text(t Text) {
	p.put(`<text x="` + mm(t.At.X) + `" y="` + mm(t.At.Y) + `" font-size="` + mm(t.Size) + `"`)
	if t.Bold {
		p.put(` font-weight="bold"`)
	}
	if t.Anchor != AtStart {
		p.put(` text-anchor="` + []string{"start", "middle", "end"}[t.Anchor] + `"`)
	}
	if t.Turned {
		p.put(` transform="rotate(-90 ` + mm(t.At.X) + " " + mm(t.At.Y) + `)"`)
	}
	p.put(` textLength="` + mm(t.width()) + `" lengthAdjust="spacingAndGlyphs">` + escape(t.Text) + "</text>\n")
}

// mm writes a length on paper, to a hundredth of a millimetre.
func mm(f float64) string {
	s := strconv.FormatFloat(f, 'f', 2, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

// escape makes any text safe inside an element; what XML can not hold becomes the
// sign for it.
func escape(s string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(s)) // a Builder never fails
	return b.String()
}
