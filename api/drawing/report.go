package drawing

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strconv"

	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/finding"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/search"
	"lanewright/planner/structure"
)

// Since is what changed since another plan, as rows that are printed as they are.
type Since struct {
	// Plan says which one.
	Plan string
	Rows Table
}

// ReportOptions are what a report may have besides.
type ReportOptions struct {
	// Since is nil where nothing is compared.
	Since *Since
}

// Report writes the plant rack report for printing: key figures with what no plan can
// beat, what changed, the cells, then each cell with its lanes by width, its racks from
// the front to scale, its loops and findings, and the refill routes with their rounds.
// The error is that of w, or of a context that is done.
func (p Papers) Report(ctx context.Context, w io.Writer, o ReportOptions) error {
	r := newReporter(p, o)
	frames := r.frames(ctx)
	if err := context.Cause(ctx); err != nil {
		return fmt.Errorf("report: %w", err)
	}
	return r.writeLeaves(w, "Plant rack report", r.leaves(frames))
}

func newReporter(p Papers, o ReportOptions) *reporter {
	r := &reporter{desk: p.desk(), since: o.Since, byCell: map[string]content{}}
	r.figured = wire.NewCells(r.Facts, r.Plan)
	r.room = leafRoom(r.measure().sheet())
	r.sort()
	return r
}

// leaves are all pages.
func (r *reporter) leaves(frames map[plant.CellCode][]planner.RackFrame) []leaf {
	cells := make([][]leaf, len(r.figured))
	for i, c := range r.figured {
		cells[i] = r.cell(c, frames[plant.CellCode(c.Cell)])
	}
	// The table of cells names pages, which come after it.
	r.pages = make([]int, len(cells))
	next := len(r.front()) + 1
	for i := range cells {
		r.pages[i] = next
		next += len(cells[i])
	}
	return slices.Concat(append(append([][]leaf{r.front()}, cells...), r.routes())...)
}

// reporter writes the report of a plan.
type reporter struct {
	*desk
	since *Since
	room  box
	// figured are the figures of the cells, in the order of the plant's sheet.
	figured []wire.Cell
	byCell  map[string]content
	// pages are those on which the cells begin.
	pages []int
}

// content are the lists of one cell.
type content struct {
	loops    []planner.Loop
	unplaced []placement.Unplaced
	balance  []placement.Balance
	findings finding.List
}

// sort deals the lists of the plan to the cells.
func (r *reporter) sort() {
	to := func(cell string, add func(*content)) {
		c := r.byCell[cell]
		add(&c)
		r.byCell[cell] = c
	}
	for _, l := range r.Plan.Loops {
		to(string(l.Cell), func(c *content) { c.loops = append(c.loops, l) })
	}
	for _, u := range r.Plan.Unplaced {
		to(string(u.Loop.Cell), func(c *content) { c.unplaced = append(c.unplaced, u) })
	}
	for _, b := range r.Plan.Balance {
		to(string(b.Cell), func(c *content) { c.balance = append(c.balance, b) })
	}
	home := wire.RackCells(r.Plan)
	for _, f := range r.Plan.Findings {
		to(wire.FindingCell(f, home), func(c *content) { c.findings = append(c.findings, f) })
	}
}

// frames are the racks as they stand, by cell.
func (r *reporter) frames(ctx context.Context) map[plant.CellCode][]planner.RackFrame {
	list := map[plant.CellCode][]planner.RackFrame{}
	for _, f := range planner.Frames(ctx, r.Facts, r.Plan, 1) {
		list[f.Rack.Cell] = append(list[f.Rack.Cell], f)
	}
	return list
}

// front are the pages before the cells.
func (r *reporter) front() []leaf {
	remark := "all cells"
	if len(r.Cells) > 0 {
		remark = fmt.Sprintf("%s of this plant; routes, handlers and cost are the whole plant's", counted(len(r.Facts.Cells), "cell"))
	}
	top := headline("Plant rack report", remark)
	columns := columnsOf(r.room, 2)
	for i := range columns {
		columns[i].top += top.height + 8
	}
	var items []item
	add := func(name string, list []item) {
		if len(list) > 0 {
			items = append(append(append(items, heading(name, columns[0].width())...), list...), space(3))
		}
	}
	wide := columns[0].width()
	add("Key figures", readSetting.table(r.figures(), wide))
	if r.since != nil {
		add("What changed since "+r.since.Plan, readSetting.table(r.since.Rows, wide))
	}
	add("Cost in a year", r.cost(wide))
	add("About this plan", readSetting.paragraphs(r.about(), false, wide))
	add("Cautions", readSetting.paragraphs(structure.Cautions(), false, wide))
	leaves := flowed("key figures", items, columns)
	for i := range leaves {
		body := leaves[i].body
		leaves[i].body = func(b *board) {
			top.draw(b, box{r.room.left, r.room.top, r.room.right, r.room.top + top.height})
			b.write(fitted(Text{At: Point{r.room.left, r.room.top + top.height + 4}, Size: 4.4, Bold: true, Text: r.Plan.Plant}, r.room.width()))
			body(b)
		}
	}
	list := append([]item{headline("Cells", "short ones are marked")}, readSetting.table(r.cells(), r.room.width())...)
	return append(leaves, flowed("cells", list, []box{r.room})...)
}

