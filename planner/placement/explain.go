package placement

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

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
)

// stage is how far a loop gets on a level before a rule stops it.
type stage int

const (
	notServed stage = iota
	beyondWalk
	noSupply
	tooTall
	tooLong
	tooWide
	tooHeavy
	mayLie
)

// obstacle is the first rule that keeps a loop from one level, whatever else
// lies there.
type obstacle struct {
	stage stage
	rack  *structure.Rack
	level int
	// value and limit are what the rule compares, in nanometres or micrograms.
	value, limit int64
}

// missing is by how much the rule is broken.
func (o obstacle) missing() int64 { return o.value - o.limit }

// obstacleOn finds what keeps loop l from a level of base b.
func (c *cell) obstacleOn(l *loop, b *base, level structure.Level) obstacle {
	o := obstacle{stage: mayLie, rack: &b.rack, level: level.Level.Level}
	if _, ok := slices.BinarySearch(b.rack.Stations, l.Station); !ok {
		o.stage = notServed
		return o
	}
	if !near(l.station, &b.rack) {
		o.stage = beyondWalk
		o.value, o.limit = int64(distance(l.station, &b.rack)*float64(units.Metre)), int64(l.station.WalkLimit)
		return o
	}
	if level.Kind != plant.Supply {
		o.stage = noSupply
		return o
	}
	col := c.column(level, b.limited)
	widest := col.width - c.guide
	if col.fixed != nil {
		widest = slices.Max(append([]int64{0}, col.fixed...))
	}
	if o.value, o.limit = int64(l.box.Height+c.set.HandClearance), int64(level.ClearHeight); o.value > o.limit {
		o.stage = tooTall
		return o
	}
	long, wide := boundless, boundless
	for _, side := range l.box.Sides() {
		along, across := l.box.Along(side)
		if long = min(long, int64(along)); along <= level.LaneLength {
			wide = min(wide, int64(across+2*c.set.SideClearance))
		}
	}
	if o.value, o.limit = long, int64(level.LaneLength); o.value > o.limit {
		o.stage = tooLong
		return o
	}
	if o.value, o.limit = wide, widest; o.value > o.limit {
		o.stage = tooWide
		return o
	}
	if o.value, o.limit = l.gross, min(col.mass, b.load); o.value > o.limit {
		o.stage = tooHeavy
	}
	return o
}

// farthest returns the level on which l gets farthest, ties by what is missing
// least.
func (c *cell) farthest(l *loop, bases []base, allowed func(*structure.Rack, int) bool) (obstacle, bool) {
	var best obstacle
	found := false
	for k := range bases {
		for _, level := range bases[k].rack.Levels {
			if !allowed(&bases[k].rack, level.Level.Level) {
				continue
			}
			o := c.obstacleOn(l, &bases[k], level)
			if !found || o.stage > best.stage || (o.stage == best.stage && o.missing() < best.missing()) {
				best, found = o, true
			}
		}
	}
	return best, found
}

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
		what := fmt.Sprintf("Part %s at station %s", l.Part, l.Station)
		if st.missing[i] < l.k {
			what = fmt.Sprintf("%d of %d containers of part %s at station %s", st.missing[i], l.k, l.Part, l.Station)
		}
		f.Summary = what + " got no lane: " + f.Summary
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
	any := func(*structure.Rack, int) bool { return true }
	stands, found := c.farthest(l, c.bases[:c.standing], any)
	added, addable := c.farthest(l, slices.Concat(c.bases[c.standing:], c.barred), any)
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

