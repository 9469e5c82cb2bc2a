package drawing

import (
	"io"
	"iter"
	"slices"

	"lanewright/planner/structure"
)

// BuildSheets writes one document with the build sheets of racks, each beginning
// on a page of its own: drawings, then what to take, cut and do, and the cautions.
// All racks are those of one plant.
func BuildSheets(w io.Writer, racks ...Rack) error {
	size, title := a4, "Build sheets"
	if len(racks) > 0 {
		size = racks[0].measure().sheet()
	}
	if len(racks) == 1 {
		title = "Build sheet of rack " + racks[0].Rack
	}
	return writePDF(w, size, title, laidOut(racks))
}

// laidOut are the sheets of racks in their order. The next rack is laid out while
// the one before is written.
func laidOut(racks []Rack) iter.Seq[func(Paper)] {
	return func(yield func(func(Paper)) bool) {
		next, stop := make(chan []func(Paper), 8), make(chan struct{})
		defer close(stop)
		go func() {
			defer close(next)
			for i := range racks {
				select {
				case next <- racks[i].sheets():
				case <-stop:
					return
				}
			}
		}()
		for sheets := range next {
			for _, s := range sheets {
				if !yield(s) {
					return
				}
			}
		}
	}
}

// mostPages is what a build sheet is to have room on.
const mostPages = 2

// arrangement is one way to lay a build sheet out.
type arrangement struct {
	setting setting
	// columns are those of a page of text; aside puts text beside the drawings too,
	// in the last of them.
	columns int
	aside   bool
}

// arrangements are tried in this order until one has room on few pages: the
// easiest to read comes first.
var arrangements = [...]arrangement{
	{plainSetting, 2, false}, {plainSetting, 3, true}, {smallSetting, 3, true}, {denseSetting, 3, true},
}

// sheets are the pages of one rack's build sheet, in the first arrangement that
// has room on two, else in the tightest.
func (r *Rack) sheets() []func(Paper) {
	s := r.measure().sheet()
	room := r.room(s)
	var bodies []func(*board)
	for _, a := range arrangements {
		if bodies = r.arranged(a, room); len(bodies) <= mostPages {
			break
		}
	}
	sheets := make([]func(Paper), len(bodies))
	for i, body := range bodies {
		sheets[i] = func(p Paper) {
			b := &board{Paper: p, room: s.inside()}
			r.titleBlock(b, i+1, len(bodies))
			body(b)
		}
	}
	return sheets
}

// arranged are the pages in one arrangement.
func (r *Rack) arranged(a arrangement, room box) []func(*board) {
	columns := columnsOf(room, a.columns)
	last := columns[len(columns)-1]
	text := r.running(a.setting, last.width())
	pictures, pages := room, [][]box{columns}
	if a.aside {
		pictures.right = last.left - columnGap
		pages = [][]box{{last}, columns}
	}
	bodies := r.drawn(pictures)
	for n, page := range flow(text, pages) {
		write := func(b *board) {
			for _, p := range page {
				p.draw(b, p.in)
			}
		}
		if n == 0 && a.aside {
			drawings := bodies[0]
			bodies[0] = func(b *board) { drawings(b); write(b) }
			continue
		}
		bodies = append(bodies, write)
	}
	return bodies
}

// columnGap lies between two columns of text.
const columnGap = 6.0

// columnsOf parts a room into columns of text.
func columnsOf(room box, n int) []box {
	wide := (room.width() - columnGap*float64(n-1)) / float64(n)
	list := make([]box, n)
	for i := range list {
		left := room.left + float64(i)*(wide+columnGap)
		list[i] = box{left, room.top, left + wide, room.bottom - 1}
	}
	return list
}

// drawn are the pages with drawings: one with all of them where they can be read
// on it, else the levels from above have pages of their own.
func (r *Rack) drawn(room box) []func(*board) {
	upper, lower := level(r.front(nil), r.side()), level(r.levelsAbove(nil)...)
	m := r.measure()
	var plan float64
	times := m.scale(func(times float64) bool {
		rest, ok := below(upper, times, room)
		if !ok {
			return false
		}
		plan = m.scale(func(t float64) bool { return t >= times && fits(lower, t, rest) })
		return plan <= 3*times && fits(lower, plan, rest)
	})
	rest, ok := below(upper, times, room)
	if ok && fits(lower, plan, rest) && plan <= 3*times {
		return []func(*board){func(b *board) {
			drawRow(b, upper, times, room)
			drawRow(b, lower, plan, rest)
		}}
	}
	pages := []func(*board){r.page(upper, room)}
	for len(lower) > 0 {
		n := min(len(lower), 6)
		pages = append(pages, r.page(lower[:n], room))
		lower = lower[n:]
	}
	return pages
}

// level gives pictures the same room above and below, so that they stand on one
// floor.
func level(list ...picture) []picture {
	if len(list) == 0 {
		return nil
	}
	first := list[0]
	for _, p := range list {
		first.bounds.top, first.bounds.bottom = min(first.bounds.top, p.bounds.top), max(first.bounds.bottom, p.bounds.bottom)
		first.room.top, first.room.bottom = max(first.room.top, p.room.top), max(first.room.bottom, p.room.bottom)
	}
	for i := range list {
		p := &list[i]
		p.bounds.top, p.bounds.bottom = first.bounds.top, first.bounds.bottom
		p.room.top, p.room.bottom = first.room.top, first.room.bottom
	}
	return list
}

// page draws pictures on a page of their own.
func (r *Rack) page(list []picture, room box) func(*board) {
	times := r.measure().scale(func(times float64) bool { return fits(list, times, room) })
	return func(b *board) { drawRow(b, list, times, room) }
}

// below is the room under a row of pictures; ok is false where they do not fit
// in one row.
func below(row []picture, times float64, room box) (rest box, ok bool) {
	wide, high := -apart, 0.0
	for _, p := range row {
		w, h := p.size(times)
		wide, high = wide+w+apart, max(high, h)
	}
	rest = room
	rest.top += high + apart
	return rest, wide <= room.width() && rest.top < room.bottom
}

func fits(list []picture, times float64, room box) bool {
	_, ok := shelves(list, times, room)
	return ok
}

// drawRow draws pictures on shelves, in the middle of a room.
func drawRow(b *board, list []picture, times float64, room box) {
	places, ok := shelves(list, times, room)
	if !ok {
		return
	}
	right := room.left
	for i, at := range places {
		w, _ := list[i].size(times)
		right = max(right, at.X+w)
	}
	for i, at := range places {
		at.X += (room.right - right) / 2
		list[i].draw(b, at, times)
	}
}

// running is the text of a build sheet: what lies where, what was found, cautions
// before anything is cut, tables, steps.
func (r *Rack) running(s setting, width float64) []item {
	var list []item
	section := func(name string, items []item) {
		if len(items) > 0 {
			list = append(list, heading(name, width)...)
			list = append(append(list, items...), space(2))
		}
	}
	table := func(name string, t Table) {
		if len(t.Rows) > 0 {
			section(name, s.table(t, width))
		}
	}
	table("Levels", r.levelsTable())
	table("Lanes, measured from the rack's left end", r.lanesTable(r.Lanes))
	section("What the screening found", s.paragraphs(append(slices.Clone(r.Screening), r.Findings...), false, width))
	section("Cautions", s.paragraphs(structure.Cautions(), false, width))
	table("Parts", r.Build.Parts)
	table("Pieces (holes: a across the rack, l along the lanes)", r.Build.Cuts)
	table("Cut list: "+r.Build.BarsFrom, r.Build.Bars)
	section("Steps", s.paragraphs(r.Build.Steps, true, width))
	return list
}
