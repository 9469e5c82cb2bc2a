package drawing

import (
	"image/color"
	"strings"

	"github.com/boombuler/barcode"
	"github.com/boombuler/barcode/code128"
	"github.com/boombuler/barcode/qr"
)

// symbol is a code that a reader reads: dark and light modules in rows.
type symbol struct {
	dark [][]bool
	// quiet is how many modules stay white on each side.
	quiet int
	// flat symbols have one row, as high as there is room.
	flat bool
}

// Quiet zones in modules: ISO/IEC 18004 for QR codes, ISO/IEC 15417 for Code 128;
// both from memory. A module is no smaller than these, in mm: what a printer of 300
// dots an inch prints and a hand scanner reads, common practice, no source.
const (
	quietSquare  = 4
	quietBars    = 10
	leastModule  = 0.4
	leastBar     = 0.25
	mostBar      = 0.5
	leastBarHigh = 6.0
)

// squareCode is the QR code of a text; its quarter may be dirty (level M: 15 % of it
// is restored). ok is false where the text is longer than a QR code can be.
func squareCode(text string) (s symbol, ok bool) {
	b, err := qr.Encode(text, qr.M, qr.Auto)
	if err != nil {
		b, err = qr.Encode(text, qr.M, qr.Unicode)
	}
	if err != nil {
		return symbol{}, false
	}
	return symbol{dark: modules(b), quiet: quietSquare}, true
}

// barCode is the Code 128 of a text; ok is false where it has signs that Code 128
// does not have, or is too long.
func barCode(text string) (s symbol, ok bool) {
	if text == "" || strings.ContainsFunc(text, func(r rune) bool { return r < ' ' || r > '~' }) {
		return symbol{}, false
	}
	b, err := code128.Encode(text)
	if err != nil {
		return symbol{}, false
	}
	return symbol{dark: modules(b)[:1], quiet: quietBars, flat: true}, true
}

func modules(b barcode.Barcode) [][]bool {
	in := b.Bounds()
	rows := make([][]bool, in.Dy())
	for y := range rows {
		rows[y] = make([]bool, in.Dx())
		for x := range rows[y] {
			rows[y][x] = b.At(in.Min.X+x, in.Min.Y+y) == color.Black
		}
	}
	return rows
}

// wide is how many modules s is wide with its quiet zones.
func (s symbol) wide() int { return len(s.dark[0]) + 2*s.quiet }

// draw fills a box with s as far as its modules stay square; a flat one is as high
// as the box. The quiet zones lie inside the box.
func (s symbol) draw(p Paper, in box) {
	one := in.width() / float64(s.wide())
	if !s.flat {
		one = min(one, in.height()/float64(s.wide()))
	}
	left := (in.left+in.right)/2 - one*float64(len(s.dark[0]))/2
	top, high := in.top, in.height()
	if !s.flat {
		top, high = (in.top+in.bottom)/2-one*float64(len(s.dark))/2, one
	}
	for y, row := range s.dark {
		for x := 0; x < len(row); x++ {
			from := x
			for x < len(row) && row[x] {
				x++
			}
			if x > from {
				p.Area(NoPen, Black, s.run(y, left+one*float64(from), left+one*float64(x), top+one*float64(y), high)...)
			}
		}
	}
}

// run is a stretch of dark modules. It reaches a little into the row below where a
// row follows, for on a screen a seam between two areas shows as a white line.
func (s symbol) run(row int, left, right, top, high float64) []Point {
	const seam = 0.01
	bottom := top + high
	if row+1 < len(s.dark) {
		bottom += seam
	}
	return box{left, top, right, bottom}.corners()
}
