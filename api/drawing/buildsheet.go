package drawing

import (
	"io"
	"slices"

	"lanewright/planner/structure"
)

// BuildSheets writes one document with the build sheets of racks, each beginning
// on a page of its own: drawings, then what to take, cut and do, and the cautions.
// All racks are those of one plant.
func BuildSheets(w io.Writer, racks ...Rack) error {
	var sheets []func(Paper)
	size, title := a4, "Build sheets"
	for i := range racks {
		size = racks[i].measure().sheet()
		sheets = append(sheets, racks[i].sheets()...)
	}
	if len(racks) == 1 {
		title = "Build sheet of rack " + racks[0].Rack
	}
	return writePDF(w, size, title, sheets)
}

// sheets are the pages of one rack's build sheet.
func (r *Rack) sheets() []func(Paper) {
	s := r.measure().sheet()
	room := r.room(s)
	bodies := r.drawn(room)
	for _, page := range flow(r.running((room.width()-columnGap)/2), halves(room)) {
		bodies = append(bodies, func(b *board) {
			for _, p := range page {
				p.draw(b, p.in)
			}
		})
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

// columnGap lies between the two columns of a page of text.
const columnGap = 9.0

func halves(room box) []box {
	wide := (room.width() - columnGap) / 2
	return []box{{room.left, room.top, room.left + wide, room.bottom - 1}, {room.right - wide, room.top, room.right, room.bottom - 1}}
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

// running is the text of a build sheet: tables, steps, what was found, cautions.
func (r *Rack) running(width float64) []item {
	var list []item
	section := func(name string, items []item) {
		if len(items) > 0 {
			list = append(list, heading(name, width)...)
			list = append(append(list, items...), space(2.5))
		}
	}
	table := func(name string, t Table) {
		if len(t.Rows) > 0 {
			section(name, tableItems(t, width))
		}
	}
	table("Parts", r.Build.Parts)
	table("Pieces", r.Build.Cuts)
	table("Cut list", r.Build.Bars)
	section("Steps", paragraphs(r.Build.Steps, true, width))
	table("Levels", r.levelsTable())
	table("Lanes, measured from the rack's left end", r.lanesTable(r.Lanes))
	section("What the screening found", paragraphs(append(slices.Clone(r.Screening), r.Findings...), false, width))
	section("Cautions", paragraphs(structure.Cautions(), false, width))
	return list
}
