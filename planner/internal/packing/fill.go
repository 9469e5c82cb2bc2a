package packing

import (
	"context"
	"math"

	"lanewright/planner/internal/patterns"
)

// Good is a kind of piece that may lie in a bin: at most Most of them, each
// worth Value, which is 0 or more.
type Good struct {
	Size, Value, Most int64
}

// Care is how thoroughly the best fill of a bin is looked for.
type Care int

// A good fill will do; one better than a given value is looked for; or a bound
// rests on there being none.
const (
	Quick Care = iota
	Wanted
	Thorough
)

func (c Care) effort() effort { return [...]effort{quick(), wanted(), thorough()}[c] }

// BestFill returns how many of each good make the fill of greatest value above
// the given one, nil where none was found, its value, and a value that no fill
// exceeds; steps are the elementary operations used. The value of a fill is
// below 2^62.
func BestFill(room int64, goods []Good, above int64, c Care) (counts []int64, best, upper, steps int64) {
	k := kinds{room: room, size: make([]int64, len(goods)), need: make([]int64, len(goods))}
	value := make([]int64, len(goods))
	any := false
	for i, g := range goods {
		k.size[i], k.need[i], value[i] = g.Size, g.Most, g.Value
		any = any || g.Value > 0 && k.most(i) > 0
	}
	if !any {
		return nil, above, above, int64(len(goods))
	}
	m := patterns.NewMeter(context.Background(), math.MaxInt64)
	uses, best, upper := bestFill(k, value, above, c.effort(), m)
	if len(uses) > 0 {
		counts = make([]int64, len(goods))
		for _, u := range uses {
			counts[u.Kind] = u.N
		}
	}
	return counts, best, upper, m.Used
}
