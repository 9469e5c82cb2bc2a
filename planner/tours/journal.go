package tours

// journal remembers routes and stops as they were before a kick, so that it can be
// undone without a copy of everything.
type journal struct {
	kick   int32
	slots  []int32
	routes []route
	nodes  []entry
	// as it was before the kick:
	open             int
	cost, over, side int64
}

// entry is a stop as it was.
type entry struct {
	stop int32
	was  node
}

// begin starts a kick: what is changed from here on can be undone.
func (s *state) begin() {
	j := &s.journal
	j.kick++
	j.slots, j.routes, j.nodes = j.slots[:0], j.routes[:0], j.nodes[:0]
	j.open, j.cost, j.over, j.side = s.open, s.cost, s.over, s.side
}

// save must be called for each route before it changes.
func (s *state) save(at int32) {
	r, j := &s.routes[at], &s.journal
	if r.saved == j.kick {
		return
	}
	r.saved = j.kick
	j.slots = append(j.slots, at)
	j.routes = append(j.routes, *r)
}

// saveNode is called for each stop before it changes.
func (s *state) saveNode(x int32, n *node) {
	j := &s.journal
	if n.saved != j.kick {
		j.nodes = append(j.nodes, entry{x, *n})
		n.saved = j.kick
	}
}

// undo goes back to where begin was called.
func (s *state) undo() {
	j := &s.journal
	for i := range j.nodes {
		e := &j.nodes[i]
		s.nodes[e.stop] = e.was
		s.wide[e.stop] = e.was.width()
	}
	for i, at := range j.slots {
		r := &s.routes[at]
		listed, dirty, stale := r.listed, r.dirty, r.stale
		*r = j.routes[i]
		r.listed, r.dirty, r.stale = listed, dirty, stale
		s.outdate(at)
		if r.size == 0 {
			s.release(at)
		}
	}
	s.open, s.cost, s.over, s.side = j.open, j.cost, j.over, j.side
}

// keep makes the kick's changes last; undo does nothing afterwards.
func (s *state) keep() {
	for _, at := range s.journal.slots {
		s.mark(at)
	}
}

// mark lists a route that differs from the best's.
func (s *state) mark(at int32) {
	if r := &s.routes[at]; !r.dirty {
		r.dirty = true
		s.dirty = append(s.dirty, at)
	}
}

// markAll lists every route.
func (s *state) markAll() {
	for at := range s.routes {
		s.mark(int32(at))
	}
}

// best is the cheapest set of routes so far. Only routes that changed are
// copied into it.
type best struct {
	routes [][]int32
	total  int64
	found  bool
}

// record copies what changed since the last time.
func (b *best) record(s *state) {
	if b.routes == nil {
		b.routes = make([][]int32, len(s.routes))
	}
	b.total, b.found = s.total(), true
	for _, at := range s.dirty {
		r := &s.routes[at]
		r.dirty = false
		b.routes[at] = s.sequence(r, b.routes[at][:0])
	}
	s.dirty = s.dirty[:0]
}

// sequence appends the stops of r.
func (s *state) sequence(r *route, seq []int32) []int32 {
	if r.size == 0 {
		return seq
	}
	for x := r.ends[0]; x != depot; x = s.nodes[x].link[0] {
		seq = append(seq, x)
	}
	return seq
}

// restore sets the routes to those of b.
func (s *state) restore(b *best) {
	s.clear()
	for i, seq := range b.routes {
		if len(seq) > 0 {
			s.load(int32(i), seq)
		}
	}
	s.settle()
	for i := range s.routes {
		s.routes[i].dirty = false
	}
	s.dirty = s.dirty[:0]
}
