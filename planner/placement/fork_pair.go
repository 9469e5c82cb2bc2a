package placement

import "math"

// pairing asks whether two loops share a level: the first lies there whole, the second
// whole or, where inParts is set, in part. In a layout where they do, no other bundle has
// the first; in one where they do not, none has both (Ryan, Foster, An integer programming
// approach to scheduling, in: Computer Scheduling of Public Transport, 1981, from memory).
type pairing struct {
	first, second int
	inParts       bool
}

// has reports whether a bundle has the first loop, and the second as it is asked for;
// strange is true where it has one of them otherwise.
func (q pairing) has(whole, parts crowd) (first, second, strange bool) {
	first, second = whole.has(q.first), whole.has(q.second)
	strange = parts.has(q.first)
	if q.inParts {
		return first, parts.has(q.second), strange || second
	}
	return first, second, strange || parts.has(q.second)
}

// together and apart report whether a bundle may be in a layout in which the loops
// share a level, or do not.
func (q pairing) together(_ int, whole, parts crowd) bool {
	first, second, strange := q.has(whole, parts)
	return !strange && (second || !first) && (first || !second || q.inParts)
}

func (q pairing) apart(_ int, whole, parts crowd) bool {
	first, second, _ := q.has(whole, parts)
	return !first || !second
}

// pairing finds two loops of which the programme takes most nearly a half together;
// false where it takes each two always together or never.
func (g *programme) pairing(loops int) (pairing, bool) {
	whole, mixed := make([]float64, loops*loops), make([]float64, loops*loops)
	for r, id := range g.lp.IDs {
		p := &g.cols[id]
		members, parts := p.whole.members(), p.parts.members()
		for k, i := range members {
			for _, j := range members[k+1:] {
				whole[i*loops+j] += g.lp.X[r]
			}
			for _, j := range parts {
				mixed[i*loops+j] += g.lp.X[r]
			}
		}
	}
	best, off := pairing{}, 0.5-1e-3
	for at := range whole {
		for k, share := range [2]float64{whole[at], mixed[at]} {
			if d := math.Abs(share - 0.5); d < off {
				best, off = pairing{at / loops, at % loops, k == 1}, d
			}
		}
	}
	return best, off < 0.5-1e-3
}
