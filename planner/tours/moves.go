package tours

// A move takes routes apart and joins the pieces anew. It is seen in one of two
// directions: 0 as routes are driven, 1 from their end to their start; so each
// kind is written once. The new leg that leads to it is that from u to v.
type move struct {
	kind kind
	way  uint8
	u, v int32
	// i and k are the other ends of the strings that begin or end at u and
	// before v.
	i, k int32
	// delta is the change of the value.
	delta int64
}

type kind uint8

const (
	none kind = iota
	// tails: what follows u and what begins at v change places.
	tails
	// shift: the string i..u goes before v.
	shift
	// shiftTurned: the string u..i goes before v, turned round.
	shiftTurned
	// trade: the strings i..u and k..(before v) change places.
	trade
	// turnTails: u is followed by the start of v's route, turned round; the rest
	// of u's route, turned round, is followed by the rest of v's.
	turnTails
	// turn: the string from after u to v is turned round.
	turn
)

// piece is a part of a route: the stops from one to the other, along the route
// or against it. It is empty where from is the depot.
type piece struct {
	from, to int32
	turned   bool
}

// plan is what a move makes of one or two routes.
type plan struct {
	a, b   [4]piece
	ra, rb int32
	// one: there is no second route.
	one bool
}

// lay says what m makes of its routes.
func (s *state) lay(m *move) plan {
	d := m.way
	u, v := &s.nodes[m.u], &s.nodes[m.v]
	p := plan{ra: u.route, rb: v.route, one: u.route == v.route}
	su, pv := u.link[d], v.link[1-d]
	switch m.kind {
	case tails:
		p.a = [4]piece{s.head(m.u, d), s.tail(m.v, d)}
		p.b = [4]piece{s.head(pv, d), s.tail(su, d)}
	case turnTails:
		p.a = [4]piece{s.head(m.u, d), turnedRound(s.head(m.v, d))}
		p.b = [4]piece{turnedRound(s.tail(su, d)), s.tail(v.link[d], d)}
	case turn:
		p.a = [4]piece{s.head(m.u, d), {m.v, su, true}, s.tail(v.link[d], d)}
	case trade:
		p.a = [4]piece{s.head(s.nodes[m.i].link[1-d], d), {m.k, pv, false}, s.tail(su, d)}
		p.b = [4]piece{s.head(s.nodes[m.k].link[1-d], d), {m.i, m.u, false}, s.tail(m.v, d)}
	case shift:
		s.layShift(&p, m, piece{m.i, m.u, false}, s.nodes[m.i].link[1-d], su)
	case shiftTurned:
		s.layShift(&p, m, piece{m.i, m.u, true}, u.link[1-d], s.nodes[m.i].link[d])
	}
	if d == 1 {
		p.a, p.b = mirrored(p.a), mirrored(p.b)
	}
	return p
}

// layShift puts a string that lies between before and after at v.
func (s *state) layShift(p *plan, m *move, string piece, before, after int32) {
	d := m.way
	pv := s.nodes[m.v].link[1-d]
	if !p.one {
		p.a = [4]piece{s.head(before, d), s.tail(after, d)}
		p.b = [4]piece{s.head(pv, d), string, s.tail(m.v, d)}
		return
	}
	if s.ahead(m.v, m.u, d) {
		p.a = [4]piece{s.head(pv, d), string, s.between(m.v, before), s.tail(after, d)}
	} else {
		p.a = [4]piece{s.head(before, d), s.between(after, pv), string, s.tail(m.v, d)}
	}
}

// between is the piece from a to b, which is empty where either is the depot.
func (s *state) between(a, b int32) piece {
	if a == depot || b == depot {
		return piece{}
	}
	return piece{a, b, false}
}

// ahead reports whether a comes before b, seen in direction d.
func (s *state) ahead(a, b int32, d uint8) bool { return (s.along[a].pos < s.along[b].pos) == (d == 0) }

// head is the route of x up to x, tail from x on; both empty at the depot.
func (s *state) head(x int32, d uint8) piece {
	if x == depot {
		return piece{}
	}
	return piece{s.routes[s.nodes[x].route].ends[d&1], x, false}
}

func (s *state) tail(x int32, d uint8) piece {
	if x == depot {
		return piece{}
	}
	return piece{x, s.routes[s.nodes[x].route].ends[(1-d)&1], false}
}

func turnedRound(p piece) piece { return piece{p.to, p.from, !p.turned} }

// mirrored is the same route seen from the other end.
func mirrored(p [4]piece) [4]piece {
	for i := range p {
		p[i].from, p[i].to = p[i].to, p[i].from
	}
	return [4]piece{p[3], p[2], p[1], p[0]}
}

// sums adds up a route of pieces.
func (s *state) sums(list *[4]piece) (load, time int64, more goods, empty bool) {
	f := s.f
	at := int32(depot)
	empty = true
	for i := range list {
		p := &list[i]
		if p.from == depot {
			continue
		}
		empty = false
		lo, hi := p.from, p.to
		if p.turned {
			lo, hi = hi, lo
		}
		a, b := &s.along[lo], &s.along[hi]
		load += b.load - a.load + f.demand[lo]
		if f.rich {
			more = more.plus(s.moreSums[hi]).minus(s.moreSums[lo]).plus(s.more[lo])
		}
		if f.timed {
			time += f.drive(at, p.from) + b.time - a.time + f.service[lo]
			if p.turned {
				time += b.backTime - a.backTime
			}
			at = p.to
		}
	}
	if f.timed && !empty {
		time += f.drive(at, depot)
	}
	return load, time, more, empty
}

// write appends the stops of pieces.
func (s *state) write(list *[4]piece, seq []int32) []int32 {
	for i := range list {
		p := &list[i]
		if p.from == depot {
			continue
		}
		d := 0
		if p.turned {
			d = 1
		}
		for x := p.from; ; x = s.nodes[x].link[d] {
			seq = append(seq, x)
			if x == p.to {
				break
			}
		}
	}
	return seq
}

// weighMove adds to the delta of m, which is that of its legs, what breaches,
// wishes and emptied routes change.
func (s *state) weighMove(m *move) int64 {
	p := s.lay(m)
	d := m.delta + s.change(p.ra, &p.a, &s.seqA)
	if !p.one {
		d += s.change(p.rb, &p.b, &s.seqB)
	}
	return d
}

func (s *state) change(at int32, list *[4]piece, seq *[]int32) int64 {
	r := &s.routes[at]
	load, time, more, empty := s.sums(list)
	if empty {
		return -r.over - r.side - s.f.Fixed
	}
	d := s.penalty(load, time, more) - r.over
	if s.f.sided {
		*seq = s.write(list, (*seq)[:0])
		d += s.wishes(at, *seq) - r.side
	}
	return d
}

// make does m.
func (s *state) make(m *move) {
	p := s.lay(m)
	s.seqA = s.write(&p.a, s.seqA[:0])
	s.save(p.ra)
	if !p.one {
		s.seqB = s.write(&p.b, s.seqB[:0])
		s.save(p.rb)
		s.load(p.rb, s.seqB)
	}
	s.load(p.ra, s.seqA)
	if s.f.sided {
		s.settleRoute(p.ra)
		if !p.one {
			s.settleRoute(p.rb)
		}
	}
}
