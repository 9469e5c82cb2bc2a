package drawing

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
)

// Measures of a cell's first page, in mm: the column of figures beside its racks.
// Racks are drawn at this scale or larger, so that their lanes can be read.
const (
	figuresWide   = 84.0
	smallestScale = 30.0
	smallestInch  = 32.0
)

// cell are the pages of one cell: figures and racks, then its lists.
func (r *reporter) cell(c wire.Cell, frames []planner.RackFrame) []leaf {
	title := "cell " + c.Cell
	top := headline(joined("  ", "Cell "+c.Cell, c.Name), joined("   ", c.Area, routesText(c.Routes)))
	left := r.room
	left.top += top.height + 1
	beside := left
	left.right = left.left + figuresWide
	beside.left = left.right + 6
	figures, rest := r.cellItems(c, left.width()), r.lists(c)
	if high(figures) > left.height() {
		// Too many widths for the column: they go to the lists.
		rest = append(r.cellItems(c, r.room.width()), rest...)
		figures = nil
	}
	pictures, missing := r.pictures(frames)
	times := r.scale(pictures, beside)
	some := onPage(pictures, times, beside)
	if len(missing) > 0 {
		rest = append(readSetting.paragraphs(missing, false, r.room.width()), rest...)
	}
	rest = append(r.furtherRacks(c, pictures[len(some):], times), rest...)
	pages := []leaf{{title, func(b *board) {
		top.draw(b, box{r.room.left, r.room.top, r.room.right, r.room.top + top.height})
		drawPlaced(b, flow(figures, [][]box{{left}})[0])
		drawRow(b, some, times, beside)
	}}}
	if len(rest) > 0 {
		pages = append(pages, flowed(title, rest, []box{r.room})...)
	}
	return pages
}

// furtherRacks are the racks that have no room on a cell's first page.
func (r *reporter) furtherRacks(c wire.Cell, list []picture, times float64) []item {
	if len(list) == 0 {
		return nil
	}
	head := heading("Cell "+c.Cell+": further racks", r.room.width())
	room := r.room
	room.top += high(head)
	items := head
	for len(list) > 0 {
		some := onPage(list, times, room)
		list = list[len(some):]
		items = append(items, item{height: bottomOf(some, times, room) - room.top + 3, draw: func(b *board, in box) { drawRow(b, some, times, in) }})
	}
	return items
}

// bottomOf is how far pictures reach down in a room.
func bottomOf(list []picture, times float64, room box) float64 {
	places, _ := shelves(list, times, room)
	bottom := room.top
	for i, at := range places {
		_, h := list[i].size(times)
		bottom = max(bottom, at.Y+h)
	}
	return bottom
}

// scale is that of all racks of a cell: the largest at which they have room on its
// first page, else the smallest at which lanes can be read; smaller only for a rack
// that has no room on a page of its own.
func (r *reporter) scale(list []picture, room box) float64 {
	m := r.measure()
	least := smallestScale
	if m.imperial() {
		least = smallestInch
	}
	if times := m.scale(func(t float64) bool { return fits(list, t, room) }); times <= least {
		return times
	}
	return m.scale(func(t float64) bool {
		for i := range list {
			if !fits(list[i:i+1], t, room) {
				return false
			}
		}
		return t >= least
	})
}

func routesText(routes []string) string {
	switch len(routes) {
	case 0:
		return "no route stops here"
	case 1:
		return "route " + routes[0]
	}
	return "routes " + strings.Join(routes, ", ")
}

func high(items []item) float64 {
	sum := 0.0
	for _, it := range items {
		sum += it.height
	}
	return sum
}

// pictures are the fronts of racks, and sentences about those that can't be drawn.
func (r *reporter) pictures(frames []planner.RackFrame) (list []picture, missing []string) {
	for _, f := range frames {
		if f.Frame == nil {
			missing = append(missing, fmt.Sprintf("Rack %s is not drawn: %s. Its lanes stand in the table.", f.Rack.Rack, ErrNotBuilt))
			continue
		}
		rack := standing(f, r.byRack[f.Rack.Rack], r.Plan.Settings.Plant, "")
		p := rack.face()
		p.name = rack.Rack
		if rack.Proposed {
			p.name += " (to add)"
		}
		p.note = joined(", ", string(f.Rack.Type.RackType), stationsText(f.Rack.Stations))
		list = append(list, p)
	}
	return list, missing
}

func stationsText(list []plant.StationCode) string {
	if len(list) == 0 {
		return ""
	}
	texts := make([]string, len(list))
	for i, s := range list {
		texts[i] = string(s)
	}
	return "stations " + strings.Join(texts, ", ")
}

// onPage are the first of some pictures, as many as have room, one at least.
func onPage(list []picture, times float64, room box) []picture {
	n := min(1, len(list))
	for n < len(list) && fits(list[:n+1], times, room) {
		n++
	}
	return list[:n]
}

