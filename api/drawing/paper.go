// Package drawing draws racks as they are built: from the front, cut through
// their lanes, from above, and as a build sheet of a page or two; and it prints
// what a plan is used by: the plant rack report, labels, loop cards and route
// sheets. Everything is drawn in black, white and greys on paper measured in
// millimetres, through one interface, Paper, that an SVG and a PDF stand behind.
package drawing

// Point is a place on the paper in mm from its left upper corner; Y grows
// downwards.
type Point struct{ X, Y float64 }

// Paper takes what is drawn, the later over the earlier.
type Paper interface {
	// Line joins places with straight lines.
	Line(p Pen, at ...Point)
	// Area is closed by itself.
	Area(p Pen, f Shade, at ...Point)
	Circle(p Pen, f Shade, middle Point, radius float64)
	// Rollers are rings of a radius along a line, the first at its beginning.
	Rollers(from, to Point, pitch, radius float64)
	Text(t Text)
}

// Pen says how a line looks.
type Pen int

// Pens: outlines of what is built are Thick or Medium, what lies behind and what
// measures is Thin, what may be there is Dashed.
const (
	NoPen Pen = iota
	Hair
	Thin
	Medium
	Thick
	Dashed
)

// stroke is a pen's width and the length of its dashes in mm, 0 for none.
type stroke struct{ width, dash float64 }

// strokes by pen; widths are those of ISO 128 for small drawings, from memory.
var strokes = [...]stroke{Hair: {width: 0.1}, Thin: {width: 0.18}, Medium: {width: 0.35}, Thick: {width: 0.5}, Dashed: {0.18, 1}}

// ringWidth is that of the rings of rollers.
const ringWidth = 0.12

// Shade is what an area is filled with.
type Shade int

// Shades.
const (
	NoShade Shade = iota
	White
	Pale
	Grey
	Black
)

// greys by shade, from 0 (black) to 255 (white).
var greys = [...]int{White: 255, Pale: 235, Grey: 190, Black: 0}

// Anchor says which end of a text stands at its place.
type Anchor int

// Anchors.
const (
	AtStart Anchor = iota
	AtMiddle
	AtEnd
)

// Text is one line of text.
type Text struct {
	// At is on the base line.
	At Point
	// Size is the font's size in mm.
	Size   float64
	Bold   bool
	Anchor Anchor
	// Turned text reads from below upwards.
	Turned bool
	Text   string
}

// box is a rectangle on the paper.
type box struct{ left, top, right, bottom float64 }

func (b box) width() float64  { return b.right - b.left }
func (b box) height() float64 { return b.bottom - b.top }

// corners go round b.
func (b box) corners() []Point {
	return []Point{{b.left, b.top}, {b.right, b.top}, {b.right, b.bottom}, {b.left, b.bottom}}
}

// meets reports whether two boxes have more than a border in common.
func (b box) meets(o box) bool {
	return b.left < o.right && o.left < b.right && b.top < o.bottom && o.top < b.bottom
}

// holds reports whether o lies inside b.
func (b box) holds(o box) bool {
	return o.left >= b.left && o.right <= b.right && o.top >= b.top && o.bottom <= b.bottom
}

// within makes b smaller by so much on every side.
func (b box) within(by float64) box {
	return box{b.left + by, b.top + by, b.right - by, b.bottom - by}
}

// Size is that of a sheet in mm, lying on its long side.
type Size struct{ Width, Height float64 }

// Sheets of paper.
var (
	a4     = Size{297, 210}
	letter = Size{279.4, 215.9}
)

// margin is what printers leave white, and a little more to punch.
const margin = 10.0

// inside is what of a sheet is drawn on.
func (s Size) inside() box { return box{0, 0, s.Width, s.Height}.within(margin) }
