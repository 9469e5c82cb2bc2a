package drawing

import (
	"fmt"
	"io"
	"iter"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
)

// pdfPaper writes one page of a document. It knows what is set, for setting it
// again costs more than drawing.
type pdfPaper struct {
	f     *fpdf.Fpdf
	pen   Pen
	shade Shade
	bold  bool
	size  float64
}

// face is the name of the font inside the document.
const face = "go"

// writePDF writes sheets of one size, each on a page. The same sheets give the
// same bytes: the document has no date of its own.
func writePDF(w io.Writer, s Size, title string, sheets iter.Seq[func(Paper)]) error {
	f := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: s.Width, Ht: s.Height}})
	f.SetAutoPageBreak(false, 0)
	f.SetMargins(0, 0, 0)
	f.SetCatalogSort(true)
	f.SetCreationDate(time.Unix(0, 0).UTC())
	f.SetModificationDate(time.Unix(0, 0).UTC())
	f.SetTitle(title, true)
	f.SetProducer("Lanewright", true)
	f.SetLang("en")
	f.AddUTF8FontFromBytes(face, "", goregular.TTF)
	f.AddUTF8FontFromBytes(face, "B", gobold.TTF)
	f.SetLineJoinStyle("round")
	for body := range sheets {
		f.AddPage()
		body(&pdfPaper{f: f})
	}
	if err := f.Output(w); err != nil {
		return fmt.Errorf("write drawing: %w", err)
	}
	return nil
}

// Line is an open path.
func (p *pdfPaper) Line(pen Pen, at ...Point) {
	p.look(pen, NoShade)
	p.trace(at)
	p.f.DrawPath("D")
}

// Area is a closed one.
func (p *pdfPaper) Area(pen Pen, f Shade, at ...Point) {
	p.look(pen, f)
	p.trace(at)
	p.f.ClosePath()
	p.f.DrawPath(style(pen, f))
}

// Circle is a circle.
func (p *pdfPaper) Circle(pen Pen, f Shade, middle Point, radius float64) {
	p.look(pen, f)
	p.f.Circle(middle.X, middle.Y, radius, style(pen, f))
}

func (p *pdfPaper) trace(at []Point) {
	for i, s := range at {
		if i == 0 {
			p.f.MoveTo(s.X, s.Y)
		} else {
			p.f.LineTo(s.X, s.Y)
		}
	}
}

// style says what is done with a path: drawn, filled, both.
func style(pen Pen, f Shade) string {
	switch {
	case f == NoShade:
		return "D"
	case pen == NoPen:
		return "F"
	}
	return "FD"
}

func (p *pdfPaper) look(pen Pen, f Shade) {
	if f != NoShade && f != p.shade {
		p.f.SetFillColor(greys[f], greys[f], greys[f])
		p.shade = f
	}
	if pen == NoPen || pen == p.pen {
		return
	}
	s := strokes[pen]
	p.f.SetLineWidth(s.width)
	if s.dash > 0 {
		p.f.SetDashPattern([]float64{s.dash, s.dash}, 0)
	} else if p.pen == Dashed || p.pen == NoPen {
		p.f.SetDashPattern(nil, 0)
	}
	p.pen = pen
}

// Rollers are dots of a dotted line, black and smaller ones in white over them.
func (p *pdfPaper) Rollers(from, to Point, pitch, radius float64) {
	p.f.SetLineCapStyle("round")
	p.f.SetDashPattern([]float64{0, pitch}, 0)
	for _, one := range rings(radius) {
		p.f.SetDrawColor(greys[one.shade], greys[one.shade], greys[one.shade])
		p.f.SetLineWidth(one.width)
		p.f.Line(from.X, from.Y, to.X, to.Y)
	}
	p.f.SetLineCapStyle("butt")
	p.f.SetDashPattern(nil, 0)
	p.f.SetDrawColor(0, 0, 0)
	p.pen = NoPen
}

// Text stands where its anchor says.
func (p *pdfPaper) Text(t Text) {
	p.font(t.Bold, t.Size)
	back := t.width() * float64(t.Anchor) / 2
	if !t.Turned {
		p.f.Text(t.At.X-back, t.At.Y, known(t.Text))
		return
	}
	p.f.TransformBegin()
	p.f.TransformRotate(90, t.At.X, t.At.Y)
	p.f.Text(t.At.X-back, t.At.Y, known(t.Text))
	p.f.TransformEnd()
}

func (p *pdfPaper) font(bold bool, size float64) {
	if p.size == size && p.bold == bold {
		return
	}
	style := ""
	if bold {
		style = "B"
	}
	const points = 72 / 25.4
	p.f.SetFont(face, style, size*points)
	p.bold, p.size = bold, size
}

// known puts a question mark for each sign that the fonts do not have.
func known(s string) string {
	return strings.Map(func(r rune) rune {
		for _, span := range signs {
			if r >= span[0] && r <= span[1] {
				return r
			}
		}
		return '?'
	}, s)
}

// signs are the spans of signs that both Go fonts have and that names and texts
// are written in: Latin, Greek, Cyrillic, marks and fractions.
var signs = [...][2]rune{
	{0x20, 0x7e}, {0xa0, 0x17f}, {0x384, 0x38a}, {0x38c, 0x38c}, {0x38e, 0x3a1}, {0x3a3, 0x3ce}, {0x400, 0x45f},
	{0x2013, 0x2015}, {0x2017, 0x201e}, {0x2020, 0x2022}, {0x2026, 0x2026}, {0x2030, 0x2030}, {0x2032, 0x2033},
	{0x20ac, 0x20ac}, {0x2122, 0x2122}, {0x215b, 0x215e}, {0x2190, 0x2195}, {0x2264, 0x2265},
}
