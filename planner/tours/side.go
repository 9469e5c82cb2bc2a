package tours

// pairs list for each stop its partners, from starts[a] to starts[a+1].
type pairs struct {
	apart, after, before lists
}

type lists struct{ starts, list []int32 }

func (l lists) of(a int32) []int32 {
	if l.starts == nil {
		return nil
	}
	return l.list[l.starts[a]:l.starts[a+1]]
}

// newLists files the second of each pair under the first.
func newLists(stops int, list [][2]int32) lists {
	if len(list) == 0 {
		return lists{}
	}
	l := lists{starts: make([]int32, stops+2), list: make([]int32, len(list))}
	for _, p := range list {
		l.starts[p[0]+1]++
	}
	for a := range stops + 1 {
		l.starts[a+1] += l.starts[a]
	}
	at := append([]int32(nil), l.starts...)
	for _, p := range list {
		l.list[at[p[0]]] = p[1]
		at[p[0]]++
	}
	return l
}

func newPairs(p *Problem) pairs {
	both := make([][2]int32, 0, 2*len(p.Apart))
	for _, a := range p.Apart {
		both = append(both, a, [2]int32{a[1], a[0]})
	}
	turned := make([][2]int32, 0, len(p.Before))
	for _, b := range p.Before {
		turned = append(turned, [2]int32{b[1], b[0]})
	}
	return pairs{newLists(p.Stops, both), newLists(p.Stops, p.Before), newLists(p.Stops, turned)}
}

// label is the label of a slot.
func (f *frozen) label(at int32) int {
	if int(at) < f.Labels {
		return int(at) + 1
	}
	return 0
}

// price is what stop x costs on a route of slot at.
func (f *frozen) price(x, at int32) int64 {
	if f.Labels == 0 {
		return 0
	}
	return f.Prices[int(x)*(f.Labels+1)+f.label(at)]
}

// wishes is what the wishes cost of a route with the stops seq in slot at.
func (s *state) wishes(at int32, seq []int32) int64 {
	f := s.f
	var cost int64
	for i, x := range seq {
		cost += f.price(x, at)
		s.rank[x] = int32(i + 1)
	}
	for i, x := range seq {
		for _, y := range f.pairs.apart.of(x) {
			if s.rank[y] > 0 && y > x {
				cost += Never
			}
		}
		for _, y := range f.pairs.after.of(x) {
			if r := s.rank[y]; r > 0 && int(r) <= i {
				cost += Never
			}
		}
	}
	for _, x := range seq {
		s.rank[x] = 0
	}
	return cost
}

// wish is what the wishes cost of putting x into slot at after p.
func (s *state) wish(x, at, p int32) int64 {
	f := s.f
	cost := f.price(x, at)
	for _, y := range f.pairs.apart.of(x) {
		if s.nodes[y].route == at {
			cost += Never
		}
	}
	if len(f.pairs.after.of(x))+len(f.pairs.before.of(x)) == 0 {
		return cost
	}
	for y := p; y != depot; y = s.nodes[y].link[1] {
		s.rank[y] = 1
	}
	for _, y := range f.pairs.after.of(x) {
		if s.nodes[y].route == at && s.rank[y] == 1 {
			cost += Never
		}
	}
	for _, y := range f.pairs.before.of(x) {
		if s.nodes[y].route == at && s.rank[y] == 0 {
			cost += Never
		}
	}
	for y := p; y != depot; y = s.nodes[y].link[1] {
		s.rank[y] = 0
	}
	return cost
}

// settle sets what the wishes of all routes cost.
func (s *state) settle() {
	if !s.f.sided {
		return
	}
	for i := range s.routes {
		s.settleRoute(int32(i))
	}
}

func (s *state) settleRoute(at int32) {
	r := &s.routes[at]
	s.seqA = s.sequence(r, s.seqA[:0])
	w := s.wishes(at, s.seqA)
	s.side += w - r.side
	r.side = w
}
