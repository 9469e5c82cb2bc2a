package simulation

import (
	"lanewright/planner/sizing"
)

// loopPlan is what does not change while a loop is played.
type loopPlan struct {
	*sizing.Loop
	index int
	// pack is pieces per container, gross the mass of a full one in kg.
	pack, gross float64
	// interval and response are the loop's, in nanoseconds.
	interval, response int64
	calendar           *calendar
	homes              []homePlan
	// containers lie in lanes; room is how many the lanes hold.
	containers, room int
	returnable       bool
	empty            empty
	// ideal says that rounds of the loop's own are played.
	ideal bool
}

// homePlan is a rack on which a loop lies, and the stop at which a round serves
// it there.
type homePlan struct {
	rack       int
	containers int
	route      *routePlan
	stop       int
	// exchange says that what a round collects comes on the next one; else it
	// comes the loop's response time later.
	exchange bool
}

// signal is an emptied container until its full one comes.
type signal struct {
	// clock and net are when it was emptied.
	clock, net int64
	marks      marks
}

// marks say what kept a container back.
type marks uint8

const (
	markFull marks = 1 << iota
	markLate
	markGap
)

// aboard is a signal that a round has taken; with exchange it comes back with
// the next round of the same working of the shift or, after its end, with
// whichever comes first.
type aboard struct {
	signal
	duty *duty
}

// due is a container that comes at its time.
type due struct {
	signal
	at   int64
	home int
}

// homePlay is a home in play.
type homePlay struct {
	full    int
	waiting queue[signal]
	aboard  queue[aboard]
	// visited is the net time of the last visit.
	visited int64
}

// loopPlay is a loop in play.
type loopPlay struct {
	*loopPlan
	wants wants
	// next is when the next container is wanted, by the clock and in net time;
	// lump is how many pieces are wanted at that moment.
	next, nextNet int64
	lump          float64
	wantsAt, nets cursor
	homes         []homePlay
	due           queue[due]
	full          int
	// open says that a container is in use; it is at home in openHome.
	open     bool
	openHome int
	shortage shortage
	// touched is the net time up to which what is on hand was added up; opened
	// that at which the container in use was.
	touched, opened int64
	tally           loopTally
	tracer          *tracer
}

// shortage is one stretch of time in which pieces are missing.
type shortage struct {
	// owed are the containers wanted and not there.
	owed int64
	// since is its start; cycle says that it touched the cycle under way.
	since int64
	cycle bool
	// wanted counts its containers, last and lump are the time of the last one and
	// the pieces wanted at it. named says that its cause is known.
	wanted, last int64
	lump         float64
	named        bool
}

func newLoopPlay(p *loopPlan, w wants) loopPlay {
	l := loopPlay{loopPlan: p, wants: w, homes: make([]homePlay, len(p.homes)), open: true}
	for i, h := range p.homes {
		l.homes[i].full = h.containers
		l.full += h.containers
	}
	l.openHome = l.fullest()
	l.homes[l.openHome].full--
	l.full--
	l.ask()
	return l
}

// fullest returns the home with the most full containers, the first of several.
func (l *loopPlay) fullest() int {
	best := 0
	for i := range l.homes {
		if l.homes[i].full > l.homes[best].full {
			best = i
		}
	}
	return best
}

// ask learns when the next container is wanted.
func (l *loopPlay) ask() {
	l.nextNet, l.lump = l.wants.next()
	l.next = never
	if l.nextNet < never {
		l.next = l.wantsAt.clockOf(l.calendar, l.nextNet)
	}
}

// advance plays the loop up to and including a moment. What comes at a moment is
// there for what is wanted at it.
func (l *loopPlay) advance(to int64) {
	for {
		arrives := int64(never)
		if d := l.due.first(); d != nil {
			arrives = d.at
		}
		switch {
		case arrives <= to && arrives <= l.next:
			l.arrive()
		case l.next <= to:
			l.want()
		default:
			return
		}
	}
}

