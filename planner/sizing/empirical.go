package sizing

import (
	"slices"

	"lanewright/planner/units"
)

// EmpiricalQuantile returns the use that a share p of the windows of t net
// minutes does not exceed, taken from the use of consecutive days of day net
// minutes each. A window starts at the start of a day and takes whole days,
// then the fraction of the next day's use that the rest of t is of a day. Use
// inside a day is thus taken as even; the days' own pattern is kept.
func EmpiricalQuantile(days []units.Ratio, p, t, day units.Ratio) units.Ratio {
	w := windowsOf(days, t, day)
	if len(w.uses) == 0 {
		return units.Ratio{}
	}
	n := int64(len(w.uses))
	rank := min(max(p.Mul(units.Int(n)).Ceil(), 1), n)
	if fromTop := n - rank; fromTop < n/2 {
		return w.scale.Mul(nth(w.uses, int(fromTop), units.Ratio.Cmp))
	}
	return w.scale.Mul(nth(w.uses, int(rank-1), func(a, b units.Ratio) int { return b.Cmp(a) }))
}

// windows are the use of every window of a history, each uses[i]·scale: a
// window of less than a day is that share of each day.
type windows struct {
	uses  []units.Ratio
	scale units.Ratio
}

// windowsOf returns the windows of t net minutes; where the history is shorter
// than one, the one that its mean would give.
func windowsOf(days []units.Ratio, t, day units.Ratio) windows {
	if len(days) == 0 || day.Sign() <= 0 {
		return windows{}
	}
	length := t.Div(day)
	whole := int(min(length.Floor(), int64(len(days))))
	rest := length.Sub(units.Int(int64(whole)))
	span := whole
	if rest.Sign() > 0 {
		span++
	}
	span = max(1, span)
	switch {
	case span > len(days):
		return windows{[]units.Ratio{mean(days)}, length}
	case whole == 0:
		return windows{slices.Clone(days), rest}
	}
	list := make([]units.Ratio, len(days)-span+1)
	var full units.Ratio // the whole days of the window
	for _, d := range days[:whole] {
		full = full.Add(d)
	}
	for from := range list {
		list[from] = full
		if whole < span {
			list[from] = full.Add(days[from+whole].Mul(rest))
		}
		if from+whole < len(days) {
			full = full.Sub(days[from]).Add(days[from+whole])
		}
	}
	return windows{list, units.Int(1)}
}

func mean(list []units.Ratio) units.Ratio {
	var sum units.Ratio
	for _, d := range list {
		sum = sum.Add(d)
	}
	return sum.Div(units.Int(int64(len(list))))
}

// nth returns the element of list that has n others before it, the largest by
// compare first. It reorders list.
func nth(list []units.Ratio, n int, compare func(a, b units.Ratio) int) units.Ratio {
	h := heap{list, compare}
	h.build()
	for range n {
		h.pop()
	}
	return h.list[0]
}

// heap has its largest element by compare on top; a few of the largest of many
// windows cost less than sorting them all.
type heap struct {
	list    []units.Ratio
	compare func(a, b units.Ratio) int
}

func (h *heap) build() {
	for i := len(h.list)/2 - 1; i >= 0; i-- {
		h.sink(i)
	}
}

// pop removes the top and returns it.
func (h *heap) pop() units.Ratio {
	top, last := h.list[0], len(h.list)-1
	h.list[0] = h.list[last]
	h.list = h.list[:last]
	h.sink(0)
	return top
}

func (h *heap) sink(i int) {
	for {
		child := 2*i + 1
		if child >= len(h.list) {
			return
		}
		if child+1 < len(h.list) && h.compare(h.list[child+1], h.list[child]) > 0 {
			child++
		}
		if h.compare(h.list[child], h.list[i]) <= 0 {
			return
		}
		h.list[i], h.list[child] = h.list[child], h.list[i]
		i = child
	}
}
