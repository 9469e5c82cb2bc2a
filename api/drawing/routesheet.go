package drawing

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	"lanewright/planner"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/structure"
)

// ErrNoRoute says that the plan has no route of that name, or that none stops in the
// cells that are meant.
var ErrNoRoute = errors.New("the plan has no such route")

// roundsOnSheet is how many departures have their column on one route sheet.
const roundsOnSheet = 8

// RouteSheets writes rounds on paper, for handlers without a phone: for each route
// and shift, and each eight of its departures, what to take from the market in picking
// order, then stop by stop where it goes, with a box for each round. Names are the
// routes meant; none are all. The error is ErrNoRoute, or that of w.
func (p Papers) RouteSheets(w io.Writer, names ...string) error {
	d := p.desk()
	// A round serves all its stops, those in other cells too.
	taker := planner.NewTaker(p.Facts, p.Plan)
	all := Papers{Facts: p.Facts, Plan: p.Plan, Name: p.Name}.desk()
	var leaves []leaf
	for _, name := range names {
		if !slices.ContainsFunc(d.Plan.Routes, func(r routing.Route) bool { return r.Route == name }) {
			return ErrNoRoute
		}
	}
	for _, r := range d.Plan.Routes {
		if len(names) == 0 || slices.Contains(names, r.Route) {
			picks, _ := taker.Take(r.Route)
			leaves = append(leaves, all.routeLeaves(r, picks)...)
		}
	}
	if len(leaves) == 0 {
		return ErrNoRoute
	}
	title := "Route sheets"
	if len(names) == 1 {
		title = "Route sheet " + names[0]
	}
	return all.writeLeaves(w, title, leaves)
}

// routeLeaves are the sheets of one route.
func (d *desk) routeLeaves(r routing.Route, picks []planner.Pick) []leaf {
	var leaves []leaf
	for _, s := range r.Timetable {
		for list := range slices.Chunk(s.Departures, roundsOnSheet) {
			leaves = append(leaves, d.sheetOfRounds(r, string(s.Shift), list, picks)...)
		}
	}
	if len(leaves) == 0 {
		// Rounds by hand: the boxes stay without a time.
		return d.sheetOfRounds(r, "", nil, picks)
	}
	return leaves
}

// rounds is a sheet of some departures of a route: its columns in mm from the left.
type rounds struct {
	desk   *desk
	route  routing.Route
	times  []time.Duration
	part   float64
	text   float64
	box    float64
	usual  float64
	first  float64
	remark float64
	right  float64
}

// Measures of a route sheet in mm: a round's column, and rows that are read at arm's
// length and written on with a pen.
const (
	tickWide = 11.0
	rowSize  = 2.9
	rowLine  = 3.5
)

// sheetOfRounds is one sheet, of one page or more.
func (d *desk) sheetOfRounds(r routing.Route, shift string, times []time.Duration, picks []planner.Pick) []leaf {
	room := leafRoom(d.measure().sheet())
	c := rounds{desk: d, route: r, times: times, part: 30, text: 62, box: 112, usual: 136, first: 151, right: room.width()}
	c.remark = c.first + tickWide*roundsOnSheet + 2
	title := "route " + r.Route
	if shift != "" {
		title += ", shift " + shift
	}
	items := []item{headline("Route "+r.Route, joined("   ", shiftName(shift), "date ______________", "name ________________________"))}
	items = append(items, plainSetting.paragraphs(c.words(), false, room.width())...)
	items = append(items, heading("Take from the market, in this order", room.width())...)
	items = append(items, c.takes(picks)...)
	items = append(items, space(2))
	items = append(items, heading("Bring to the racks, stop by stop", room.width())...)
	items = append(items, c.brings(picks)...)
	leaves := flowed(title, items, []box{room})
	for i := range leaves {
		leaves[i].title = joined(", ", title, c.span(), fmt.Sprintf("sheet %d of %d", i+1, len(leaves)))
	}
	return leaves
}

