package drawing

import (
	"math"

	"lanewright/planner/units"
)

// board is paper on which texts keep apart and stay inside a room.
type board struct {
	Paper
	room  box
	taken []box
}

// free reports whether a text may stand in b.
func (b *board) free(e box) bool {
	if !b.room.holds(e) {
		return false
	}
	for _, o := range b.taken {
		if o.meets(e) {
			return false
		}
	}
	return true
}

// write sets a text where its room is free, and reports whether it did.
func (b *board) write(t Text) bool {
	e := t.extent()
	if t.Text == "" || !b.free(e) {
		return false
	}
	b.taken = append(b.taken, e)
	b.Text(t)
	return true
}

// Sizes of text in mm. The least is 6 points: less can not be read on a wall.
const (
	titleSize = 3.4
	plainSize = 2.6
	leastSize = 2.12
)

// labelSizes are tried in this order for what stands inside a drawing.
var labelSizes = [...]float64{2.6, 2.35, leastSize}

// label writes the first of several wordings that fits into b, the first line of
// it in bold, as large as fits, and returns which one it was; all of them where
// none does.
func (b *board) label(in box, turned bool, wordings ...[]string) int {
	if !b.room.meets(in) {
		return len(wordings)
	}
	for n, lines := range wordings {
		for _, size := range labelSizes {
			if b.lines(in, turned, size, lines) {
				return n
			}
		}
	}
	return len(wordings)
}

// lines writes lines in the middle of a box, if they fit.
func (b *board) lines(in box, turned bool, size float64, lines []string) bool {
	const gap = 1.12
	texts := make([]Text, len(lines))
	for i, s := range lines {
		off := (float64(i) - float64(len(lines)-1)/2) * gap * size
		at := Point{(in.left + in.right) / 2, (in.top+in.bottom)/2 + off}
		if turned {
			at = Point{(in.left+in.right)/2 + off, (in.top + in.bottom) / 2}
		}
		texts[i] = Text{Size: size, Bold: i == 0, Turned: turned, Text: s}.centred(at)
		if e := texts[i].extent(); !in.within(0.3).holds(e) || !b.free(e) {
			return false
		}
	}
	for _, t := range texts {
		b.write(t)
	}
	return true
}

// view is a picture under way: millimetres of the rack become places on the
// paper.
type view struct {
	*board
	// origin is where the rack's left end meets the floor, or its pick side; times
	// is how many times smaller it is drawn.
	origin Point
	times  float64
	// cell is the picture's place on the paper.
	cell box
}

// at is a place so far across and so far up.
func (v *view) at(across, up units.Length) Point {
	return Point{v.origin.X + across.MM()/v.times, v.origin.Y - up.MM()/v.times}
}

// box is a rectangle from one corner to the opposite one.
func (v *view) box(across0, up0, across1, up1 units.Length) box {
	a, b := v.at(across0, up0), v.at(across1, up1)
	return box{min(a.X, b.X), min(a.Y, b.Y), max(a.X, b.X), max(a.Y, b.Y)}
}

// rect draws one.
func (v *view) rect(p Pen, f Shade, across0, up0, across1, up1 units.Length) {
	v.Area(p, f, v.box(across0, up0, across1, up1).corners()...)
}

// around draws a rectangle by its middle.
func (v *view) around(p Pen, f Shade, across, up, width, height units.Length) {
	v.rect(p, f, across-width/2, up-height/2, across+width/2, up+height/2)
}

// tilted are the corners of a rectangle whose lower left one stands at a place,
// turned so that its length rises by slope.
func (v *view) tilted(across, up, length, height units.Length, slope float64) []Point {
	tilt := math.Hypot(1, slope)
	along := func(l, h units.Length) Point {
		da, du := (float64(l)-float64(h)*slope)/tilt, (float64(l)*slope+float64(h))/tilt
		return v.at(across+units.Length(math.Round(da)), up+units.Length(math.Round(du)))
	}
	return []Point{along(0, 0), along(length, 0), along(length, height), along(0, height)}
}

// picture is a view of a rack before it has a place and a scale.
type picture struct {
	// name is its caption; note says below it what is not plain.
	name, note string
	// body is what is seen, around the dimensions about it; room is what these
	// take on each side, in mm of paper.
	body, around func(v *view, b box)
	room         box
	// least is what its dimensions take at any scale.
	least Size
	// bounds are those of the body in mm of the rack, up counted downwards.
	bounds box
}

// measured finds the bounds of a picture by drawing it once.
func measured(p picture) picture {
	o := outline{box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}}
	p.body(&view{board: &board{Paper: &o}, times: 1}, box{})
	p.bounds = o.box
	return p
}

// size is what the picture takes on paper, so many times smaller.
func (p picture) size(times float64) (width, height float64) {
	r := p.room
	width, height = p.bounds.width()/times+r.left+r.right, p.bounds.height()/times+r.top+r.bottom
	return max(width, p.caption(times).width()+1, p.small().width()+1, p.least.Width), max(height, p.least.Height) + captionHigh
}

// small is the note under the caption.
func (p picture) small() Text { return Text{Size: leastSize, Text: p.note} }

// caption names the picture and its scale.
func (p picture) caption(times float64) Text {
	return Text{Size: plainSize, Bold: true, Text: p.name + ", 1:" + decimal(times, 1)}
}

// draw puts the picture with its left upper corner at a place.
func (p picture) draw(b *board, corner Point, times float64) {
	wide, high := p.size(times)
	v := &view{board: b, times: times, cell: box{corner.X, corner.Y, corner.X + wide, corner.Y + high}}
	v.origin = Point{corner.X + p.room.left - p.bounds.left/times, corner.Y + p.room.top - p.bounds.top/times}
	body := box{left: corner.X + p.room.left, top: corner.Y + p.room.top}
	body.right, body.bottom = body.left+p.bounds.width()/times, body.top+p.bounds.height()/times
	name, note := p.caption(times), p.small()
	name.At, note.At = Point{corner.X, v.cell.bottom - 4.6}, Point{corner.X, v.cell.bottom - 1.4}
	v.write(name)
	v.write(note)
	p.around(v, body)
	p.body(v, body)
}

// outline is paper that only notes how far what is drawn reaches.
type outline struct{ box }

func (o *outline) reach(p Point, by float64) {
	o.left, o.right = min(o.left, p.X-by), max(o.right, p.X+by)
	o.top, o.bottom = min(o.top, p.Y-by), max(o.bottom, p.Y+by)
}

// Line notes a line.
func (o *outline) Line(_ Pen, at ...Point) {
	for _, p := range at {
		o.reach(p, 0)
	}
}

// Area notes an area.
func (o *outline) Area(p Pen, _ Shade, at ...Point) { o.Line(p, at...) }

// Circle notes a circle.
func (o *outline) Circle(_ Pen, _ Shade, middle Point, radius float64) { o.reach(middle, radius) }

// Rollers notes a row of rollers.
func (o *outline) Rollers(from, to Point, _, radius float64) {
	o.reach(from, radius)
	o.reach(to, radius)
}

// Text takes no room of the body: it stands inside what is drawn.
func (o *outline) Text(Text) {}
