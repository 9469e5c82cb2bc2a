package sizing

import (
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
	h := heapOf(w.uses)
	for range n - rank {
		h.pop()
	}
	return w.scale.Mul(h.pop())
}

// windows are the use of every window of a history, each uses[i]·scale: a
// window of less than a day is that share of each day. uses may be the history
// itself and is not changed.
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
		return windows{days, rest}
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

// heap has its largest use on top: a few of the largest of many windows cost
// less than sorting them all.
type heap struct {
	uses []units.Ratio
	// list are places in uses, each with the nearest float64 of its use, which
	// decides where two differ: a smaller use never has a larger key.
	list []keyed
}

type keyed struct {
	key float64
	at  int
}

func heapOf(uses []units.Ratio) heap {
	h := heap{uses, make([]keyed, len(uses))}
	for i, u := range uses {
		h.list[i] = keyed{u.Float64(), i}
	}
	for i := len(uses)/2 - 1; i >= 0; i-- {
		h.sink(i)
	}
	return h
}

func (h *heap) less(i, j int) bool {
	a, b := h.list[i], h.list[j]
	return a.key < b.key || a.key == b.key && h.uses[a.at].Cmp(h.uses[b.at]) < 0
}

// pop removes the top and returns it.
func (h *heap) pop() units.Ratio {
	top, last := h.list[0], len(h.list)-1
	h.list[0] = h.list[last]
	h.list = h.list[:last]
	h.sink(0)
	return h.uses[top.at]
}

func (h *heap) sink(i int) {
	for {
		child := 2*i + 1
		if child >= len(h.list) {
			return
		}
		if child+1 < len(h.list) && h.less(child, child+1) {
			child++
		}
		if !h.less(i, child) {
			return
		}
		h.list[i], h.list[child] = h.list[child], h.list[i]
		i = child
	}
}
