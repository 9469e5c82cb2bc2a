package simulation

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"lanewright/planner/demand"
)

// ErrNotPlayed says that a loop has no lane, or that no round serves it.
var ErrNotPlayed = errors.New("loop is not played")

// TraceLoop plays one replication of the team of a loop again and writes down
// what the loop lives through. The same settings and seed show what Play counted.
func TraceLoop(ctx context.Context, in Input, s Settings, seed uint64, key demand.Key, replication int) (Trace, error) {
	sc, err := newScript(in, s.bounded(), seed)
	if err != nil {
		return Trace{}, err
	}
	i := slices.IndexFunc(sc.loops, func(l loopPlan) bool { return l.Key == key })
	if i < 0 || !sc.loops[i].playable() {
		return Trace{}, fmt.Errorf("part %s at station %s of cell %s: %w", key.Part, key.Station, key.Cell, ErrNotPlayed)
	}
	t := slices.IndexFunc(sc.teams, func(t team) bool { return slices.Contains(t.loops, i) })
	traced := &tracer{script: sc, loop: i}
	if err := sc.playTeam(ctx, &sc.teams[t], replication, sc.newTally(), traced); err != nil {
		return Trace{}, err
	}
	return traced.trace(replication), nil
}

// tracer writes down what happens to one loop.
type tracer struct {
	script *script
	loop   int
	points []Point
}

// want notes that a container was opened, or that none was there.
func (t *tracer) want(l *loopPlay, clock, net int64) {
	switch s := &l.shortage; {
	case s.owed == 0:
		t.note(l, clock, net, Point{Event: EventOpen})
	case s.wanted == 1:
		t.note(l, clock, net, Point{Event: EventShort})
	}
}

func (t *tracer) deliver(l *loopPlay, clock, net int64, brought int, round string) {
	t.note(l, clock, net, Point{Event: EventDeliver, Brought: brought, Round: round})
}

func (t *tracer) visit(l *loopPlay, v *visit, net int64, taken, left int) {
	t.note(l, v.clock, net, Point{Event: EventVisit, Taken: taken, Left: left, Round: v.round})
}

// note adds a point with the state that the loop is in.
func (t *tracer) note(l *loopPlay, clock, net int64, p Point) {
	if clock < t.script.from {
		return
	}
	p.At = t.script.start.Add(time.Duration(clock))
	p.Full = l.full
	p.OnHand = float64(l.full) * l.pack
	// Between two containers the pieces are drawn as if used evenly.
	switch {
	case l.open && p.Event == EventOpen:
		p.OnHand += l.pack
	case l.open:
		p.OnHand += l.pack * (1 - share(net, l.opened, l.nextNet))
	case l.shortage.owed > 0:
		s := &l.shortage
		p.Missing = float64(s.owed-1)*l.pack + s.lump
		if p.Event != EventShort {
			p.Missing += (l.pack - s.lump) * share(net, s.last, l.nextNet)
		}
	}
	for i := range l.homes {
		p.Signals += l.homes[i].waiting.len()
		p.UnderWay += l.homes[i].aboard.len()
	}
	p.UnderWay += l.due.len()
	t.points = append(t.points, p)
}

// share is how much of the time from a to b has passed.
func share(now, a, b int64) float64 {
	if b <= a {
		return 1
	}
	return min(1, max(0, float64(now-a)/float64(b-a)))
}

// trace returns what was written down, from the beginning of the counted time to
// its end.
func (t *tracer) trace(replication int) Trace {
	l := &t.script.loops[t.loop]
	from := t.script.start.Add(time.Duration(t.script.from))
	tr := Trace{
		Loop: l.Key, Replication: replication, Pack: l.Pack, Containers: l.containers, Zone: t.script.zone.String(),
		Points: t.points,
	}
	for _, o := range demand.Occurrences(t.script.shiftsOf(l.Cell), t.script.start, t.script.zone, t.script.days()) {
		if o.End().After(from) {
			tr.Shifts = append(tr.Shifts, o)
		}
	}
	return tr
}
