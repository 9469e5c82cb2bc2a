package packing

import "math/bits"

// sizeBound is the total size over the capacity, rounded up.
func sizeBound(k kinds) int64 {
	return ratioBound(k, k.room, func(size int64) int64 { return size })
}

// ratioBound adds up f over all pieces and divides by what one bin holds of
// it, rounded up.
func ratioBound(k kinds, room int64, f func(int64) int64) int64 {
	var hi, lo uint64
	for i, n := range k.need {
		h, l := bits.Mul64(uint64(f(k.size[i])), uint64(n))
		var carry uint64
		lo, carry = bits.Add64(lo, l, 0)
		hi += h + carry
	}
	if hi >= uint64(room) {
		panic("packing: more bins than pieces")
	}
	q, rest := bits.Div64(hi, lo, uint64(room))
	if rest > 0 {
		q++
	}
	return int64(q)
}

// mostThresholds bounds the sizes that are tried as a parameter.
const mostThresholds = 400

// dualBound is the best of several bounds by dual-feasible functions: f with
// the property that pieces that fit one bin have f summing to at most the
// bin's. It is L2 of Martello and Toth (1990) and those of Fekete and Schepers
// (2001) and Carlier, Clautiaux and Moukrim (2007).
func dualBound(k kinds) int64 {
	best := sizeBound(k)
	for _, t := range thresholds(k) {
		best = max(best, ratioBound(k, k.room, lifted(k.room, t)))
		best = max(best, ratioBound(k, 2*(k.room/t), counted(k.room, t)))
	}
	for n := int64(1); n <= 20; n++ {
		best = max(best, ratioBound(k, k.room*n, rounded(k.room, n)))
	}
	return best
}

// thresholds are the sizes up to half the capacity and what the others leave
// free, evenly thinned out.
func thresholds(k kinds) []int64 {
	var list []int64
	for _, s := range k.size {
		if t := min(s, k.room-s+1); t > 0 && 2*t <= k.room {
			list = append(list, t)
		}
	}
	if every := (len(list) + mostThresholds - 1) / mostThresholds; every > 1 {
		for i := range (len(list) + every - 1) / every {
			list[i] = list[i*every]
		}
		list = list[:(len(list)+every-1)/every]
	}
	return list
}

// lifted counts sizes above room-t as a whole bin and those below t as
// nothing.
func lifted(room, t int64) func(int64) int64 {
	return func(s int64) int64 {
		switch {
		case s > room-t:
			return room
		case s < t:
			return 0
		}
		return s
	}
}

// rounded rounds n+1 times the size down to whole bins, where it is not
// one: u(n) of Fekete and Schepers, in parts of room x n.
func rounded(room, n int64) func(int64) int64 {
	return func(s int64) int64 {
		hi, lo := bits.Mul64(uint64(s), uint64(n+1))
		q, rest := bits.Div64(hi, lo, uint64(room))
		if rest == 0 {
			return s * n
		}
		return int64(q) * room
	}
}

// counted counts pieces of size t that the bin and the piece hold: f(t) of
// Carlier, Clautiaux and Moukrim, in parts of 2 x (room / t).
func counted(room, t int64) func(int64) int64 {
	return func(s int64) int64 {
		switch {
		case 2*s > room:
			return 2 * (room/t - (room-s)/t)
		case 2*s == room:
			return room / t
		}
		return 2 * (s / t)
	}
}
