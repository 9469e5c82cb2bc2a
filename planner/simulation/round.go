package simulation

import (
	"container/heap"
	"context"
	"fmt"
	"time"
)

// teamPlay is a team in play.
type teamPlay struct {
	*script
	team  *team
	loops []loopPlay
	tally *tally
	queue chainQueue
	// traced says that one of the loops writes down what happens.
	traced bool
	// ctx ends the play early; looked counts how often that was not yet asked.
	ctx    context.Context
	looked int
}

// stopped reports whether the play is to end; it asks only now and then.
func (t *teamPlay) stopped() bool {
	const often = 256
	t.looked++
	return t.looked%often == 0 && t.ctx.Err() != nil
}

// chainPlay is a handler at work in one working of a shift.
type chainPlay struct {
	*chain
	order int
	// round is the place of his next or present round, stop that of the next stop in
	// it; -1 is the departure.
	round, stop int
	// at is when that happens, depart when the round left, back when the one before it
	// had returned.
	at, depart, back int64
	late             time.Duration
	now              visit
}

// chainQueue gives the handler who does something next; of several at one moment
// the first of the script.
type chainQueue []*chainPlay

func (q chainQueue) Len() int { return len(q) }
func (q chainQueue) Less(i, j int) bool {
	return q[i].at < q[j].at || q[i].at == q[j].at && q[i].order < q[j].order
}
func (q chainQueue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }

// Push and Pop make it a heap.
func (q *chainQueue) Push(x any) { *q = append(*q, x.(*chainPlay)) }

// Pop removes the last.
func (q *chainQueue) Pop() any {
	last := (*q)[len(*q)-1]
	*q = (*q)[:len(*q)-1]
	return last
}

// play plays the whole team once.
func (t *teamPlay) play() {
	for i := range t.team.chains {
		c := &t.team.chains[i]
		t.queue = append(t.queue, &chainPlay{chain: c, order: i, stop: -1, at: c.rounds[0].at})
	}
	heap.Init(&t.queue)
	t.until(t.from)
	if t.ctx.Err() != nil {
		return
	}
	for i := range t.loops {
		t.loops[i].count(t.from)
	}
	t.forget()
	t.until(t.to)
	if t.ctx.Err() != nil {
		return
	}
	for i := range t.loops {
		t.loops[i].finish(t.to)
	}
}

// until lets the handlers work up to a moment.
func (t *teamPlay) until(end int64) {
	for len(t.queue) > 0 && t.queue[0].at < end && !t.stopped() {
		c := t.queue[0]
		if c.stop < 0 {
			t.depart(c)
		} else {
			t.serve(c)
		}
		if c.at == never {
			heap.Pop(&t.queue)
		} else {
			heap.Fix(&t.queue, 0)
		}
	}
}

// forget drops what the run-in has counted of routes and racks.
func (t *teamPlay) forget() {
	for _, i := range t.team.routes {
		t.tally.routes[i].forget()
		for _, s := range t.script.routes[i].stops {
			t.tally.stops[s.index] = rackTally{}
		}
	}
}

// noticed is from when on a round counts as late.
const noticed = time.Second

// depart begins a round. One that left late and could not end within the shift
// is not driven.
func (t *teamPlay) depart(c *chainPlay) {
	plan := c.rounds[c.round]
	tally := &t.tally.routes[plan.route.index]
	c.late = c.duty.passed(c.at) - c.duty.passed(plan.at)
	if c.late > 0 && c.duty.passed(c.at)+plan.route.Round > c.duty.net {
		tally.dropped++
		t.next(c)
		return
	}
	c.depart = c.at
	c.now = visit{duty: c.duty, late: c.late >= noticed, containers: plan.route.containers, mass: plan.route.mass}
	if t.traced {
		c.now.round = t.name(plan)
	}
	tally.leave(c.late)
	t.stop(c, 0)
}

// name is a route and the time at which a round of it should leave.
func (t *teamPlay) name(d departure) string {
	return fmt.Sprintf("%s %s", d.route.Route.Route, t.start.Add(time.Duration(d.at)).Format("15:04"))
}

// stop lets a round be on its way to its next stop, or back.
func (t *teamPlay) stop(c *chainPlay, next int) {
	route := c.rounds[c.round].route
	c.stop = next
	if next < len(route.stops) {
		c.at = max(c.at, c.duty.later(c.depart, route.stops[next].arrive))
		return
	}
	load := c.now.brought + c.now.direct
	took := route.fixed + route.handling(float64(load), float64(c.now.empties))
	t.tally.routes[route.index].end(took, load, &c.now)
	c.back = c.duty.later(c.depart, took-route.loading(float64(load)))
	t.next(c)
}

// next lets a handler who is back load what is planned and wait for his next departure.
func (t *teamPlay) next(c *chainPlay) {
	c.stop = -1
	if c.round++; c.round == len(c.rounds) {
		c.at = never
		return
	}
	plan := c.rounds[c.round]
	c.at = max(c.duty.later(c.back, plan.route.loading(plan.route.LoadPlanned)), plan.at)
}

// serve is a stop: full containers come, empties go along.
func (t *teamPlay) serve(c *chainPlay) {
	stop := &c.rounds[c.round].route.stops[c.stop]
	rack := &t.script.racks[stop.rack]
	c.now.clock, c.now.calendar = c.at, nil
	length := 0.0
	for _, h := range stop.loops {
		l := &t.loops[t.place[h.loop]]
		empties := l.serve(h.home, &c.now)
		if l.returnable {
			length += rack.lying(&l.empty, empties)
		}
	}
	t.tally.stops[stop.index].look(length, rack.room)
	t.stop(c, c.stop+1)
}

// playIdeal plays a loop that no route serves, with rounds of its own: one every
// interval of net time, from a moment of the first on.
func (t *teamPlay) playIdeal(first int64) {
	l := &t.loops[0]
	var at cursor
	counting := false
	for net := first; ; net += max(l.interval, 1) {
		clock := at.clockOf(l.calendar, net)
		if clock >= t.from && !counting {
			counting = true
			l.count(t.from)
		}
		if t.stopped() {
			return
		}
		if clock >= t.to {
			break
		}
		for home := range l.homes {
			l.serve(home, &visit{clock: clock, containers: never >> 1, mass: -1})
		}
	}
	l.finish(t.to)
}
