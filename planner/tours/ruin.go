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
	gapFrom, gapTo := 0, 0
	span := take
	if take > 1 && take < size && k.unit() < gapChance {
		span++
		gapFrom = 1 + k.n(take-1)
		gapTo = gapFrom + 1
	}
	x := k.start(a, span)
	k.gaps = append(k.gaps, k.nodes[x].link[1])
	for i := range span {
		on := k.nodes[x].link[0]
		if i < gapFrom || i >= gapTo {
			k.taken = append(k.taken, x)
			k.take(x)
		}
		x = on
	}
	k.gaps = append(k.gaps, x)
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

// place finds the cheapest place for a stop next to one of its neighbours, or
// on a route of its own.
func (k *kicks) place(x int32) (at, after int32) {
	f := k.f
	least := int64(math.MaxInt64)
	at = out
	if k.open < f.maxRoutes {
		at, least = k.alone(x)
	}
	demand := f.demand[x]
	var on, in []int32
	if f.cost != nil {
		on, in = f.cost[int(x)*f.w:int(x+1)*f.w], f.into[int(x)*f.w:int(x+1)*f.w]
	}
	for _, b := range f.nearTo(x)[:min(width, f.k)] {
		// Of the two stops beside a place this one is the nearer or was not
		// looked at before, so no less than twice its leg is added.
		if 2*int64(min(b.to, b.from))-int64(k.wide[b.stop]) >= least {
			continue
		}
		n := &k.nodes[b.stop]
		if n.route == out {
			continue
		}
		r := &k.routes[n.route]
		var over int64
		if r.load+demand > f.capacity {
			if k.hard {
				continue
			}
			over = k.penalty(r.load+demand, 0, goods{}) - k.penalty(r.load, 0, goods{})
			if over >= least {
				continue
			}
		}
		d := over + int64(b.from) - int64(n.leg[0])
		if on != nil {
			d += int64(on[n.link[0]])
		} else {
			d += int64(f.Way(x, n.link[0]))
		}
		if d < least && !k.overlook() {
			if d += k.extra(x, n.route, b.stop, n.link[0]); d < least {
				least, at, after = d, n.route, b.stop
			}
		}
		d = over + int64(b.to) - int64(n.leg[1])
		if in != nil {
			d += int64(in[n.link[1]])
		} else {
			d += int64(f.Way(x, n.link[1]))
		}
		if d < least && !k.overlook() {
			if d += k.extra(x, n.route, n.link[1], b.stop); d < least {
				least, at, after = d, n.route, n.link[1]
			}
		}
	}
	if at == out || k.routes[at].size == 0 {
		at, after = k.placeAmongKicked(x, at, least)
	}
	if at == out {
		return k.anywhere(x)
	}
	return at, after
}

// placeAmongKicked looks at all places of the routes that lost stops: for stops
// whose neighbours have no room.
func (k *kicks) placeAmongKicked(x, at int32, least int64) (found, after int32) {
	f := k.f
	found = at
	for _, i := range k.journal.slots {
		r := &k.routes[i]
		if r.size == 0 || k.hard && r.load+f.demand[x] > f.capacity {
			continue
		}
		for p, more := int32(depot), true; more; {
			q := k.after(r, p)
			if d := int64(f.leg(p, x)) + int64(f.leg(x, q)) - int64(f.leg(p, q)); d < least {
				if d += k.worse(x, i, p, q); d < least {
					least, found, after = d, i, p
				}
			}
			p, more = q, q != depot
		}
	}
	return found, after
}

// extra is what putting x between p and q costs beside legs and load.
func (k *kicks) extra(x, at, p, q int32) int64 {
	f := k.f
	if !f.timed && !f.rich && !f.sided {
		return 0
	}
	var d int64
	r := &k.routes[at]
	if f.timed || f.rich {
		load, time, more := r.load+f.demand[x], r.time, r.more
		if f.timed {
			time += k.detour(x, p, q)
		}
		if f.rich {
			more = more.plus(k.more[x])
		}
		d = k.penalty(load, time, more)
		if k.hard && d > 0 {
			return Never
		}
		d -= r.over
		if load > f.capacity {
			d -= k.penalty(load, 0, goods{}) - k.penalty(r.load, 0, goods{})
		}
	}
	if f.sided {
		d += k.wish(x, at, p)
	}
	return d
}

// alone is the slot of a new route for x alone and what it costs.
func (k *kicks) alone(x int32) (at int32, cost int64) {
	f := k.f
	at = k.vacant()
	cost = f.Fixed + f.trip[x]
	if f.timed || f.rich || f.demand[x] > f.capacity {
		var more goods
		if f.rich {
			more = k.more[x]
		}
		cost += k.penalty(f.demand[x], f.drive(depot, x)+f.service[x]+f.drive(x, depot), more)
	}
	if f.Labels == 0 {
		return at, cost
	}
	best := f.price(x, at)
	for l := range f.Labels {
		if k.routes[l].size == 0 && f.price(x, int32(l)) < best {
			at, best = int32(l), f.price(x, int32(l))
		}
	}
	return at, cost + best
}

// anywhere looks at all places: for the rare stop that finds none nearby.
func (k *kicks) anywhere(x int32) (at, after int32) {
	least := int64(math.MaxInt64)
	at = out
	for y := int32(1); int(y) < k.f.w; y++ {
		n := &k.nodes[y]
		if n.route == out {
			continue
		}
		d := int64(k.f.leg(y, x)) + int64(k.f.leg(x, n.link[0])) - int64(n.leg[0]) + k.worse(x, n.route, y, n.link[0])
		if d < least {
			least, at, after = d, n.route, y
		}
		if n.link[1] == depot {
			d = int64(k.f.leg(depot, x)) + int64(k.f.leg(x, y)) - int64(n.leg[1]) + k.worse(x, n.route, depot, y)
			if d < least {
				least, at, after = d, n.route, depot
			}
		}
	}
	if at == out {
		at, _ = k.alone(x)
	}
	return at, after
}

// worse is what breaches and wishes cost with x between p and q.
func (k *kicks) worse(x, at, p, q int32) int64 {
	f, r := k.f, &k.routes[at]
	more := r.more
	if f.rich {
		more = more.plus(k.more[x])
	}
	time := r.time
	if f.timed {
		time += k.detour(x, p, q)
	}
	d := k.penalty(r.load+f.demand[x], time, more) - r.over
	if f.sided {
		d += k.wish(x, at, p)
	}
	return d
}