// blocked describes an obstacle that no other layout would take away.
func (c *cell) blocked(l *loop, o obstacle) finding.Finding {
	where := ""
	subject := finding.Subject{Level: o.level}
	if o.rack != nil {
		where = fmt.Sprintf("level %d of rack %s", o.level, o.rack.Rack)
		subject.Rack, subject.RackType = string(o.rack.Rack), string(o.rack.Type.RackType)
		if o.rack.Proposed {
			where = fmt.Sprintf("level %d of rack type %s", o.level, o.rack.Type.RackType)
		}
	}
	f := finding.Finding{Subject: subject}
	length := func(l int64) units.Length { return units.Length(l) }
	switch o.stage {
	case notServed:
		f.Subject.Level, f.Subject.Rack, f.Subject.RackType = 0, "", ""
		f.Code, f.Summary = CodeNoRack, "no rack serves the station"
		f.Detail = fmt.Sprintf("No rack of cell %s serves station %s, and no rack type is allowed there of which one could be added.", l.Cell, l.Station)
		f.Remedy = "Add the station to a rack, or allow the cell a rack type."
	case beyondWalk:
		f.Subject.Level = 0
		f.Code, f.Measure = CodeBeyondWalk, &finding.Measure{Value: length(o.value).Metres(), Limit: length(o.limit).Metres(), Unit: "m"}
		f.Summary = fmt.Sprintf("the nearest rack is %.2f m away, its walk limit is %.2f m", f.Measure.Value, f.Measure.Limit)
		f.Detail = fmt.Sprintf("Every rack that serves station %s stands farther in a straight line than the %.2f m its operator may be sent; the nearest is %.2f m away.", l.Station, f.Measure.Limit, f.Measure.Value)
		f.Remedy = fmt.Sprintf("Raise the walk limit by %.2f m, or move a rack.", length(o.missing()).Metres())
	case noSupply:
		f.Code, f.Summary = CodeNoSupply, "the racks that serve the station have no supply level"
		f.Detail = fmt.Sprintf("Parts lie on supply levels; the racks near station %s have return levels only.", l.Station)
		f.Remedy = "Add a supply level, or a rack that has one."
	case tooHeavy:
		f.Code, f.Measure = CodeTooHeavy, &finding.Measure{Value: units.Mass(o.value).KG(), Limit: units.Mass(o.limit).KG(), Unit: "kg"}
		f.Summary = fmt.Sprintf("one container weighs %s, %s carries %s", units.Mass(o.value), where, units.Mass(o.limit))
		f.Detail = fmt.Sprintf("Already one full container of %s is more than %s may carry, and no other level comes nearer.", units.Mass(o.value), where)
		f.Remedy = fmt.Sprintf("Take at least %s out of the container by a smaller standard pack, or use a level that carries more.", units.Mass(o.missing()))
	default:
		f.Measure = &finding.Measure{Value: length(o.value).MM(), Limit: length(o.limit).MM(), Unit: "mm"}
		c.unfit(&f, o, where)
	}
	return f
}

// unfit describes a container that is too tall, long or wide.
func (c *cell) unfit(f *finding.Finding, o obstacle, where string) {
	value, limit, missing := units.Length(o.value), units.Length(o.limit), units.Length(o.missing())
	switch o.stage {
	case tooTall:
		f.Code = CodeTooTall
		f.Summary = fmt.Sprintf("it needs %s of height, %s has %s", value, where, limit)
		f.Detail = fmt.Sprintf("The container and the hand clearance of %s need a clear height of %s; %s comes nearest with %s.", c.set.HandClearance, value, where, limit)
		f.Remedy = fmt.Sprintf("Raise the clear height by %s, or use a lower container.", missing)
	case tooLong:
		f.Code = CodeTooLong
		f.Summary = fmt.Sprintf("its container is %s along the lane, %s has lanes of %s", value, where, limit)
		f.Detail = fmt.Sprintf("On the flow sides it allows, the container needs a lane of %s; %s comes nearest with %s.", value, where, limit)
		f.Remedy = fmt.Sprintf("Use lanes longer by %s, another flow side or another container.", missing)
	default:
		f.Code = CodeTooWide
		f.Summary = fmt.Sprintf("one lane needs %s, %s has %s", value, where, limit)
		f.Detail = fmt.Sprintf("One lane with the side clearance of %s on both sides needs %s; the widest that %s offers is %s.", c.set.SideClearance, value, where, limit)
		f.Remedy = fmt.Sprintf("Widen the level or its lane by %s, or use another container.", missing)
	}
}

