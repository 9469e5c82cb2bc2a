package cutting

import (
	"math/big"
	"math/bits"
)

// priceUnit is the cost of the dearest stock in the whole numbers that prices are
// rounded down to.
const priceUnit = int64(1) << 30

// scaled is a cost in price units, rounded down.
func (k *kinds) scaled(cost int64) int64 { return mulDiv(cost, priceUnit, k.dearest) }

// mulDiv is a·b/c rounded down, for results below 2^63.
func mulDiv(a, b, c int64) int64 {
	hi, lo := bits.Mul64(uint64(a), uint64(b))
	q, _ := bits.Div64(hi, lo, uint64(c))
	return int64(q)
}

// duals are prices that no cutting beats: what is wanted is worth at least
// Σ price·need − Σ rent·have, since no pattern of a source is worth more than the
// source's cost and its rent.
type duals struct {
	price, rent []int64
}

// safe makes prices ones that no cutting beats: top is for each source a value
// that none of its patterns exceeds at these prices. Where a source that is never
// used up would be worth more than its cost, all prices are scaled down (Farley
// 1990); where it may be used up, the difference is its rent. All is in whole
// numbers, so the bound is exact whatever the prices were.
func (k *kinds) safe(price, top, have []int64) duals {
	a, b := int64(1), int64(1)
	for i, s := range k.sources {
		if c := k.scaled(s.cost); !limited(have[i]) && top[i] > c && less(c, top[i], a, b) {
			a, b = c, top[i]
		}
	}
	d := duals{make([]int64, len(price)), make([]int64, len(top))}
	for i, p := range price {
		d.price[i] = mulDiv(p, a, b)
	}
	for i, s := range k.sources {
		if have[i] > 0 && limited(have[i]) {
			d.rent[i] = max(0, mulDiv(top[i], a, b)-k.scaled(s.cost))
		}
	}
	return d
}

// less reports whether a/b is below c/d.
func less(a, b, c, d int64) bool {
	ah, al := bits.Mul64(uint64(a), uint64(d))
	ch, cl := bits.Mul64(uint64(c), uint64(b))
	return ah < ch || ah == ch && al < cl
}

// worth is what needs are worth at least, in price units.
func (d duals) worth(need, have []int64) *big.Int {
	sum, term := new(big.Int), new(big.Int)
	add := func(a, b int64) { sum.Add(sum, term.Mul(big.NewInt(a), big.NewInt(b))) }
	for i, p := range d.price {
		add(p, need[i])
	}
	for i, r := range d.rent {
		if r > 0 {
			add(-r, have[i])
		}
	}
	return sum
}

// bound is the cost that nobody is below, given what needs are worth: a multiple
// of what all costs have in common.
func (k *kinds) bound(worth *big.Int) int64 {
	if worth.Sign() <= 0 {
		return 0
	}
	unit := new(big.Int).Mul(big.NewInt(priceUnit), big.NewInt(k.step))
	n := new(big.Int).Mul(worth, big.NewInt(k.dearest))
	n.Add(n, unit).Sub(n, big.NewInt(1)).Quo(n, unit)
	return n.Int64() * k.step
}

// material is the bound by length alone: prices in proportion to the sizes, at
// the cost per length of each source in turn.
func (k *kinds) material() int64 {
	best := int64(0)
	for _, s := range k.sources {
		c := max(1, k.scaled(s.cost))
		price, top := make([]int64, len(k.size)), make([]int64, len(k.sources))
		for i, size := range k.size {
			price[i] = min(mulDiv(c, size, s.room), dear*priceUnit)
		}
		for i, t := range k.sources {
			top[i] = mulDiv(c, t.room, s.room)
		}
		best = max(best, k.bound(k.safe(price, top, k.have).worth(k.need, k.have)))
	}
	return best
}
