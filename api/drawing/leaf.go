package drawing

import (
	"fmt"
	"io"
	"slices"
)

// leaf is a page of a paper before it has its number.
type leaf struct {
	// title stands at its foot.
	title string
	body  func(b *board)
}

// footHigh is what the foot of a page takes, in mm.
const footHigh = 7.0

// leafRoom is what the foot leaves of a sheet.
func leafRoom(s Size) box {
	room := s.inside()
	room.bottom -= footHigh
	return room
}

// writeLeaves writes pages, each with plan, title and number at its foot.
func (d *desk) writeLeaves(w io.Writer, title string, leaves []leaf) error {
	s := d.measure().sheet()
	sheets := make([]func(Paper), len(leaves))
	for i, l := range leaves {
		sheets[i] = func(p Paper) {
			b := &board{Paper: p, room: s.inside()}
			d.foot(b, l.title, fmt.Sprintf("page %d of %d", i+1, len(leaves)))
			l.body(b)
		}
	}
	return writePDF(w, s, title, slices.Values(sheets))
}

func (d *desk) foot(b *board, title, page string) {
	in := b.room
	b.Line(Thin, Point{in.left, in.bottom - 4.5}, Point{in.right, in.bottom - 4.5})
	third := in.width()/3 - 2
	at := func(x float64, a Anchor, text string) {
		b.write(fitted(Text{At: Point{x, in.bottom - 1}, Size: leastSize + 0.2, Anchor: a, Text: text}, third))
	}
	at(in.left, AtStart, joined(", ", d.Plan.Plant, d.Name))
	at((in.left+in.right)/2, AtMiddle, title)
	at(in.right, AtEnd, page)
}

// flowed are the pages that items fill.
func flowed(title string, items []item, columns []box) []leaf {
	var leaves []leaf
	for _, page := range flow(items, [][]box{columns}) {
		leaves = append(leaves, leaf{title, func(b *board) { drawPlaced(b, page) }})
	}
	return leaves
}

func drawPlaced(b *board, page []placed) {
	for _, p := range page {
		p.draw(b, p.in)
	}
}

// headline is the first line of a chapter, with a remark at its end.
func headline(text, remark string) item {
	const high = 10.0
	return item{height: high, keep: true, draw: func(b *board, in box) {
		t := fitted(Text{At: Point{in.left, in.top + 5.4}, Size: 5.6, Bold: true, Text: text}, in.width()*0.75)
		b.write(t)
		b.write(fitted(Text{At: Point{in.right, in.top + 5.4}, Size: 3, Anchor: AtEnd, Text: remark}, in.width()-t.width()-4))
		b.Line(Thick, Point{in.left, in.top + 7.4}, Point{in.right, in.top + 7.4})
	}}
}
