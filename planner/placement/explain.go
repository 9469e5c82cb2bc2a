package placement

import (
	"cmp"
	"fmt"
	"slices"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// Codes that say why a loop has no lane. Each is the reason of an Unplaced and
// a finding.
const (
	CodeNoRack       = "placement.no-rack-serves-station"
	CodeBeyondWalk   = "placement.beyond-walk-limit"
	CodeNoSupply     = "placement.no-supply-level"
	CodeTooTall      = "placement.too-tall"
	CodeTooLong      = "placement.too-long"
	CodeTooWide      = "placement.too-wide"
	CodeTooHeavy     = "placement.too-heavy"
	CodePin          = "placement.pin-impossible"
	CodeNoRoom       = "placement.no-room"
	CodeNoLoadLeft   = "placement.no-load-left"
	CodeKeptApart    = "placement.kept-apart"
	CodeFrontageUsed = "placement.frontage-used-up"
	CodeTooMany      = "placement.too-many-racks"
)

// explain lists what has no lane, and why.
func (c *cell) explain(st *state) ([]Unplaced, finding.List) {
	var list []Unplaced
	var noticed finding.List
	for i := range c.loops {
		if st.missing[i] == 0 {
			continue
		}
		f := c.why(st, i)
		l := &c.loops[i]
		f.Severity, f.Origin = finding.Warning, l.Origin
		f.Subject.Part, f.Subject.Container = string(l.Part), string(l.Container)
		f.Subject.Cell, f.Subject.Station = string(l.Cell), string(l.Station)
		what := "got no lane"
		if st.missing[i] < l.k {
			what = fmt.Sprintf("got no lane for %d of its %s", st.missing[i], count(l.k, "container"))
		}
		f.Summary = fmt.Sprintf("Part %s at station %s %s: %s", l.Part, l.Station, what, f.Summary)
		list = append(list, Unplaced{Loop: l.Key, Containers: int(st.missing[i]), Reason: f.Code, Detail: f.Detail})
		noticed = append(noticed, f)
	}
	return list, noticed
}

// why finds the true obstacle of a loop without a lane.
func (c *cell) why(st *state, i int) finding.Finding {
	l := &c.loops[i]
	if len(l.pins) > 0 {
		return c.whyPinned(st, i)
	}
	stands, found := c.farthest(l, c.bases[:c.standing], anywhere)
	added, addable := c.farthest(l, slices.Concat(c.bases[c.standing:], c.barred), anywhere)
	if addable && added.stage == mayLie {
		return c.frontageUsed(st, i)
	}
	switch {
	case found && stands.stage == mayLie:
		return c.full(st, i)
	case addable && (!found || added.stage > stands.stage):
		return c.blocked(l, added)
	case found:
		return c.blocked(l, stands)
	}
	return c.blocked(l, obstacle{stage: notServed})
}

// anywhere allows every level.
func anywhere(*structure.Rack, int) bool { return true }

// frontageUsed describes a loop for which a rack could be added if the cell
// had the frontage.
func (c *cell) frontageUsed(st *state, i int) finding.Finding {
	l := &c.loops[i]
	if len(st.racks)-c.standing >= mostAdded {
		return finding.Finding{
			Code:    CodeTooMany,
			Measure: &finding.Measure{Value: float64(len(st.racks) - c.standing), Limit: mostAdded, Unit: "racks"},
			Summary: fmt.Sprintf("%d racks were added to cell %s and do not hold its loops", mostAdded, l.Cell),
			Detail:  fmt.Sprintf("The loop has %s; the planner adds at most %d racks to a cell. Mostly a rate, a pack or an interval is in another unit than its heading says.", count(l.k, "container"), mostAdded),
			Remedy:  "Check the rate, the standard pack and the refill interval of the cell's largest loops.",
		}
	}
	if c.frontage >= boundless {
		return c.full(st, i)
	}
	left := st.frontageLeft()
	least, which := c.narrowestRack(l)
	if least <= left {
		return c.full(st, i)
	}
	full := ""
	if o, found := c.farthest(l, c.bases[:c.standing], anywhere); found && o.stage == mayLie {
		full = " " + c.full(st, i).Detail
	}
	return finding.Finding{
		Code:    CodeFrontageUsed,
		Subject: finding.Subject{RackType: string(which)},
		Measure: &finding.Measure{Value: units.Length(least).MM(), Limit: units.Length(left).MM(), Unit: "mm"},
		Summary: fmt.Sprintf("another rack needs %s of frontage, cell %s has %s left", units.Length(least), l.Cell, units.Length(left)),
		Detail:  fmt.Sprintf("A rack of type %s would hold it, but is %s wide and only %s of the cell's frontage is left.%s", which, units.Length(least), units.Length(left), full),
		Remedy:  fmt.Sprintf("Give the cell %s more frontage, or make room on its racks.", units.Length(least-left)),
	}
}

// frontageLeft is the frontage that no rack takes.
func (st *state) frontageLeft() int64 {
	left := st.c.frontage
	for b, n := range st.added {
		left -= int64(n) * st.c.bases[b].width
	}
	return left
}

// narrowestRack is the width and type of the narrowest rack that would hold a
// loop, boundless where no type would that the cell allows.
func (c *cell) narrowestRack(l *loop) (int64, plant.RackTypeCode) {
	least, which := boundless, plant.RackTypeCode("")
	for _, b := range slices.Concat(c.bases[c.standing:], c.barred) {
		o, _ := c.farthest(l, []base{b}, anywhere)
		if o.stage == mayLie && b.width < least {
			least, which = b.width, b.rack.Type.RackType
		}
	}
	return least, which
}

// rackHelps ends a remedy: one more rack is named only where the loop may lie
// on it and the frontage allows it.
func (st *state) rackHelps(i int, remedy string) string {
	l := &st.c.loops[i]
	if width, _ := st.c.narrowestRack(l); len(l.pins) == 0 && width <= st.frontageLeft() && width < boundless {
		return remedy + ", or add a rack."
	}
	return remedy + "."
}

// count writes a number of things.
func count[N int | int64](n N, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

// full describes a loop that could lie on some level if others did not.
func (c *cell) full(st *state, i int) finding.Finding {
	l := &c.loops[i]
	n := st.missing[i]
	best := tightness{short: boundless}
	for s := range st.shelves {
		if t, ok := st.tight(i, n, s); ok && t.before(best) {
			best = t
		}
	}
	if best.short >= boundless {
		return c.blocked(l, obstacle{stage: notServed})
	}
	sh := &st.shelves[best.shelf]
	level := c.cols[sh.col].level.Level.Level
	rack := c.bases[st.racks[sh.rack].base].rack
	where := fmt.Sprintf("level %d of rack %s", level, rack.Rack)
	if rack.Proposed {
		where = fmt.Sprintf("level %d of an added rack of type %s", level, rack.Type.RackType)
	}
	f := finding.Finding{Subject: finding.Subject{Rack: string(rack.Rack), Level: level, RackType: string(rack.Type.RackType)}}
	switch best.kind {
	case CodeNoRoom:
		f.Code, f.Measure = CodeNoRoom, &finding.Measure{Value: units.Length(best.need).MM(), Limit: units.Length(best.free).MM(), Unit: "mm"}
		f.Summary = fmt.Sprintf("its lanes need %s, the largest free stretch is %s", units.Length(best.need), units.Length(best.free))
		f.Detail = fmt.Sprintf("Side by side %s would take %s, %s with guides; the largest free stretch on a level it may lie on is %s on %s: %s are missing.", count(n, "container"), count(best.lanes, "lane"), units.Length(best.need), units.Length(best.free), where, units.Length(best.need-best.free))
		f.Remedy = st.rackHelps(i, "Shorten its refill interval, use a smaller container, free lanes there")
	case CodeNoLoadLeft:
		f.Code, f.Measure = CodeNoLoadLeft, &finding.Measure{Value: units.Mass(best.need).KG(), Limit: units.Mass(best.free).KG(), Unit: "kg"}
		f.Summary = fmt.Sprintf("it weighs %s, %s carries only %s more", units.Mass(best.need), where, units.Mass(best.free))
		f.Detail = fmt.Sprintf("There is width on %s, but with %s more its mass limit would be passed by %s.", where, units.Mass(best.need), units.Mass(best.need-best.free))
		f.Remedy = st.rackHelps(i, "Shorten its refill interval so that fewer containers lie there, move heavy parts to other racks")
	default:
		f.Code = CodeKeptApart
		f.Summary = "its lanes can not be kept apart from the parts beside them on " + where
		f.Detail = fmt.Sprintf("There is width and load on %s, but no order of its lanes keeps parts of one keep-apart group and look-alikes from being neighbours, keeps pinned lanes at their number and fixed lanes wide enough.", where)
		f.Remedy = st.rackHelps(i, "Take a part out of the keep-apart group, free a lane there")
	}
	return f
}

// tightness is what one shelf lacks for a loop.
type tightness struct {
	shelf      int
	kind       string
	lanes      int64
	need, free int64
	// short is by how much the width falls short, 0 where it does not.
	short int64
}

func (t tightness) before(o tightness) bool {
	return cmp.Or(cmp.Compare(t.short, o.short), cmp.Compare(o.free, t.free)) < 0
}

// tight measures what shelf s lacks for n containers of loop i; false where
// the loop may not lie there.
func (st *state) tight(i int, n int64, s int) (tightness, bool) {
	c, sh := st.c, &st.shelves[s]
	id := c.lay[i*len(c.cols)+sh.col]
	if id < 0 {
		return tightness{}, false
	}
	col := &c.cols[sh.col]
	need, by := c.lays[id].narrowest(n)
	free := st.freeStretch(s)
	t := tightness{shelf: s, kind: CodeNoRoom, lanes: lanes(n, by.capacity), need: need - c.guide, free: max(0, free-c.guide), short: max(0, need-free)}
	one := boundless
	for _, w := range c.lays[id].ways[:c.lays[id].n] {
		one = min(one, w.width)
	}
	if free < one {
		return t, true
	}
	// At least one lane would fit by width.
	t.short = 0
	load := min(col.mass-sh.mass, c.bases[st.racks[sh.rack].base].load-st.racks[sh.rack].mass)
	if c.loops[i].gross > load {
		t.kind, t.need, t.free = CodeNoLoadLeft, c.loops[i].gross, load
	} else {
		t.kind = CodeKeptApart
	}
	return t, true
}

// freeStretch is the width that is free on shelf s, guide included: on a free
// level all that is not used, on a fixed one the longest run of empty lanes.
func (st *state) freeStretch(s int) int64 {
	sh := &st.shelves[s]
	col := &st.c.cols[sh.col]
	g := &st.seats
	g.invite(st, s)
	if !g.arrange(col) {
		return 0
	}
	if col.fixed == nil {
		free := col.width - sh.used
		for _, t := range g.seats {
			if t.guest < 0 {
				free -= col.spacer
			}
		}
		return free
	}
	taken := make([]bool, len(col.fixed))
	at := 0
	for _, t := range g.seats {
		for range t.lanes {
			taken[at] = t.guest >= 0
			at++
		}
	}
	longest, run := int64(0), int64(0)
	for k, width := range col.fixed {
		if run += width + st.c.guide; taken[k] {
			run = 0
		}
		longest = max(longest, run)
	}
	return longest
}
