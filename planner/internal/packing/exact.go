package packing

import (
	"slices"

	"lanewright/planner/internal/patterns"
)

// exact asks whether a packing with so many bins exists: bin by bin, the
// largest piece left goes with every set of others that leaves no room for
// more, that no exchange for a larger piece improves, and whose waste the total
// allows (after Martello and Toth 1990 and Korf 2003). Where prices are known the
// same holds of what bins are worth: all of them together may be worth only so
// much less than the most. Needs that were found hopeless are remembered with
// the waste they had.
type exact struct {
	k        kinds
	m        *patterns.Meter
	w        worth
	ahead    []ahead
	hopeless map[string]int64
	fills    []fill
}

// worth are prices of pieces by kind, such that no fill of a bin is worth more
// than unit: those of the relaxation, rounded down.
type worth struct {
	price []int64
	unit  int64
}

// spare is what is left in all bins together: room, and worth.
type spare struct{ room, worth int64 }

// ahead is what matters of the kinds from a place on: the most that one of them
// is worth, for its size too, and the least size.
type ahead struct {
	price, size int64
	rate        float64
}

// mostHopeless bounds the memory.
const mostHopeless = 300_000

// packInto returns a packing into so many bins, if there is one, and whether
// that is certain.
func packInto(k kinds, count int64, w worth, m *patterns.Meter) (b bins, found, certain bool) {
	e := &exact{k: k.with(slices.Clone(k.need)), m: m, w: w, hopeless: map[string]int64{}}
	left := spare{room: count * k.room}
	for i, n := range k.need {
		left.room -= n * k.size[i]
	}
	if w.price != nil {
		left.worth = count * w.unit
		for i, n := range k.need {
			left.worth -= n * w.price[i]
		}
		e.look()
	}
	if left.room < 0 || left.worth < 0 {
		return bins{}, false, true
	}
	if e.pack(left) {
		return bins{fills: e.fills, count: int64(len(e.fills))}, true, true
	}
	return bins{}, false, m.On()
}

// look fills ahead.
func (e *exact) look() {
	e.ahead = make([]ahead, len(e.k.size)+1)
	least := e.k.size[len(e.k.size)-1]
	for i := len(e.k.size) - 1; i >= 0; i-- {
		a := e.ahead[i+1]
		e.ahead[i] = ahead{max(a.price, e.w.price[i]), least, max(a.rate, float64(e.w.price[i])/float64(e.k.size[i]))}
	}
}

// most is more than pieces from kind i on are worth in a room.
func (e *exact) most(i int, room int64) int64 {
	a := e.ahead[i]
	return min(int64(a.rate*float64(room))+2, room/a.size*a.price)
}

// pack packs all that is needed with at most so much waste in all.
func (e *exact) pack(left spare) bool {
	first := slices.IndexFunc(e.k.need, func(n int64) bool { return n > 0 })
	if first < 0 {
		return true
	}
	if !e.m.Spend(int64(len(e.k.need))) {
		return false
	}
	key := keyOf(e.needed())
	if most, known := e.hopeless[key]; known && left.room <= most {
		return false
	}
	e.k.need[first]--
	b := &branch{e: e, left: left, uses: []patterns.Use{{Kind: first, N: 1}}}
	value := int64(0)
	if e.w.price != nil {
		value = e.w.price[first]
	}
	found := b.extend(first, e.k.room-e.k.size[first], value)
	e.k.need[first]++
	if !found && e.m.On() && len(e.hopeless) < mostHopeless {
		e.hopeless[key] = left.room
	}
	return found
}

func (e *exact) needed() []patterns.Use {
	var list []patterns.Use
	for i, n := range e.k.need {
		if n > 0 {
			list = append(list, patterns.Use{Kind: i, N: n})
		}
	}
	return list
}

// branch is the filling of one bin.
type branch struct {
	e    *exact
	left spare
	uses []patterns.Use
}

// extend adds pieces of kind i and smaller ones to the bin, which is worth value,
// in every way.
func (b *branch) extend(i int, room, value int64) bool {
	k := b.e.k
	for i < len(k.size) && (k.need[i] == 0 || k.size[i] > room) {
		i++
	}
	if !b.e.m.Spend(16) || b.poor(i, room, value) {
		return false
	}
	if i == len(k.size) {
		return room <= b.left.room && b.full(room) && b.close(room, value)
	}
	most := min(k.need[i], room/k.size[i])
	for n := most; n >= 0; n-- {
		if n > 0 {
			b.uses = append(b.uses, patterns.Use{Kind: i, N: n})
			k.need[i] -= n
		}
		found := b.extend(i+1, room-n*k.size[i], value+n*b.e.w.of(i))
		if n > 0 {
			b.uses = b.uses[:len(b.uses)-1]
			k.need[i] += n
		}
		if found {
			return true
		}
	}
	return false
}

// poor reports whether the bin can not be worth what it must.
func (b *branch) poor(i int, room, value int64) bool {
	if b.e.w.price == nil {
		return false
	}
	if i < len(b.e.k.size) {
		value += b.e.most(i, room)
	}
	return value < b.e.w.unit-b.left.worth
}

// of is the price of a kind, 0 where there are none.
func (w worth) of(i int) int64 {
	if w.price == nil {
		return 0
	}
	return w.price[i]
}

// full reports whether no piece left fits in beside, nor in the place of a
// smaller one that was added.
func (b *branch) full(room int64) bool {
	k := b.e.k
	for i, n := range k.need {
		if n == 0 {
			continue
		}
		if k.size[i] <= room {
			return false
		}
		for _, u := range b.uses[1:] {
			if d := k.size[i] - k.size[u.Kind]; d > 0 && d <= room {
				return false
			}
		}
	}
	return true
}

// close packs the rest into further bins.
func (b *branch) close(room, value int64) bool {
	left := spare{b.left.room - room, b.left.worth}
	if b.e.w.price != nil {
		left.worth -= b.e.w.unit - value
	}
	if !b.e.pack(left) {
		return false
	}
	b.e.fills = append(b.e.fills, fill{1, joined(b.uses)})
	return true
}

// joined adds up uses of one kind that stand beside each other.
func joined(list []patterns.Use) []patterns.Use {
	var uses []patterns.Use
	for _, u := range list {
		if n := len(uses); n > 0 && uses[n-1].Kind == u.Kind {
			uses[n-1].N += u.N
			continue
		}
		uses = append(uses, u)
	}
	return uses
}