// whyPinned describes why a pin can not be kept.
func (c *cell) whyPinned(st *state, i int) finding.Finding {
	l := &c.loops[i]
	var names []string
	for _, p := range l.pins {
		name := "rack " + string(p.Rack)
		if p.Level > 0 {
			name += fmt.Sprintf(" level %d", p.Level)
		}
		if p.Lane > 0 {
			name += fmt.Sprintf(" lane %d", p.Lane)
		}
		names = append(names, name)
	}
	slices.Sort(names)
	to := strings.Join(slices.Compact(names), " and ")
	o, found := c.farthest(l, c.bases[:c.standing], func(r *structure.Rack, level int) bool { return pinned(l, r, level) })
	if found && o.stage == mayLie {
		f := c.full(st, i)
		if f.Code == CodeNoRoom && len(l.lanes) > 0 {
			f.Code = CodePin
		}
		f.Detail = "It is pinned to " + to + ". " + f.Detail
		f.Remedy = "Take the pin out or pin it elsewhere. " + f.Remedy
		return f
	}
	f := finding.Finding{Code: CodePin, Summary: "its pin to " + to + " can not be kept", Subject: finding.Subject{Rack: string(l.pins[0].Rack)}}
	f.Related = append(f.Related, l.pins[0].Origin)
	if !found {
		f.Detail = "It is pinned to " + to + ", which is no place at all, or not one place."
		f.Remedy = "Correct the pin, or take it out."
		return f
	}
	b := c.blocked(l, o)
	if o.stage == notServed {
		b.Detail = fmt.Sprintf("That rack does not serve station %s.", l.Station)
		b.Remedy = "Add the station to the rack."
	}
	f.Detail, f.Measure = "It is pinned to "+to+". "+b.Detail, b.Measure
	f.Remedy = "Take the pin out or pin it elsewhere. " + b.Remedy
	return f
}

// frontageUsed describes a loop for which a rack could be added if the cell
// had the frontage.
func (c *cell) frontageUsed(st *state, i int) finding.Finding {
	l := &c.loops[i]
	if c.frontage >= boundless {
		return c.full(st, i)
	}
	left := c.frontage
	for b, n := range st.added {
		left -= int64(n) * c.bases[b].width
	}
	least, which := boundless, ""
	for _, b := range slices.Concat(c.bases[c.standing:], c.barred) {
		o, _ := c.farthest(l, []base{b}, func(*structure.Rack, int) bool { return true })
		if o.stage == mayLie && b.width < least {
			least, which = b.width, string(b.rack.Type.RackType)
		}
	}
	if least <= left {
		return c.full(st, i)
	}
	full := ""
	if o, found := c.farthest(l, c.bases[:c.standing], func(*structure.Rack, int) bool { return true }); found && o.stage == mayLie {
		full = " " + c.full(st, i).Detail
	}
	return finding.Finding{
		Code:    CodeFrontageUsed,
		Subject: finding.Subject{RackType: which},
		Measure: &finding.Measure{Value: units.Length(least).MM(), Limit: units.Length(left).MM(), Unit: "mm"},
		Summary: fmt.Sprintf("another rack needs %s of frontage, cell %s has %s left", units.Length(least), l.Cell, units.Length(left)),
		Detail:  fmt.Sprintf("A rack of type %s would hold it, but is %s wide and only %s of the cell's frontage is left.%s", which, units.Length(least), units.Length(left), full),
		Remedy:  fmt.Sprintf("Give the cell %s more frontage, or make room on its racks.", units.Length(least-left)),
	}
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
		f.Detail = fmt.Sprintf("%d containers need %d lanes, %s with guides; the largest free stretch on a level it may lie on is %s on %s: %s are missing.", n, best.lanes, units.Length(best.need), units.Length(best.free), where, units.Length(best.need-best.free))
		f.Remedy = "Shorten its refill interval, use a smaller container, free lanes there, or add a rack."
	case CodeNoLoadLeft:
		f.Code, f.Measure = CodeNoLoadLeft, &finding.Measure{Value: units.Mass(best.need).KG(), Limit: units.Mass(best.free).KG(), Unit: "kg"}
		f.Summary = fmt.Sprintf("it weighs %s, %s carries only %s more", units.Mass(best.need), where, units.Mass(best.free))
		f.Detail = fmt.Sprintf("There is width on %s, but with %s more its mass limit would be passed by %s.", where, units.Mass(best.need), units.Mass(best.need-best.free))
		f.Remedy = "Shorten its refill interval so that fewer containers lie there, move heavy parts to other racks, or add a rack."
	default:
		f.Code = CodeKeptApart
		f.Summary = "its lanes can not be kept apart from the parts beside them on " + where
		f.Detail = fmt.Sprintf("There is width and load on %s, but no order of its lanes keeps parts of one keep-apart group and look-alikes from being neighbours, keeps pinned lanes at their number and fixed lanes wide enough.", where)
		f.Remedy = "Take a part out of the keep-apart group, free a lane there, or add a rack."
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