// cellItems are a cell's figures and its lanes by width.
func (r *reporter) cellItems(c wire.Cell, wide float64) []item {
	facts := Table{Heading: []string{"", ""}, Right: []bool{false, true}}
	row := func(name, value string) { facts.add(name, value) }
	row("stations", strconv.Itoa(c.Stations))
	row("racks, of them to add", fmt.Sprintf("%d, %d", c.Racks, c.RacksProposed))
	row("loops, of them placed", fmt.Sprintf("%d, %d", c.Loops, c.LoopsPlaced))
	row("containers, without a lane", fmt.Sprintf("%d, %d", c.Containers, c.ContainersUnplaced))
	row("without a lane, at best", strconv.Itoa(c.Bound.UnplacedBound))
	row("effort, kg in a net hour", decimal(c.Bound.Effort, 1))
	row("no plan has less than", decimal(c.Bound.EffortBound, 1))
	row("best possible plan", map[bool]string{true: "proved", false: "not proved"}[c.Bound.Optimal])
	items := readSetting.table(facts, wide)[1:]
	for i := range items {
		items[i].head, items[i].keep = nil, false
	}
	items = append(items, space(4))
	items = append(items, heading("Lanes by width", wide)...)
	m := r.measure()
	t := Table{Heading: []string{"width, " + m.name(), "needed", "there", "short", "free"}, Right: []bool{true, true, true, true, true}}
	for _, b := range r.byCell[c.Cell].balance {
		t.add(m.long(b.Width), strconv.Itoa(b.Needed), strconv.Itoa(b.Placed), strconv.Itoa(max(0, b.Needed-b.Placed)), strconv.Itoa(b.Room))
	}
	t.add("all", strconv.Itoa(c.LanesNeeded), strconv.Itoa(c.LanesUsed), strconv.Itoa(c.LanesShort), strconv.Itoa(c.LanesFree))
	items = append(items, readSetting.table(t, wide)...)
	const note = "Free: lanes of that width that still fit. Widths share the room; the last line counts the empty lanes as they stand."
	return append(items, readSetting.paragraphs([]string{note}, false, wide)...)
}

// lists are what is found and what lies where.
func (r *reporter) lists(c wire.Cell) []item {
	here := r.byCell[c.Cell]
	wide := r.room.width()
	var items []item
	add := func(name string, list []item) {
		items = append(append(append(items, heading("Cell "+c.Cell+": "+name, wide)...), list...), space(3))
	}
	if len(here.unplaced) > 0 {
		add("containers without a lane", readSetting.table(r.unplaced(here.unplaced), wide))
	}
	if len(here.loops) > 0 {
		add("loops", readSetting.table(r.loopRows(here.loops), wide))
	}
	if list := findingTexts(here.findings); len(list) > 0 {
		add("findings", readSetting.paragraphs(list, false, wide))
	}
	return items
}

func (r *reporter) unplaced(list []placement.Unplaced) Table {
	t := Table{Heading: []string{"part", "description", "station", "number", "why"}, Right: []bool{false, false, false, true, false}}
	for _, u := range list {
		t.add(string(u.Loop.Part), r.description(u.Loop.Part), string(u.Loop.Station), strconv.Itoa(u.Containers), u.Detail)
	}
	return t
}

func (r *reporter) loopRows(list []planner.Loop) Table {
	t := Table{
		Heading: []string{"part", "description", "station", "container", "pack", "pieces/h", "interval, min", "containers", "lanes", "place", "route"},
		Right:   []bool{false, false, false, false, true, true, true, true, true, false, false},
	}
	for _, l := range list {
		t.add(string(l.Part), r.description(l.Part), string(l.Station), string(l.Container), strconv.FormatInt(l.Pack, 10), decimal(l.Rate.Float64()*60, 1),
			decimal(l.Interval.Minutes(), 1), strconv.Itoa(l.Containers), strconv.Itoa(l.Lanes), r.places(l.Key), l.Route)
	}
	return t
}

// places are the addresses of a loop's lanes; neighbours stand together: R12/3-2 to 3-4.
func (d *desk) places(k demand.Key) string {
	lanes := d.byLoop[k]
	var list []string
	for i := 0; i < len(lanes); {
		j := i
		for j+1 < len(lanes) && lanes[j+1].Rack == lanes[i].Rack && lanes[j+1].Level == lanes[i].Level && lanes[j+1].Lane == lanes[j].Lane+1 {
			j++
		}
		text := placement.Spot{Rack: lanes[i].Rack, Level: lanes[i].Level, Lane: lanes[i].Lane}.Address()
		if j > i {
			text += " to " + spot(lanes[j].Level, lanes[j].Lane)
		}
		list = append(list, text)
		i = j + 1
	}
	if len(list) == 0 {
		return "no lane"
	}
	return strings.Join(list, ", ")
}

// findingTexts are findings worst first, with what to do about errors and warnings.
func findingTexts(list finding.List) []string {
	list = slices.Clone(list)
	list.Sort()
	texts := make([]string, len(list))
	for i, f := range list {
		texts[i] = string(f.Severity) + ": " + f.Summary
		if f.Severity != finding.Note && f.Remedy != "" {
			texts[i] = strings.TrimSuffix(texts[i], ".") + ". What to do: " + f.Remedy
		}
	}
	return texts
}