// figures are the plan's sums, beside them what no plan can beat where that is proved.
func (r *reporter) figures() Table {
	s, whole := r.Plan.Summary(), r.whole.Summary()
	t := Table{Heading: []string{"", "this plan", "no plan has less than"}, Right: []bool{false, true, true}}
	row := func(name string, value int) { t.add(name, strconv.Itoa(value), "") }
	needed, unplaced, effort, best := 0, 0, 0.0, 0
	for _, b := range r.Plan.Balance {
		needed += b.Needed
	}
	for _, b := range r.Plan.Cells {
		unplaced += b.UnplacedBound
		effort += b.EffortBound
		best += one(b.Optimal)
	}
	row("loops", s.Loops)
	row("loops with all their containers in lanes", s.LoopsPlaced)
	row("containers", s.Containers)
	t.add("containers without a lane", strconv.Itoa(s.ContainersUnplaced), strconv.Itoa(unplaced))
	row("racks", s.Racks)
	row("racks to add", s.RacksProposed)
	row("supply lanes needed", needed)
	row("supply lanes with a part", s.LanesUsed)
	row("supply lanes free", s.LanesFree)
	row("return lanes", s.ReturnLanes)
	t.add("effort, kg in a net hour", decimal(s.Effort, 1), decimal(effort, 1))
	t.add("cells proved to be the best possible", fmt.Sprintf("%d of %d", best, len(r.Plan.Cells)), "")
	b := r.whole.RouteBounds
	t.add("routes", strconv.Itoa(whole.Routes), strconv.Itoa(b.RoutesBound))
	t.add("handlers", strconv.Itoa(whole.Handlers), strconv.Itoa(b.HandlersBound))
	t.add("way of one round of each route, m", decimal(b.Travel.Metres(), 0), decimal(b.TravelBound.Metres(), 0))
	row("containers moved against today", s.MovedContainers)
	t.add("findings: errors, warnings, notes", fmt.Sprintf("%d, %d, %d", s.Errors, s.Warnings, s.Notes), "")
	return t
}

// cost is what the whole plan costs in a year, as far as prices are known.
func (r *reporter) cost(wide float64) []item {
	c := planner.Cost(r.index.Plant, r.whole)
	t := Table{Heading: []string{"", "quantity", "", "in a year"}, Right: []bool{false, true, false, true}}
	for _, l := range c.Lines {
		amount := decimal(l.Amount.Float64(), 0)
		if l.Price.IsZero() {
			amount = "no price"
		} else if !l.Known() {
			amount += fmt.Sprintf(", %d of %d without a price", l.Unpriced, l.Items)
		}
		t.add(string(l.Kind), decimal(l.Quantity.Float64(), 0), l.Unit, amount)
	}
	total := "sum"
	if c.Partial() {
		total = "sum of what has a price"
	}
	t.add(total, "", "", decimal(c.Total.Float64(), 0))
	return readSetting.table(t, wide)
}

// about says which plan it is and how it was made.
func (r *reporter) about() []string {
	p := r.whole
	s := p.Settings.Plant
	list := []string{
		fmt.Sprintf("Facts %s. Seed %d, rules of version %s.", p.Revision, s.Seed, p.Version),
		fmt.Sprintf("Lengths in %s, masses in %s, ways in m, times in min.", r.measure().name(), massName(s.MassUnit)),
	}
	if p.Stopped == search.Cancelled {
		list = append(list, "The search was cut short: running it again may give another plan.")
	} else {
		list = append(list, "The search ran to its end: the same facts, settings and seed give this plan again.")
	}
	if p.Proof == nil {
		return append(list, "The plan was not played: whether its loops run dry was not tried.")
	}
	return append(list, fmt.Sprintf("The plan was played %s of %s.", counted(p.Proof.Settings.Replications, "time"), counted(p.Proof.Settings.Weeks, "week")))
}

// cells is the table of cells with their pages.
func (r *reporter) cells() Table {
	t := Table{
		Heading: []string{"cell", "name", "", "loops", "containers", "without a lane", "lanes needed", "there", "free", "short", "racks", "to add", "effort, kg/h", "no plan less than", "page"},
		Right:   []bool{false, false, false, true, true, true, true, true, true, true, true, true, true, true, true},
	}
	for i, c := range r.figured {
		mark := ""
		if c.LanesShort > 0 || c.ContainersUnplaced > 0 {
			mark = "short"
		}
		t.add(c.Cell, c.Name, mark, strconv.Itoa(c.Loops), strconv.Itoa(c.Containers), strconv.Itoa(c.ContainersUnplaced), strconv.Itoa(c.LanesNeeded),
			strconv.Itoa(c.LanesThere), strconv.Itoa(c.LanesFree), strconv.Itoa(c.LanesShort), strconv.Itoa(c.Racks), strconv.Itoa(c.RacksProposed),
			decimal(c.Bound.Effort, 1), decimal(c.Bound.EffortBound, 1), strconv.Itoa(r.pages[i]))
	}
	return t
}