// span is from which round to which a sheet reaches.
func (c rounds) span() string {
	if len(c.times) == 0 {
		return ""
	}
	return clockTime(c.times[0]) + " to " + clockTime(c.times[len(c.times)-1])
}

func shiftName(shift string) string {
	if shift == "" {
		return ""
	}
	return "shift " + shift
}

// words say how the round goes and how the sheet is filled in.
func (c rounds) words() []string {
	r := c.route
	how := fmt.Sprintf("Handler %s with %s from market %s, every %s; a round takes about %s and %s m.",
		r.Handler, r.Vehicle, r.Market, minutesText(r.Interval), minutesText(r.Round), decimal(r.Travel.Metres(), 0))
	if len(c.times) == 0 {
		how += " The timetable has no departure for it: write the time over the boxes."
	}
	list := []string{how,
		"Take what the emptied containers ask for; usual is the mean of a round. Write into the box of a round how many you brought. Short: fewer than asked for; skipped: stop left out. Write the round, how many and why into the last column. Take the empties back.",
	}
	load := fmt.Sprintf("A round is planned for up to %s containers.", decimal(r.LoadPlanned, 1))
	if v := c.desk.index.Vehicles[r.Vehicle]; v != nil {
		load = fmt.Sprintf("A round is planned for up to %s containers; the vehicle has room for %d. Never more, nor more than its maker allows.", decimal(r.LoadPlanned, 1), v.Containers)
	}
	return append(list, load+" Keep to the plant's rules for lifting and traffic. "+structure.CautionMoving)
}

// head is the line over the boxes.
func (c rounds) head(where, text string) item {
	return item{height: 5.4, keep: true, draw: func(b *board, in box) {
		y := in.bottom - 1.6
		at := func(x float64, a Anchor, s string, wide float64) {
			b.write(fitted(Text{At: Point{in.left + x, y}, Size: plainSetting.size, Bold: true, Anchor: a, Text: s}, wide))
		}
		at(0, AtStart, where, c.part-1)
		at(c.part, AtStart, "part", c.text-c.part-1)
		at(c.text, AtStart, text, c.box-c.text-1)
		at(c.box, AtStart, "container", c.usual-c.box-10)
		at(c.first-3, AtEnd, "usual", 14)
		for i, t := range c.times {
			at(c.first+tickWide*(float64(i)+0.5), AtMiddle, clockTime(t), tickWide-0.5)
		}
		at(c.remark, AtStart, "short, skipped: why", c.right-c.remark)
		b.Line(Medium, Point{in.left, in.bottom}, Point{in.right, in.bottom})
	}}
}

// row is one line with its boxes, as high as its texts and a pen need.
func (c rounds) row(head *item, where, part, text, container, usual string) item {
	cells := []struct {
		x, wide float64
		bold    bool
		lines   []string
	}{
		{0, c.part - 1.5, true, nil}, {c.part, c.text - c.part - 1.5, true, nil}, {c.text, c.box - c.text - 1.5, false, nil}, {c.box, c.usual - c.box - 1, false, nil},
	}
	most := 1
	for i, s := range []string{where, part, text, container} {
		cells[i].lines = wrap(s, rowSize, cells[i].wide, cells[i].bold)
		most = max(most, len(cells[i].lines))
	}
	high := max(6.6, float64(most)*rowLine+1.4)
	return item{height: high, head: head, draw: func(b *board, in box) {
		for _, one := range cells {
			first := in.top + (high-float64(len(one.lines))*rowLine)/2
			for i, s := range one.lines {
				b.write(Text{At: Point{in.left + one.x, first + rowLine*float64(i+1) - 0.9}, Size: rowSize, Bold: one.bold, Text: s})
			}
		}
		b.write(Text{At: Point{in.left + c.first - 3, in.top + (high+rowLine)/2 - 0.9}, Size: rowSize, Anchor: AtEnd, Text: usual})
		for i := range c.boxes() {
			x := in.left + c.first + tickWide*float64(i) + 1.5
			middle := in.top + high/2
			b.Area(Thin, White, box{x, middle - 2.5, x + tickWide - 3, middle + 2.5}.corners()...)
		}
		b.Line(Hair, Point{in.left, in.bottom}, Point{in.right, in.bottom})
	}}
}

