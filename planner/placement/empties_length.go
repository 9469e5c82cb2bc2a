package placement

import (
	"math"
	"sort"

	"lanewright/planner/plant"
	"lanewright/planner/sizing"
	"lanewright/planner/units"
)

const (
	// fineStep is the least step in which empties of mixed lengths are added up;
	// lengths that are no multiple are rounded up to it. Where all lengths have
	// a larger measure in common, that is the step and nothing is rounded.
	fineStep = units.Millimetre
	// mostSteps bounds the length of a rack in steps: where more is needed, the
	// step grows. mostPooled bounds its empties, their mean and eight deviations:
	// beyond, the normal distribution stands for the pooled one.
	mostSteps, mostPooled = 1 << 15, 500
	// nearly is what a sum of chances may fall short of the service level.
	nearly = 1e-9
)

// kind is what comes back on a rack in one container, lying one way.
type kind struct {
	box  *plant.Container
	side plant.FlowSide
	// along is the length of return lane that a stack of so many takes.
	along units.Length
	stack int
	loops []returner
}

// stackOf returns how many empties nest below the clear height of a return
// level: 1 + ⌊(clear − h) / (nests·h)⌋.
func stackOf(box *plant.Container, clear units.Length) int {
	if box.Nests.Sign() <= 0 || box.Nests.Cmp(units.Int(1)) >= 0 || clear == math.MaxInt64 || clear <= box.Height {
		return 1
	}
	more := (clear - box.Height).Ratio().Div(box.Nests.Mul(box.Height.Ratio())).Floor()
	return 1 + int(min(more, mostEmptied))
}

// step is the common measure of the lengths of all kinds, fineStep at least.
func step(kinds []kind) units.Length {
	common := units.Length(0)
	for _, k := range kinds {
		for a := k.along; a != 0; {
			common, a = a, common%a
		}
	}
	return max(common, fineStep)
}

// inSteps is a length in steps, rounded up.
func inSteps(l, step units.Length) int { return int((l + step - 1) / step) }

// holds is the length in nanometres that a lane can really take: of the rows
// of whole containers that fit, the longest.
func holds(lane units.Length, kinds []kind) float64 {
	unit := step(kinds)
	if lane/unit > mostSteps {
		return float64(lane)
	}
	row := make([]bool, lane/unit+1)
	row[0] = true
	longest := 0
	for at := range row {
		for _, k := range kinds {
			if a := inSteps(k.along, unit); a <= at && row[at-a] {
				row[at], longest = true, at
			}
		}
	}
	return float64(longest) * float64(unit)
}

// needed is the length of return lane, in nanometres, that the empties of all
// kinds which wait before a visit every so many minutes do not exceed with the
// chance level. Of each kind n empties take ⌈n/stack⌉ times its length; loops
// are independent.
func needed(kinds []kind, minutes, level float64) float64 {
	if length, many := roughly(kinds, minutes, level); many {
		return length
	}
	stacks := stacksOf(kinds, minutes)
	for unit := step(kinds); ; unit *= 4 {
		if p := pool(kinds, stacks, unit, mostSteps); p.within(mostSteps) >= level-nearly {
			return float64(p.quantile(level)) * float64(unit)
		}
	}
}

// fits reports whether needed is have nanometres at most, with less work.
func fits(kinds []kind, minutes, level, have float64) bool {
	if length, many := roughly(kinds, minutes, level); many {
		return length <= have
	}
	stacks := stacksOf(kinds, minutes)
	for unit := step(kinds); ; unit *= 4 {
		most := int(min(have/float64(unit), mostSteps))
		if p := pool(kinds, stacks, unit, most); p.within(most) >= level-nearly {
			return true
		}
		if most < mostSteps {
			return false
		}
	}
}

// pooled is the distribution of the length that the empties of a rack take.
type pooled struct {
	// rest[i] is the chance that all kinds but one take i units at most; that
	// one has stacks of along units each.
	rest   []float64
	stacks emptied
	along  int
}

// pool adds up lengths in units, up to the limit: nothing is said of what is
// longer. The kind that reaches farthest is left for within.
func pool(kinds []kind, stacks []emptied, unit units.Length, limit int) pooled {
	longest, all, farthest := -1.0, 0.0, 0
	for i, k := range kinds {
		reach := float64(len(stacks[i])-1) * float64(inSteps(k.along, unit))
		if all += reach; reach > longest {
			longest, farthest = reach, i
		}
	}
	rest, top := make([]float64, int(min(all-longest, float64(limit)))+1), 0
	rest[0] = 1
	for i, k := range kinds {
		if i != farthest {
			top = lengthen(rest, top, stacks[i], inSteps(k.along, unit))
		}
	}
	for i := 1; i < len(rest); i++ {
		rest[i] += rest[i-1]
	}
	return pooled{rest: rest, stacks: stacks[farthest], along: inSteps(kinds[farthest].along, unit)}
}

// within is the chance that the empties take at most so many units.
func (p pooled) within(most int) float64 {
	chance := 0.0
	for n := 0; n < len(p.stacks) && n*p.along <= most; n++ {
		chance += p.stacks[n] * p.rest[min(most-n*p.along, len(p.rest)-1)]
	}
	return chance
}

// quantile is the least number of units that they take at most with the chance
// level, where that is at most mostSteps.
func (p pooled) quantile(level float64) int {
	return sort.Search(mostSteps, func(most int) bool { return p.within(most) >= level-nearly })
}

func stacksOf(kinds []kind, minutes float64) []emptied {
	list := make([]emptied, len(kinds))
	for i, k := range kinds {
		list[i] = k.stacks(minutes)
	}
	return list
}

// stacks is the distribution of the stacks of k between two visits.
func (k kind) stacks(minutes float64) emptied {
	n := emptied{1}
	for _, r := range k.loops {
		n = trimmed(n.and(r.emptied(minutes)))
	}
	out := make(emptied, (len(n)-1+k.stack-1)/k.stack+1)
	for i, p := range n {
		out[(i+k.stack-1)/k.stack] += p
	}
	return out
}

// lengthen adds stacks that take so many units each to a distribution of
// lengths that reaches up to top, in place from the top down, and returns how
// far it reaches then. What is beyond the end is left out.
func lengthen(lengths []float64, top int, stacks emptied, along int) int {
	const none = 1e-18
	reach := top
	for at := top; at >= 0; at-- {
		p := lengths[at]
		if p < none {
			lengths[at] = 0
			continue
		}
		lengths[at] = p * stacks[0]
		for n, to := 1, at+along; n < len(stacks) && to < len(lengths); n, to = n+1, to+along {
			lengths[to] += p * stacks[n]
			reach = max(reach, to)
		}
	}
	return reach
}

// roughly is needed by the normal distribution, mean + z·deviation, and
// whether the empties are so many that it stands for the exact one. It takes
// every empty for its share of a stack.
func roughly(kinds []kind, minutes, level float64) (length float64, many bool) {
	var n, spread, lengthSpread float64
	for _, k := range kinds {
		each := float64(k.along) / float64(k.stack)
		for _, r := range k.loops {
			mean, variance := r.moments(minutes)
			n, spread = n+mean, spread+variance
			length, lengthSpread = length+mean*each, lengthSpread+variance*each*each
		}
	}
	z := sizing.NormalQuantile(level)
	return math.Ceil(length + z*math.Sqrt(lengthSpread)), n+8*math.Sqrt(spread) > mostPooled
}
