package simulation

// visit is a round at one of the loop's homes.
type visit struct {
	clock int64
	duty  *duty
	late  bool
	// containers and mass are what the vehicle can still take; mass is negative
	// where it has no limit.
	containers int
	mass       float64
	// brought, taken and empties count what it did.
	brought, taken, empties, direct, left int
	// net is the net time of a calendar at clock.
	net      int64
	calendar *calendar
	// gap is the longest net time since a loop was visited before.
	gap   int64
	round string
}

// netOn returns the net time of the visit. The loops of a stop have one calendar.
func (v *visit) netOn(c *calendar) int64 {
	if v.calendar != c {
		k := c.search(v.clock)
		v.net, v.calendar = k.netOf(c, v.clock), c
	}
	return v.net
}

// serve plays the loop up to a visit and then the visit: full containers come,
// signals go along as far as the vehicle has room for their full containers. It
// returns how many signals waited.
func (l *loopPlay) serve(home int, v *visit) int {
	l.advance(v.clock - 1)
	net := v.netOn(l.calendar)
	kept := l.kept(home, v, net)
	l.bring(home, v, net, kept)
	l.advance(v.clock)
	waiting := l.homes[home].waiting.len()
	l.collect(home, v, net, kept)
	l.tally.cycles++
	if l.shortage.cycle {
		l.tally.shortCycles++
	}
	l.shortage.cycle = l.shortage.owed > 0
	return waiting
}

// kept says why a visit comes later than an interval after the one before.
func (l *loopPlay) kept(home int, v *visit, net int64) marks {
	gap := net - l.homes[home].visited
	l.homes[home].visited = net
	v.gap = max(v.gap, gap)
	switch {
	case gap <= l.interval:
		return 0
	case v.late:
		return markLate
	default:
		return markGap
	}
}

func (l *loopPlay) bring(home int, v *visit, net int64, kept marks) {
	h := &l.homes[home]
	n := 0
	for a := h.aboard.first(); a != nil && (a.duty == v.duty || a.duty.end() <= v.clock); a = h.aboard.first() {
		s := h.aboard.pop().signal
		s.marks |= kept
		l.receive(home, s, v.clock, net)
		n++
	}
	v.brought += n
	if n > 0 && l.tracer != nil {
		l.tracer.deliver(l, v.clock, net, n, v.round)
	}
}

func (l *loopPlay) collect(home int, v *visit, net int64, kept marks) {
	h := &l.homes[home]
	n := 0
	for s := h.waiting.first(); s != nil && v.containers > 0 && (v.mass < 0 || l.gross <= v.mass); s = h.waiting.first() {
		taken := h.waiting.pop()
		taken.marks |= kept
		l.tally.waited += net - taken.net
		v.containers--
		if v.mass >= 0 {
			v.mass -= l.gross
		}
		l.send(home, v, taken)
		n++
	}
	for i := range h.waiting.len() {
		h.waiting.at(i).marks |= markFull
	}
	v.taken += n
	v.left += h.waiting.len()
	l.tally.collected += int64(n)
	l.tally.left += int64(h.waiting.len())
	if l.returnable {
		v.empties += n
	}
	if l.tracer != nil {
		l.tracer.visit(l, v, net, n, h.waiting.len())
	}
}

// send lets the full container of a signal be on its way.
func (l *loopPlay) send(home int, v *visit, s signal) {
	if l.homesOf(home).exchange {
		l.homes[home].aboard.push(aboard{s, v.duty})
		return
	}
	v.direct++
	at := int64(0)
	if v.duty == nil {
		at = l.calendar.later(v.clock, l.response)
	} else {
		at = v.duty.after(l.calendar, v.clock, l.response)
	}
	if last := l.due.last(); last != nil {
		at = max(at, last.at)
	}
	l.due.push(due{s, at, home})
}

func (l *loopPlay) homesOf(home int) *homePlan { return &l.loopPlan.homes[home] }
