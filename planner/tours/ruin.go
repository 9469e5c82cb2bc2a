package tours

import "math"

// The kicks are those of Christiaens, Vanden Berghe (Slack induction by string
// removals for vehicle routing problems, Transportation Science 54, 2020,
// 417-433; from memory, own code): strings of stops are taken from neighbouring
// routes and put back where they cost least, overlooking a place now and then.
type kicks struct {
	*state
	dice
	descent
	exchanges
	// taken are the stops that are out, keys their order of return.
	taken []int32
	keys  []int64
	// gaps are the stops beside what was taken.
	gaps []int32
	// blink counts the places until one is overlooked.
	blink int
	// takenMean is how many stops a kick takes on average.
	takenMean float64
	// hard: what breaches a limit is not tried.
	hard bool
}

// The numbers of the kicks, as in the paper but for those said to be measured.
const (
	// How many stops a kick takes on average, measured: of small problems, of
	// larger ones with soft limits at first, and of others. A string has at most
	// longestString.
	takenSmall, takenLater, takenLarge = 12.0, 10.0, 8.0
	longestString                      = 10
	// gapChance is the share of strings with a gap in them.
	gapChance = 0.5
	// blinkChance is how often a place is overlooked.
	blinkChance = 0.01
	// width is beside how many neighbours a stop is put back; measured.
	width = 30
)

func newKicks(s *state, d dice) kicks {
	k := kicks{state: s, dice: d, takenMean: takenLarge}
	k.queued = make([]bool, s.f.w)
	k.nextBlink()
	return k
}

// ruin takes strings of stops out of neighbouring routes.
func (k *kicks) ruin() {
	k.taken, k.gaps = k.taken[:0], k.gaps[:0]
	f := k.f
	mean := float64(f.Stops) / float64(k.open)
	longest := min(longestString, mean)
	routes := 1 + int(k.unit()*max(4*k.takenMean/(1+longest)-1, 1))
	seed := int32(1 + k.n(f.Stops))
	k.takeString(seed, longest)
	for _, b := range f.nearTo(seed) {
		if routes <= 1 {
			break
		}
		r := k.nodes[b.stop].route
		if r == out || k.routes[r].saved == k.journal.kick {
			continue
		}
		routes--
		k.takeString(b.stop, longest)
	}
}

// takeString takes a string of stops that holds a out of a's route, or one with
// a gap in it.
func (k *kicks) takeString(a int32, longest float64) {
	at := k.nodes[a].route
	k.save(at)
	size := int(k.routes[at].size)
	take := min(1+int(k.unit()*min(longest, float64(size))), size)
	first, span := 0, take
	if take > 1 && take < size && k.unit() < gapChance {
		span++
		first = 1 + k.n(take-1)
	}
	x := k.start(a, span)
	k.gaps = append(k.gaps, k.nodes[x].link[1])
	if first > 0 {
		x = k.nodes[k.takeOn(x, first)].link[0]
	}
	x = k.takeOn(x, take-first)
	k.gaps = append(k.gaps, x)
}

// takeOn takes x and what follows it out, n stops in all, and says which one is
// next.
func (k *kicks) takeOn(x int32, n int) int32 {
	last := x
	k.taken = append(k.taken, x)
	for range n - 1 {
		last = k.nodes[last].link[0]
		k.taken = append(k.taken, last)
	}
	next := k.nodes[last].link[0]
	k.state.takeString(x, last)
	return next
}

// start chooses the first stop of a string of span stops that holds a.
func (k *kicks) start(a int32, span int) int32 {
	before, after := 0, 0
	for x := k.nodes[a].link[1]; x != depot && before < span-1; x = k.nodes[x].link[1] {
		before++
	}
	for x := k.nodes[a].link[0]; x != depot && after < span-1; x = k.nodes[x].link[0] {
		after++
	}
	least := max(0, span-1-after)
	for range least + k.n(before-least+1) {
		a = k.nodes[a].link[1]
	}
	return a
}

// recreate puts the stops that are out back.
func (k *kicks) recreate() {
	k.sortTaken()
	for _, x := range k.taken {
		at, p := k.place(x)
		k.save(at)
		k.put(x, at, p)
	}
	if k.f.sided {
		for _, at := range k.journal.slots {
			k.settleRoute(at)
		}
	}
}

// sortTaken chooses the order of return: by chance, the largest, the farthest
// or the nearest first.
func (k *kicks) sortTaken() {
	way := k.n(11)
	k.keys = k.keys[:0]
	for _, x := range k.taken {
		var key int64
		switch {
		case way < 4:
			key = int64(k.pcg.Uint64() >> 2)
		case way < 8:
			key = -k.f.demand[x]
		case way < 10:
			key = -k.f.trip[x]
		default:
			key = k.f.trip[x]
		}
		k.keys = append(k.keys, key)
	}
	for i := range k.taken {
		x, key := k.taken[i], k.keys[i]
		j := i
		for ; j > 0 && k.keys[j-1] > key; j-- {
			k.taken[j], k.keys[j] = k.taken[j-1], k.keys[j-1]
		}
		k.taken[j], k.keys[j] = x, key
	}
}

// nextBlink draws how many places are looked at until one is overlooked.
func (k *kicks) nextBlink() {
	k.blink = 1 + int(math.Log(1-k.unit())/math.Log(1-blinkChance))
}

// overlook reports whether this place is overlooked.
func (k *kicks) overlook() bool {
	k.blink--
	if k.blink > 0 {
		return false
	}
	k.nextBlink()
	return true
}
