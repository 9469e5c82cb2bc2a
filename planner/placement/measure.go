package placement

import (
	"slices"
)

// measure rounds the width of a lane on a level such that lanes which fit side
// by side measure no more than the level's width (dual-feasible functions;
// Fekete, Schepers, New classes of fast lower bounds for bin packing problems,
// Math. Programming 91, 2001, from memory).
type measure func(width int64, col *column) float64

// roundings is the number of measures that round shares.
const roundings = 8

// mostCounts bounds the widths by which lanes are counted.
const mostCounts = 8

// measures lists the measures of a cell beside the width itself.
func (c *cell) measures() []measure {
	var list []measure
	for k := range roundings {
		list = append(list, func(width int64, col *column) float64 { return rounded(width, col, k+1) })
	}
	var widths []int64
	for _, y := range c.lays {
		for _, w := range y.ways[:y.n] {
			widths = append(widths, w.width)
		}
	}
	slices.Sort(widths)
	widths = slices.Compact(widths)
	for k := 0; k < len(widths); k += 1 + len(widths)/mostCounts {
		unit := widths[k]
		list = append(list, func(width int64, col *column) float64 { return counted(width, col, unit) })
	}
	return list
}

// rounded rounds a lane's share x of its level's width to x where (k+1)·x is
// whole, else to ⌊(k+1)·x⌋ / k.
func rounded(width int64, col *column, k int) float64 {
	if col.fixed != nil {
		return float64(width)
	}
	whole := int64(k+1) * width
	if whole%col.width == 0 {
		return float64(width)
	}
	return float64(whole/col.width) * float64(col.width) / float64(k)
}

// counted counts whole units of width: a level of width W holds at most
// ⌊W/unit⌋ lanes of that width or more. A level with fixed lanes holds
// ⌊width/unit⌋ in each.
func counted(width int64, col *column, unit int64) float64 {
	holds := col.width / unit
	if col.fixed != nil {
		holds = 0
		for _, w := range col.fixed {
			holds += (w + col.guide) / unit
		}
	}
	if holds == 0 {
		return 0
	}
	return float64(width/unit) * float64(col.width) / float64(holds)
}

// finest is the most steps into which a level's width is cut to find what
// whole lanes can fill.
const finest = 20_000

// addReach computes how much of each level's width whole lanes of its loops
// can fill.
func (c *cell) addReach() {
	type known struct {
		width  int64
		widths []int64
		reach  int64
	}
	var list []known
	for col := range c.cols {
		k := &c.cols[col]
		k.reach = float64(k.width)
		widths := c.widthsOn(col)
		k.lanes = widths
		if k.fixed != nil {
			continue
		}
		at := slices.IndexFunc(list, func(o known) bool { return o.width == k.width && slices.Equal(o.widths, widths) })
		if at < 0 {
			at = len(list)
			list = append(list, known{k.width, widths, reach(k.width, widths)})
		}
		k.reach = float64(list[at].reach)
	}
}

// widthsOn lists the widths of lanes that a loop may have on a column.
func (c *cell) widthsOn(col int) []int64 {
	var widths []int64
	for i := range c.loops {
		if id := c.lay[i*len(c.cols)+col]; id >= 0 {
			for _, w := range c.lays[id].ways[:c.lays[id].n] {
				if !slices.Contains(widths, w.width) {
					widths = append(widths, w.width)
				}
			}
		}
	}
	slices.Sort(widths)
	return widths
}

// reach is the largest sum of widths, each taken any number of times, that is
// not above width; width itself where that takes too long to find.
func reach(width int64, widths []int64) int64 {
	if len(widths) == 0 {
		return width
	}
	step := widths[0]
	for _, w := range widths {
		step = gcd(step, w)
	}
	if step <= 0 || width/step > finest {
		return width
	}
	n := width / step
	can := make([]bool, n+1)
	can[0] = true
	best := int64(0)
	for at := range n + 1 {
		if !can[at] {
			continue
		}
		best = at
		for _, w := range widths {
			if next := at + w/step; next <= n {
				can[next] = true
			}
		}
	}
	return best * step
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
