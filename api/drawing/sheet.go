package drawing

import (
	"fmt"
	"io"
	"strconv"

	"lanewright/planner/structure"
)

// View names one view of a rack.
type View string

// Views.
const (
	FrontView View = "front"
	SideView  View = "side"
	PlanView  View = "plan"
)

// Views lists them.
func Views() []View { return []View{FrontView, SideView, PlanView} }

// pictures are those of a view; lanes whose part has no room in them go to left.
func (r *Rack) pictures(v View, left *[]Lane) []picture {
	switch v {
	case SideView:
		return []picture{r.side()}
	case PlanView:
		return r.levelsAbove(left)
	}
	return []picture{r.front(left)}
}

func (r *Rack) levelsAbove(left *[]Lane) []picture {
	var list []picture
	for i := range r.Frame.Decks {
		list = append(list, r.above(&r.Frame.Decks[i], left))
	}
	return list
}

// Measures of a sheet in mm: the title block, the line of caution over it, the
// caption of a picture, the space between pictures, the table beside one.
const (
	blockHigh   = 12.0
	cautionHigh = 4.5
	captionHigh = 8.0
	apart       = 4.0
	tableWide   = 92.0
)

// SVG draws one view of a rack on a sheet of its own, to scale when it is printed
// in its size. What has no room in the drawing stands in a table beside it.
func SVG(w io.Writer, r Rack, v View) error {
	body, s := r.viewSheet(v)
	return writeSVG(w, s, fmt.Sprintf("Rack %s: %s", r.Rack, v), r.describe(v), body)
}

// viewSheet is the sheet of one view. It is drawn for nothing first, to see what
// has no room in it: where that is something, a table takes part of the sheet.
func (r *Rack) viewSheet(v View) (func(Paper), Size) {
	s := r.measure().sheet()
	room, beside := r.room(s), r.room(s)
	left := r.leftOut(v, room)
	if len(left) > 0 {
		beside.left = beside.right - tableWide
		room.right = beside.left - apart
		left = r.leftOut(v, room)
	}
	return func(p Paper) {
		b := &board{Paper: p, room: s.inside()}
		r.titleBlock(b, 1, 1)
		if len(left) > 0 {
			r.leftTable(b, beside, left)
		}
		r.page(r.pictures(v, nil), room)(b)
	}, s
}

// leftOut are the lanes whose part has no room in a view.
func (r *Rack) leftOut(v View, room box) []Lane {
	var left []Lane
	list := r.pictures(v, &left)
	left = nil // what was noted while the pictures were measured
	r.page(list, room)(&board{Paper: &outline{}, room: room})
	return left
}

// room is what title block and caution leave of a sheet.
func (r *Rack) room(s Size) box {
	b := s.inside()
	b.bottom -= blockHigh + cautionHigh
	return b
}

// shelves places pictures from left to right in rows, and reports whether all of
// them have room.
func shelves(list []picture, times float64, room box) (places []Point, ok bool) {
	at := Point{room.left, room.top}
	high := 0.0
	for _, p := range list {
		w, h := p.size(times)
		if at.X > room.left && at.X+w > room.right+1e-9 {
			at = Point{room.left, at.Y + high + apart}
			high = 0
		}
		if at.X+w > room.right+1e-9 || at.Y+h > room.bottom+1e-9 {
			return places, false
		}
		places = append(places, at)
		at.X += w + apart
		high = max(high, h)
	}
	return places, true
}

// describe says in words what a view shows.
func (r *Rack) describe(v View) string {
	m := r.measure()
	text := fmt.Sprintf("%s view of rack %s, %s wide, %s deep, %s high, lengths in %s.", v, r.Rack, m.long(r.Frame.Width), m.long(r.Frame.Depth), m.long(r.Frame.Height), m.name())
	for _, d := range r.Frame.Decks {
		text += fmt.Sprintf(" Level %d, %s: pick edge %s, load edge %s, %d lanes.", d.Level, d.Kind, m.long(d.PickHeight), m.long(d.LoadHeight()), len(r.on(d.Level)))
	}
	return text + " " + structure.CautionScreening
}

// leftTable lists the lanes whose part has no room in a drawing, as many as fit.
func (r *Rack) leftTable(b *board, in box, left []Lane) {
	const head = "Lanes without room for their part"
	items := heading(head, in.width())
	rows := plainSetting.table(r.lanesTable(left), in.width())
	y := in.top
	for i, it := range append(items, rows...) {
		if more := len(items) + len(rows) - i; y+it.height > in.bottom-4 && more > 1 {
			b.write(Text{At: Point{in.left, y + 3}, Size: leastSize, Text: "and " + strconv.Itoa(more) + " more: see the build sheet"})
			return
		}
		it.draw(b, box{in.left, y, in.right, y + it.height})
		y += it.height
	}
}

// titleBlock says at the foot of a sheet what it shows.
func (r *Rack) titleBlock(b *board, page, pages int) {
	in := b.room
	in.top = in.bottom - blockHigh
	m := r.measure()
	f := r.Frame
	state := "rack"
	if r.Proposed {
		state = "rack (proposed)"
	}
	fields := []struct {
		name, text string
		share      float64
	}{
		{state, r.Rack, 36}, {"cell", r.Cell, 24}, {"rack type", string(f.Type.RackType), 52}, {"kit", string(f.Kit.Kit), 56},
		{"width x depth x height, " + m.name(), m.long(f.Width) + " x " + m.long(f.Depth) + " x " + m.long(f.Height), 46},
		{"plan", r.Plan, 46}, {"sheet", fmt.Sprintf("page %d of %d", page, pages), 17},
	}
	b.Area(Thick, White, in.corners()...)
	x := in.left
	for i, one := range fields {
		wide := one.share / 277 * in.width()
		if i > 0 {
			b.Line(Thin, Point{x, in.top}, Point{x, in.bottom})
		}
		b.write(fitted(Text{At: Point{x + 1.5, in.top + 3.4}, Size: leastSize, Text: one.name}, wide-2))
		b.write(fitted(Text{At: Point{x + 1.5, in.top + 9}, Size: titleSize, Bold: i == 0, Text: one.text}, wide-2))
		x += wide
	}
	b.write(fitted(Text{At: Point{in.left, in.top - 1.4}, Size: leastSize, Text: structure.CautionScreening}, in.width()))
}

// fitted makes a text smaller, down to the least size, and then shorter, until it
// is no longer than width.
func fitted(t Text, width float64) Text {
	for t.width() > width && t.Size > leastSize {
		t.Size = max(t.Size*0.95, leastSize)
	}
	if t.width() <= width {
		return t
	}
	whole := t.Text
	t.Text = cut(whole, func(s string) bool { return Text{Size: t.Size, Bold: t.Bold, Text: s + "…"}.width() <= width }) + "…"
	return t
}
