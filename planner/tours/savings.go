package tours

import (
	"cmp"
	"slices"
)

// savings loads a first set of routes: one for each stop, then joined end to
// start where that saves most (Clarke, Wright, Scheduling of vehicles from a
// central depot to a number of delivery points, Operations Research 12, 1964,
// 568-581), with directed legs and only between neighbours.
func (s *state) savings() {
	c := newChains(s)
	for _, j := range s.joints() {
		c.join(j.from, j.to)
	}
	at := int32(s.f.Labels)
	for a := int32(1); int(a) < s.f.w; a++ {
		if c.head[a] == a {
			s.load(at, c.chain(a, s.seqB[:0]))
			at++
		}
	}
	s.settle()
}

type joint struct{ saved, from, to int32 }

// joints lists the joints of neighbours by what they save.
func (s *state) joints() []joint {
	f := s.f
	list := make([]joint, 0, 2*len(f.near))
	for a := int32(1); int(a) < f.w; a++ {
		for _, b := range f.nearTo(a) {
			to, from := f.legs(a, b)
			saved := f.leg(a, depot) + f.leg(depot, b.stop) - to
			if saved > 0 {
				list = append(list, joint{saved, a, b.stop})
			}
			if f.symmetric {
				continue
			}
			if saved = f.leg(b.stop, depot) + f.leg(depot, a) - from; saved > 0 {
				list = append(list, joint{saved, b.stop, a})
			}
		}
	}
	slices.SortFunc(list, func(a, b joint) int {
		return cmp.Or(cmp.Compare(b.saved, a.saved), cmp.Compare(a.from, b.from), cmp.Compare(a.to, b.to))
	})
	return list
}

// chains are routes that only grow by being joined.
type chains struct {
	s *state
	// next follows each stop; head is its chain's first stop and tail, size and
	// sums are kept there.
	next, prev, head, tail []int32
	load, time             []int64
	more                   []goods
}

func newChains(s *state) *chains {
	f := s.f
	c := &chains{s, make([]int32, f.w), make([]int32, f.w), make([]int32, f.w), make([]int32, f.w), slices.Clone(f.demand), make([]int64, f.w), slices.Clone(s.more)}
	for a := int32(1); int(a) < f.w; a++ {
		c.head[a], c.tail[a] = a, a
		c.time[a] = f.drive(depot, a) + f.service[a] + f.drive(a, depot)
	}
	return c
}

// join lets the chain of b follow that of a, if a ends the one and b begins the
// other and one route can hold both.
func (c *chains) join(a, b int32) {
	f := c.s.f
	h, t := c.head[a], c.head[b]
	if c.next[a] != 0 || c.prev[b] != 0 || h == t {
		if !f.symmetric || h == t || !c.turn(a, b) {
			return
		}
		h, t = c.head[a], c.head[b]
	}
	time := c.time[h] + c.time[t] + f.drive(a, b) - f.drive(a, depot) - f.drive(depot, b)
	var more goods
	if f.rich {
		more = c.more[h].plus(c.more[t])
	}
	if c.s.penalty(c.load[h]+c.load[t], time, more) > 0 {
		return
	}
	c.load[h], c.time[h] = c.load[h]+c.load[t], time
	if f.rich {
		c.more[h] = more
	}
	c.next[a], c.prev[b], c.tail[h] = b, a, c.tail[t]
	for x := b; x != depot; x = c.next[x] {
		c.head[x] = h
	}
}

// turn turns chains round until a ends the one and b begins the other; it
// reports false where one of them is in the middle.
func (c *chains) turn(a, b int32) bool {
	if c.next[a] != 0 && c.prev[a] != 0 || c.next[b] != 0 && c.prev[b] != 0 {
		return false
	}
	if c.next[a] != 0 {
		c.reverse(c.head[a])
	}
	if c.prev[b] != 0 {
		c.reverse(c.head[b])
	}
	return true
}

func (c *chains) reverse(h int32) {
	t := c.tail[h]
	for x := h; x != depot; {
		on := c.next[x]
		c.next[x], c.prev[x], c.head[x] = c.prev[x], on, t
		x = on
	}
	c.tail[t], c.load[t], c.time[t] = h, c.load[h], c.time[h]
	if c.more != nil {
		c.more[t] = c.more[h]
	}
}

func (c *chains) chain(a int32, seq []int32) []int32 {
	for ; a != depot; a = c.next[a] {
		seq = append(seq, a)
	}
	return seq
}
