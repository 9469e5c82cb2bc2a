package placement

import (
	"fmt"
	"slices"
	"strings"

	"lanewright/planner/finding"
	"lanewright/planner/structure"
)

// whyPinned describes why a pin can not be kept.
func (c *cell) whyPinned(st *state, i int) finding.Finding {
	l := &c.loops[i]
	to := pinText(l)
	o, found := c.farthest(l, c.bases[:c.standing], func(r *structure.Rack, level int) bool { return pinned(l, r, level) })
	f := finding.Finding{Code: CodePin, Summary: "its pin to " + to + " can not be kept", Subject: finding.Subject{Rack: string(l.pins[0].Rack), Level: l.pins[0].Level}}
	f.Related = append(f.Related, l.pins[0].Origin)
	switch {
	case !found:
		f.Detail = "It is pinned to " + to + ", which is not one place that the plan has."
		f.Remedy = "Correct the pin, or take it out."
	case o.stage == mayLie:
		return c.pinnedFull(st, i, f)
	default:
		b := c.blocked(l, o)
		if o.stage == notServed {
			b.Detail = fmt.Sprintf("That rack does not serve station %s.", l.Station)
			b.Remedy = "Add the station to the rack."
		}
		f.Detail, f.Measure = "It is pinned to "+to+". "+b.Detail, b.Measure
		f.Remedy = "Take the pin out or pin it elsewhere. " + b.Remedy
	}
	return f
}

// pinText names the places to which a loop is pinned.
func pinText(l *loop) string {
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
	return strings.Join(slices.Compact(names), " and ")
}

// pinnedFull describes a loop that may lie where it is pinned: its pinned lane
// can not exist, the place is too small for it even when empty, or others are
// in its way. f says that the pin can not be kept.
func (c *cell) pinnedFull(st *state, i int, f finding.Finding) finding.Finding {
	l := &c.loops[i]
	alone := newState(c, nil)
	alone.spread(i)
	where := "rack " + string(l.pins[0].Rack)
	for _, p := range l.pins {
		if p.Level > 0 {
			where = fmt.Sprintf("level %d of rack %s", p.Level, p.Rack)
		}
	}
	is := "It is pinned to " + pinText(l) + ". "
	const remedy = "Take the pin out or pin it elsewhere"
	if alone.missing[i] == l.k && len(l.lanes) > 0 {
		f.Detail = is + fmt.Sprintf("Even empty, %s has no lane of that number that would hold it.", where)
		f.Remedy = remedy + ", or correct its lane."
		return f
	}
	if alone.missing[i] > 0 {
		has, needs := 0, c.lanesFor(i, l.k)
		for id := alone.head[i]; id >= 0; id = alone.items[id].next {
			has += int(lanes(alone.items[id].n, alone.wayOf(id).capacity))
		}
		f.Summary = fmt.Sprintf("%s has width for %d of its %s", where, has, count(needs, "lane"))
		f.Measure = &finding.Measure{Value: float64(needs), Limit: float64(has), Unit: "lanes"}
		if needs <= has {
			f.Summary = fmt.Sprintf("%s carries %d of its %s", where, l.k-alone.missing[i], count(l.k, "container"))
			f.Measure = &finding.Measure{Value: float64(l.k), Limit: float64(l.k - alone.missing[i]), Unit: "containers"}
		}
		f.Detail = is + "Even with nothing else there, " + f.Summary + "."
		f.Remedy = remedy + ", or shorten its refill interval."
		return f
	}
	full := c.full(st, i)
	full.Detail, full.Related = is+full.Detail, f.Related
	full.Remedy = remedy + ". " + full.Remedy
	return full
}
