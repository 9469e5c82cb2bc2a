package tours

import (
	"cmp"
	"slices"
)

// half are the members with breaches or those without, cheapest first.
type half []*member

// population is a set of different and good routes (after Vidal, Crainic,
// Gendreau, Rei, A hybrid genetic algorithm for multidepot and periodic vehicle
// routing problems, Operations Research 60, 2012, 611-624; from memory, own
// code).
type population struct {
	halves [2]half
	plane  plane
	splitter
	// first is how many members are still to be made up without parents.
	first int
	// recent remembers which of the last children kept all limits.
	recent []bool
	born   int
	// idle counts the children since the best was found.
	idle  int
	order []int32
	used  []bool
}

// The numbers of the population, as in the paper but for those that say so.
const (
	// fewest is how many of a half survive when it has grown by generation.
	fewest, generation = 25, 40
	// elite is how many count as such where fitness is ranked, nearKin is with
	// how many a member is compared.
	elite, nearKin = 4, 5
	// firstMembers are made up to begin with: fewer than in the paper, for
	// budgets of seconds.
	firstMembers = 40
	// recentChildren is how many children the prices follow.
	recentChildren = 100
	keptChildren   = 0.2
	childRises     = 1.2
	childFalls     = 0.85
	// restartAfter so many children without a new best the population is new.
	restartAfter = 20_000
)

func newPopulation(f *frozen) *population {
	return &population{plane: newPlane(f.Problem), first: firstMembers, used: make([]bool, f.w)}
}

// restart forgets all members if they have found nothing for long.
func (p *population) restart() {
	if p.idle >= restartAfter {
		p.halves, p.first, p.idle = [2]half{}, firstMembers, 0
	}
}

// add files m and lets only the fittest survive where there are too many.
func (p *population) add(m *member, now prices) {
	m.weigh(now)
	h := &p.halves[0]
	if !m.feasible() {
		h = &p.halves[1]
	}
	m.kin = m.kin[:0]
	for _, o := range *h {
		d := m.differ(o)
		m.relate(kinship{d, o})
		o.relate(kinship{d, m})
	}
	at, _ := slices.BinarySearchFunc(*h, m, func(a, b *member) int { return cmp.Or(cmp.Compare(a.value, b.value), -1) })
	*h = slices.Insert(*h, at, m)
	if len(*h) > fewest+generation {
		for len(*h) > fewest {
			h.cull()
		}
	}
}

// rank sets the fitness of all: less is better.
func (h half) rank() {
	n := float64(len(h))
	byKin := slices.Clone(h)
	slices.SortStableFunc(byKin, func(a, b *member) int { return cmp.Compare(b.apart(), a.apart()) })
	for i, m := range byKin {
		m.fitness = float64(i) * (1 - min(elite/n, 1)) / n
	}
	for i, m := range h {
		m.fitness += float64(i) / n
	}
}

// cull drops the twin or the member with the worst fitness, never the cheapest.
func (h *half) cull() {
	h.rank()
	worst := 1
	twins := false
	for i, m := range *h {
		twin := len(m.kin) > 0 && m.kin[0].differ == 0
		if i > 0 && (twin && !twins || twin == twins && m.fitness > (*h)[worst].fitness) {
			worst, twins = i, twin
		}
	}
	gone := (*h)[worst]
	*h = slices.Delete(*h, worst, worst+1)
	for _, m := range *h {
		m.kin = slices.DeleteFunc(m.kin, func(k kinship) bool { return k.of == gone })
	}
}

// reprice weighs those that breach limits at new prices.
func (p *population) reprice(now prices) {
	h := p.halves[1]
	for _, m := range h {
		m.weigh(now)
	}
	slices.SortStableFunc(h, func(a, b *member) int { return cmp.Compare(a.value, b.value) })
}

// parent is the fitter of two of all members.
func (p *population) parent(d dice) *member {
	a, b := p.any(d), p.any(d)
	if b.fitness < a.fitness {
		return b
	}
	return a
}

func (p *population) any(d dice) *member {
	i := d.n(len(p.halves[0]) + len(p.halves[1]))
	if i < len(p.halves[0]) {
		return p.halves[0][i]
	}
	return p.halves[1][i-len(p.halves[0])]
}

// cross takes a string of a's order and the rest in that of b (order crossover).
func (p *population) cross(a, b *member, d dice) []int32 {
	n := len(a.order)
	from, size := d.n(n), 1+d.n(n-1)
	p.order = append(p.order[:0], a.order...)
	clear(p.used)
	for i := range size {
		p.used[a.order[(from+i)%n]] = true
	}
	at := (from + size) % n
	for i := range n {
		x := b.order[(from+size+i)%n]
		if !p.used[x] {
			p.order[at] = x
			at = (at + 1) % n
		}
	}
	return p.order
}

// follow keeps in mind whether a child kept all limits and says by how much
// prices change now: 1 for not at all.
func (p *population) follow(kept bool) float64 {
	if len(p.recent) < recentChildren {
		p.recent = append(p.recent, kept)
	} else {
		p.recent[p.born%recentChildren] = kept
	}
	if p.born++; p.born%recentChildren > 0 {
		return 1
	}
	n := 0
	for _, k := range p.recent {
		if k {
			n++
		}
	}
	switch share := float64(n) / float64(len(p.recent)); {
	case share < keptChildren-0.05:
		return childRises
	case share > keptChildren+0.05:
		return childFalls
	}
	return 1
}
