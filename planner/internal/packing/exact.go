package packing

import "slices"

// exact asks whether a packing with so many bins exists: bin by bin, the
// largest piece left goes with every set of others that leaves no room for
// more, that no exchange for a larger piece improves, and whose waste the total
// allows (after Martello and Toth 1990 and Korf 2003). Needs that were found
// hopeless are remembered.
type exact struct {
	k        kinds
	m        *meter
	hopeless map[string]bool
	fills    []fill
}

// mostHopeless bounds the memory.
const mostHopeless = 300_000

// packInto returns a packing into so many bins, if there is one, and whether
// that is certain.
func packInto(k kinds, count int64, m *meter) (b bins, found, certain bool) {
	e := &exact{k: k.with(slices.Clone(k.need)), m: m, hopeless: map[string]bool{}}
	spare := count * k.room
	for i, n := range k.need {
		spare -= n * k.size[i]
	}
	if spare < 0 {
		return bins{}, false, true
	}
	if e.pack(spare) {
		return bins{fills: e.fills, count: int64(len(e.fills))}, true, true
	}
	return bins{}, false, m.on()
}

// pack packs all that is needed with at most so much waste in all.
func (e *exact) pack(spare int64) bool {
	first := slices.IndexFunc(e.k.need, func(n int64) bool { return n > 0 })
	if first < 0 {
		return true
	}
	if !e.m.spend(int64(len(e.k.need))) {
		return false
	}
	key := keyOf(e.needed())
	if e.hopeless[key] {
		return false
	}
	e.k.need[first]--
	b := &branch{e: e, spare: spare, uses: []use{{first, 1}}}
	found := b.extend(first, e.k.room-e.k.size[first])
	e.k.need[first]++
	if !found && e.m.on() && len(e.hopeless) < mostHopeless {
		e.hopeless[key] = true
	}
	return found
}

func (e *exact) needed() []use {
	var list []use
	for i, n := range e.k.need {
		if n > 0 {
			list = append(list, use{i, n})
		}
	}
	return list
}

// branch is the filling of one bin.
type branch struct {
	e     *exact
	spare int64
	uses  []use
}

// extend adds pieces of kind i and smaller ones to the bin in every way.
func (b *branch) extend(i int, room int64) bool {
	k := b.e.k
	for i < len(k.size) && (k.need[i] == 0 || k.size[i] > room) {
		i++
	}
	if !b.e.m.spend(16) {
		return false
	}
	if i == len(k.size) {
		return room <= b.spare && b.full(room) && b.close(room)
	}
	most := min(k.need[i], room/k.size[i])
	for n := most; n >= 0; n-- {
		if n > 0 {
			b.uses = append(b.uses, use{i, n})
			k.need[i] -= n
		}
		found := b.extend(i+1, room-n*k.size[i])
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
			if d := k.size[i] - k.size[u.kind]; d > 0 && d <= room {
				return false
			}
		}
	}
	return true
}

// close packs the rest into further bins.
func (b *branch) close(room int64) bool {
	if !b.e.pack(b.spare - room) {
		return false
	}
	b.e.fills = append(b.e.fills, fill{1, joined(b.uses)})
	return true
}

// joined adds up uses of one kind that stand beside each other.
func joined(list []use) []use {
	var uses []use
	for _, u := range list {
		if n := len(uses); n > 0 && uses[n-1].kind == u.kind {
			uses[n-1].n += u.n
			continue
		}
		uses = append(uses, u)
	}
	return uses
}