// boxes is how many rounds have a box: all on the sheet where there is no timetable.
func (c rounds) boxes() int {
	if len(c.times) == 0 {
		return roundsOnSheet
	}
	return len(c.times)
}

// takes are the rows of the market.
func (c rounds) takes(picks []planner.Pick) []item {
	head := c.head("market", "description, for stops")
	items := []item{head}
	for _, p := range picks {
		var stops []string
		for _, d := range p.Drops {
			if s := strconv.Itoa(d.Stop); len(stops) == 0 || stops[len(stops)-1] != s {
				stops = append(stops, s)
			}
		}
		at := p.Address
		if at == "" {
			at = "no address"
		}
		text := joined(", ", c.desk.description(p.Part), "stop "+strings.Join(stops, ", "))
		items = append(items, c.row(&head, at, string(p.Part), text, string(p.Container), often(p.Containers)))
	}
	return items
}

// often writes a mean number of containers.
func often(mean float64) string {
	if mean > 0 && mean < 0.05 {
		return "rarely"
	}
	return decimal(mean, 1)
}

// brings are the stops and below each its lanes.
func (c rounds) brings(picks []planner.Pick) []item {
	type drop struct {
		planner.Drop
		part plant.PartCode
		box  plant.ContainerCode
	}
	at := make([][]drop, len(c.route.Stops)+1)
	for _, p := range picks {
		for _, d := range p.Drops {
			at[d.Stop] = append(at[d.Stop], drop{d, p.Part, p.Container})
		}
	}
	head := c.head("level-lane", "description, station, lane holds")
	items := []item{head}
	for i, s := range c.route.Stops {
		list := at[i+1]
		slices.SortStableFunc(list, func(a, b drop) int {
			if a.Level != b.Level {
				return a.Level - b.Level
			}
			return a.Lane - b.Lane
		})
		items = append(items, c.stop(&head, i+1, s))
		for n, d := range list {
			text := joined(", ", c.desk.description(d.part), "station "+string(d.Station), c.holds(d.Drop))
			row := c.row(&head, spot(d.Level, d.Lane), string(d.part), text, string(d.box), often(d.Containers))
			row.keep = n < min(len(list)-1, 2)
			items = append(items, row)
		}
	}
	return items
}

// holds says how many containers a lane has room for.
func (c rounds) holds(d planner.Drop) string {
	for _, l := range c.desk.byRack[d.Rack] {
		if l.Level == d.Level && l.Lane == d.Lane {
			return fmt.Sprintf("holds %d", l.Capacity)
		}
	}
	return ""
}

// stop is the line of a stop.
func (c rounds) stop(head *item, n int, s routing.Stop) item {
	text := fmt.Sprintf("Stop %d: rack %s", n, s.Rack)
	rest := fmt.Sprintf("about %s after departure; usual: %s full, %s empties back", minutesText(s.Arrive), often(s.Containers), often(s.Empties))
	if s.Point != "" {
		rest = "aisle point " + string(s.Point) + ", " + rest
	}
	return item{height: 7, keep: true, head: head, draw: func(b *board, in box) {
		band := in
		band.top += 0.8
		b.Area(NoPen, Pale, band.corners()...)
		t := fitted(Text{At: Point{in.left + 1, in.bottom - 1.8}, Size: 3.2, Bold: true, Text: text}, in.width()*0.6)
		b.write(t)
		b.write(fitted(Text{At: Point{in.left + t.width() + 5, in.bottom - 1.8}, Size: plainSetting.size, Text: rest}, in.width()-t.width()-7))
	}}
}