// want reaches for the first piece of the next container: the one in use is
// empty and becomes a signal.
func (l *loopPlay) want() {
	clock, net := l.next, l.nextNet
	l.tally.wanted++
	l.release(clock, net)
	if l.full > 0 {
		l.take(net)
	} else {
		l.miss(net)
	}
	if l.tracer != nil {
		l.tracer.want(l, clock, net)
	}
	l.ask()
}

func (l *loopPlay) release(clock, net int64) {
	l.touch(net)
	if !l.open {
		return
	}
	l.open = false
	l.tally.onHand += l.pack / 2 * float64(net-l.opened)
	l.homes[l.openHome].waiting.push(signal{clock: clock, net: net})
}

func (l *loopPlay) take(net int64) {
	l.openHome = l.fullest()
	l.homes[l.openHome].full--
	l.full--
	l.open, l.opened = true, net
	l.tally.opened++
}

// miss notes that a container is wanted and none is there.
func (l *loopPlay) miss(net int64) {
	s := &l.shortage
	if s.owed == 0 {
		*s = shortage{since: net, cycle: true}
		l.tally.shortages++
	}
	s.owed++
	s.wanted++
	s.last, s.lump = net, l.lump
}

// touch adds up what was on hand until now.
func (l *loopPlay) touch(net int64) {
	l.tally.onHand += float64(l.full) * l.pack * float64(net-l.touched)
	l.touched = net
}

// arrive lets the first container that is due come.
func (l *loopPlay) arrive() {
	d := l.due.pop()
	net := l.nets.netOf(l.calendar, d.at)
	l.receive(d.home, d.signal, d.at, net)
	if l.tracer != nil {
		l.tracer.deliver(l, d.at, net, 1, "")
	}
}

// receive puts one full container into its lane; where one is missing it is
// opened at once, and what was not used is caught up.
func (l *loopPlay) receive(home int, s signal, clock, net int64) {
	l.touch(net)
	l.homes[home].full++
	l.full++
	l.tally.delivered++
	short := &l.shortage
	if short.owed == 0 {
		l.tally.most = max(l.tally.most, l.full+1)
		return
	}
	if !short.named {
		short.named = true
		l.tally.causes[l.cause(s.marks)]++
	}
	l.take(net)
	if short.owed--; short.owed > 0 {
		l.release(clock, net)
		return
	}
	l.tally.ended(short, l.pack, net, l.nextNet)
}

// cause is why the container that comes first after a shortage began did not
// come before.
func (l *loopPlay) cause(m marks) int {
	switch {
	case m&markFull != 0:
		return causeCapacity
	case m&markLate != 0:
		return causeLate
	case m&markGap != 0:
		return causeGap
	case l.containers < l.Rule:
		return causeContainers
	default:
		return causeUse
	}
}

// count begins to count: what happened before is forgotten.
func (l *loopPlay) count(from int64) {
	l.advance(from - 1)
	net := l.nets.netOf(l.calendar, from)
	l.tally = loopTally{started: net, most: l.full + 1}
	l.touched, l.opened = net, net
	if l.shortage.owed > 0 {
		l.tally.shortages = 1
		l.shortage.since, l.shortage.wanted, l.shortage.named = net, 1, false
	}
	if l.tracer != nil {
		l.tracer.note(l, from, net, Point{Event: EventStart})
	}
}

// finish ends the count.
func (l *loopPlay) finish(at int64) {
	l.advance(at - 1)
	net := l.nets.netOf(l.calendar, at)
	l.touch(net)
	if l.open {
		l.tally.onHand += l.pack / 2 * float64(net-l.opened)
	}
	if l.shortage.owed > 0 {
		l.tally.ended(&l.shortage, l.pack, net, l.nextNet)
		if !l.shortage.named {
			l.tally.causes[l.cause(l.held())]++
		}
	}
	l.tally.counted = net - l.tally.started
	if l.tracer != nil {
		l.tracer.note(l, at, net, Point{Event: EventEnd})
	}
}

// held is what kept back the container that has been on its way longest.
func (l *loopPlay) held() marks {
	var m marks
	for i := range l.homes {
		if a := l.homes[i].aboard.first(); a != nil {
			m |= a.marks
		} else if s := l.homes[i].waiting.first(); s != nil {
			m |= s.marks
		}
	}
	return m
}
