package packing

import (
	"math/rand/v2"
	"slices"

	"lanewright/planner/internal/patterns"
)

// repair looks for a packing with one bin less than the best: it leaves out
// the emptiest bins and exchanges the loose pieces with those in bins so that
// what is loose shrinks, with a tabu list against going in circles (after
// consistent neighbourhood search, Buljubasic and Vasquez 2016).
type repair struct {
	room int64
	size []int64 // of every single piece
	bin  []int   // where it lies, -1 when loose
	held [][]int // pieces by bin
	load []int64
	// loose are the pieces without a bin, left their size.
	loose []int
	left  int64
	// until is the round up to which a piece stays where it is.
	until []int
	round int
	rng   *rand.Rand
	m     *patterns.Meter
	// ties counts the equal moves seen in a round.
	ties int
	out  exchange
}

// exchange moves pieces of one bin out and loose ones in; gain is the size by
// which the loose shrink.
type exchange struct {
	bin     int
	in, off [2]int // -1 where there is none
	gain    int64
}

// mostRepaired bounds the number of pieces that are looked at one by one.
const mostRepaired = 4_000

// repair tries to do with one bin less than the best packing has.
func (s *solver) repair(rng *rand.Rand) {
	need := slices.Clone(s.k.need)
	var done bins
	start := s.best
	if s.k.pieces() > mostRepaired {
		for _, sh := range s.root.shares {
			place(need, &done, int64(sh.x+patterns.Nothing), sh.uses)
		}
		start = s.k.with(need).pack(leastSlack(s.m))
	}
	target := s.best.count - 1 - done.count
	if rest := s.k.with(need); target > 0 && rest.pieces() <= mostRepaired {
		r, kind := newRepair(s.k, start, int(target), rng, s.m)
		if r.run() {
			s.offer(done, r.packed(kind))
		}
	}
}

// newRepair takes the fullest bins of a packing; kind says of which kind each
// single piece is.
func newRepair(k kinds, start bins, count int, rng *rand.Rand, m *patterns.Meter) (*repair, []int) {
	r := &repair{room: k.room, rng: rng, m: m}
	var kind []int
	for _, f := range start.fills {
		for range f.times {
			var held []int
			load := int64(0)
			for _, u := range f.uses {
				for range u.N {
					held = append(held, len(kind))
					kind = append(kind, u.Kind)
					r.size = append(r.size, k.size[u.Kind])
					load += k.size[u.Kind]
				}
			}
			r.held, r.load = append(r.held, held), append(r.load, load)
		}
	}
	r.bin, r.until = make([]int, len(kind)), make([]int, len(kind))
	r.drop(count)
	return r, kind
}

// drop leaves the given number of bins, the fullest, or adds empty ones.
func (r *repair) drop(count int) {
	order := patterns.Every(len(r.held))
	slices.SortStableFunc(order, func(a, b int) int { return int(min(1, max(-1, r.load[b]-r.load[a]))) })
	held, load := r.held, r.load
	r.held, r.load = make([][]int, count), make([]int64, count)
	for at, b := range order {
		for _, p := range held[b] {
			if at < count {
				r.bin[p] = at
			} else {
				r.bin[p] = -1
				r.loose = append(r.loose, p)
				r.left += r.size[p]
			}
		}
		if at < count {
			r.held[at], r.load[at] = held[b], load[b]
		}
	}
}

// run exchanges pieces until none is loose or the time is over.
func (r *repair) run() bool {
	best, since := r.left, 0
	for len(r.loose) > 0 {
		r.round++
		if since++; since > 400 {
			r.shake()
			best, since = r.left, 0
		}
		r.choose(best)
		if !r.m.On() {
			return false
		}
		if r.ties > 0 {
			r.apply(r.out)
		}
		if r.left < best {
			best, since = r.left, 0
		}
	}
	return true
}

// choose finds the exchange after which least is loose, ties broken at random;
// one that leaves less loose than ever may move pieces that should rest.
func (r *repair) choose(best int64) {
	r.ties = 0
	for b := range r.held {
		r.tryBin(b, best)
	}
}

