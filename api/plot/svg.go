// Package plot draws what a plan lived through, and what plans are compared by, as
// SVG: text that any browser or office program shows. Every picture has its own
// ground, so that it reads the same on white and on dark, a title and a
// description for those who can't see it, and tells nothing by colour alone.
package plot

import (
	"bufio"
	"encoding/xml"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// The look: calm, with one colour that means harm.
const (
	ground = "#fbfcfb"
	shade  = "#e6ebe7"
	rule   = "#d3dbd5"
	ink    = "#1b2521"
	quiet  = "#52605a"
	accent = "#0a5a55"
	harm   = "#95271a"
)

// box is a rectangle in pixels; y grows downwards.
type box struct{ left, top, right, bottom float64 }

func (b box) width() float64  { return b.right - b.left }
func (b box) height() float64 { return b.bottom - b.top }

// attributes are written in the order given: name, value, name, value.
type attributes []string

// canvas writes the elements of one picture.
type canvas struct {
	w *bufio.Writer
}

// draw writes a picture of a size: its head, what body draws, its end.
func draw(w io.Writer, width, height int, title, description string, body func(*canvas)) error {
	c := &canvas{bufio.NewWriter(w)}
	fmt.Fprintf(c.w, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" width="%d" height="%d" role="img" aria-labelledby="t d" font-family="system-ui, 'Noto Sans', 'DejaVu Sans', sans-serif" font-size="12">`+"\n", width, height, width, height)
	fmt.Fprintf(c.w, "<title id=\"t\">%s</title>\n<desc id=\"d\">%s</desc>\n", escape(title), escape(description))
	fmt.Fprint(c.w, `<defs><pattern id="h" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="7" height="7" fill="#fbe9e5"/><path d="M0 0V7" stroke="#cf8176" stroke-width="2"/></pattern></defs>`+"\n")
	c.rect("ground", box{0, 0, float64(width), float64(height)}, "fill", ground)
	body(c)
	fmt.Fprint(c.w, "</svg>\n")
	if err := c.w.Flush(); err != nil {
		return fmt.Errorf("write plot: %w", err)
	}
	return nil
}

// element writes one element of a class, with text inside or none.
func (c *canvas) element(name, class string, text string, a attributes) {
	fmt.Fprintf(c.w, `<%s class="%s"`, name, class)
	for i := 0; i+1 < len(a); i += 2 {
		fmt.Fprintf(c.w, ` %s="%s"`, a[i], escape(a[i+1]))
	}
	if text == "" {
		fmt.Fprint(c.w, "/>\n")
		return
	}
	fmt.Fprintf(c.w, ">%s</%s>\n", escape(text), name)
}

func (c *canvas) rect(class string, b box, a ...string) {
	c.element("rect", class, "", append(attributes{
		"x", px(b.left), "y", px(b.top), "width", px(max(0, b.width())), "height", px(max(0, b.height())),
	}, a...))
}

func (c *canvas) line(class string, x1, y1, x2, y2 float64, a ...string) {
	c.element("path", class, "", append(attributes{"d", "M" + px(x1) + " " + px(y1) + "L" + px(x2) + " " + px(y2)}, a...))
}

// at is a spot of the picture.
type at struct{ x, y float64 }

// curve joins spots with straight lines.
func (c *canvas) curve(class string, spots []at, a ...string) {
	if len(spots) == 0 {
		return
	}
	var d strings.Builder
	for i, s := range spots {
		d.WriteString([]string{"M", "L"}[min(i, 1)])
		d.WriteString(px(s.x) + " " + px(s.y))
	}
	c.element("path", class, "", append(attributes{"d", d.String(), "fill", "none"}, a...))
}

// Where a text stands against its spot.
const (
	atStart  = "start"
	atMiddle = "middle"
	atEnd    = "end"
)

func (c *canvas) text(class string, x, y float64, anchor, s string, a ...string) {
	if s == "" {
		return
	}
	c.element("text", class, s, append(attributes{"x", px(x), "y", px(y), "text-anchor", anchor}, a...))
}

// px writes a length in pixels, to a tenth.
func px(f float64) string {
	s := strconv.FormatFloat(f, 'f', 1, 64)
	return strings.TrimSuffix(s, ".0")
}

// escape makes any text safe inside an element or an attribute; what XML can not
// hold becomes the sign for it.
func escape(s string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(s)) // a Builder never fails
	return b.String()
}

// textWidth is about how wide a text is at a size, for keeping texts apart.
func textWidth(s string, size float64) float64 { return 0.58 * size * float64(len([]rune(s))) }
