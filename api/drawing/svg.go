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

// Line is a path without a fill.
func (p svgPaper) Line(pen Pen, at ...Point) { p.path(pen, NoShade, at, "") }

// Area is a closed path.
func (p svgPaper) Area(pen Pen, f Shade, at ...Point) { p.path(pen, f, at, "Z") }

func (p svgPaper) path(pen Pen, f Shade, at []Point, end string) {
	p.w.WriteString(`<path d="`)
	for i, s := range at {
		p.w.WriteString([]string{"M", "L"}[min(i, 1)] + mm(s.X) + " " + mm(s.Y))
	}
	p.w.WriteString(end + `"`)
	p.look(pen, f)
}

// Circle is a circle.
func (p svgPaper) Circle(pen Pen, f Shade, middle Point, radius float64) {
	p.w.WriteString(`<circle cx="` + mm(middle.X) + `" cy="` + mm(middle.Y) + `" r="` + mm(radius) + `"`)
	p.look(pen, f)
}

// look ends an element with its fill and its line.
func (p svgPaper) look(pen Pen, f Shade) {
	if f == NoShade {
		p.w.WriteString(` fill="none"`)
	} else {
		fmt.Fprintf(p.w, ` fill="#%02x%02[1]x%02[1]x"`, greys[f])
	}
	if s := strokes[pen]; pen != NoPen {
		p.w.WriteString(` stroke="#000" stroke-width="` + mm(s.width) + `" stroke-linejoin="round"`)
		if s.dash > 0 {
			p.w.WriteString(` stroke-dasharray="` + mm(s.dash) + `"`)
		}
	}
	p.w.WriteString("/>\n")
}

// Text holds each text to the width that was measured, whatever the font.
func (p svgPaper) Text(t Text) {
	p.w.WriteString(`<text x="` + mm(t.At.X) + `" y="` + mm(t.At.Y) + `" font-size="` + mm(t.Size) + `"`)
	if t.Bold {
		p.w.WriteString(` font-weight="bold"`)
	}
	if t.Anchor != AtStart {
		p.w.WriteString(` text-anchor="` + []string{"start", "middle", "end"}[t.Anchor] + `"`)
	}
	if t.Turned {
		p.w.WriteString(` transform="rotate(-90 ` + mm(t.At.X) + " " + mm(t.At.Y) + `)"`)
	}
	p.w.WriteString(` textLength="` + mm(t.width()) + `" lengthAdjust="spacingAndGlyphs">` + escape(t.Text) + "</text>\n")
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