// tryBin looks at the exchanges with one bin: one or two pieces in for none,
// one or two out.
func (r *repair) tryBin(b int, best int64) {
	free := r.room - r.load[b]
	held := r.held[b]
	r.m.Spend(int64(len(r.loose)) * int64(len(held)+1) * int64(len(held)+len(r.loose)+2))
	for i, p := range r.loose {
		r.see(exchange{b, [2]int{p, -1}, [2]int{-1, -1}, r.size[p]}, free, best)
		for x, q := range held {
			r.see(exchange{b, [2]int{p, -1}, [2]int{q, -1}, r.size[p] - r.size[q]}, free, best)
			for _, q2 := range held[:x] {
				r.see(exchange{b, [2]int{p, -1}, [2]int{q, q2}, r.size[p] - r.size[q] - r.size[q2]}, free, best)
			}
			for _, p2 := range r.loose[:i] {
				r.see(exchange{b, [2]int{p, p2}, [2]int{q, -1}, r.size[p] + r.size[p2] - r.size[q]}, free, best)
			}
		}
	}
}

// see keeps an exchange that fits, may be made and is as good as the best.
func (r *repair) see(x exchange, free, best int64) {
	if x.gain > free || (r.ties > 0 && x.gain < r.out.gain) || x.gain == 0 && x.in[1] < 0 && x.off[1] < 0 {
		return
	}
	if r.left-x.gain >= best && r.resting(x) {
		return
	}
	if r.ties == 0 || x.gain > r.out.gain {
		r.ties, r.out = 1, x
		return
	}
	if r.ties++; r.rng.IntN(r.ties) == 0 {
		r.out = x
	}
}

func (r *repair) resting(x exchange) bool {
	for _, p := range [4]int{x.in[0], x.in[1], x.off[0], x.off[1]} {
		if p >= 0 && r.until[p] > r.round {
			return true
		}
	}
	return false
}

// apply makes an exchange; its pieces rest for some rounds.
func (r *repair) apply(x exchange) {
	for _, p := range x.off {
		if p >= 0 {
			r.pull(p)
			r.until[p] = r.round + 2 + r.rng.IntN(6)
		}
	}
	for _, p := range x.in {
		if p >= 0 {
			r.push(p, x.bin)
			r.until[p] = r.round + 5 + r.rng.IntN(20)
		}
	}
}

// pull takes a piece out of its bin.
func (r *repair) pull(p int) {
	b := r.bin[p]
	held := r.held[b]
	held[slices.Index(held, p)] = held[len(held)-1]
	r.held[b] = held[:len(held)-1]
	r.load[b] -= r.size[p]
	r.bin[p] = -1
	r.loose = append(r.loose, p)
	r.left += r.size[p]
}

// push puts a loose piece into a bin.
func (r *repair) push(p, b int) {
	at := slices.Index(r.loose, p)
	r.loose[at] = r.loose[len(r.loose)-1]
	r.loose = r.loose[:len(r.loose)-1]
	r.left -= r.size[p]
	r.bin[p] = b
	r.held[b] = append(r.held[b], p)
	r.load[b] += r.size[p]
}

// shake empties a few bins at random and fills them again with what is loose,
// each as full as can be.
func (r *repair) shake() {
	var open []int
	for range min(len(r.held), 2+r.rng.IntN(4)) {
		b := r.rng.IntN(len(r.held))
		if slices.Contains(open, b) {
			continue
		}
		open = append(open, b)
		for len(r.held[b]) > 0 {
			r.pull(r.held[b][0])
		}
	}
	r.rng.Shuffle(len(r.loose), func(i, j int) { r.loose[i], r.loose[j] = r.loose[j], r.loose[i] })
	for _, b := range open {
		for _, p := range r.fullest() {
			r.push(p, b)
		}
	}
}

// fullest chooses loose pieces that fill an empty bin best. Equal fills are
// told apart by chance, as values are a little off.
func (r *repair) fullest() []int {
	k := kinds{room: r.room, size: make([]int64, len(r.loose)), need: make([]int64, len(r.loose))}
	value := make([]int64, len(r.loose))
	for i, p := range r.loose {
		k.size[i], k.need[i] = r.size[p], 1
		value[i] = int64(float64(r.size[p]) / float64(r.room) * float64(priceUnit) * (1 + 0.02*r.rng.Float64()))
	}
	uses, _, _ := bestFill(k, value, 0, quick(), r.m)
	list := make([]int, len(uses))
	for i, u := range uses {
		list[i] = r.loose[u.Kind]
	}
	return list
}

// packed is the packing the repair has come to.
func (r *repair) packed(kind []int) bins {
	var b bins
	for _, held := range r.held {
		if len(held) == 0 {
			continue
		}
		uses := make([]patterns.Use, len(held))
		for i, p := range held {
			uses[i] = patterns.Use{Kind: kind[p], N: 1}
		}
		b.add(1, joined(byKind(uses)))
	}
	return b
}
