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
	// mostSteps bounds the steps of a rack, mostPooled its empties: the step
	// grows with the first; beyond the second the normal distribution stands for
	// the pooled one.
	mostSteps, mostPooled = 1 << 15, 500
	// nearly is what a sum of chances may fall short of the service level.
	nearly = 1e-9
)

// returner is a loop whose empties a rack takes back: all of them, or the share
// of its containers that lies on the rack.
type returner struct {
	loop  *sizing.Loop
	share float64
}

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
	unit, total, largest := step(kinds), 0.0, 0
	stacks, longest := make([]emptied, len(kinds)), make([]float64, len(kinds))
	for i, k := range kinds {
		stacks[i] = k.stacks(minutes)
		longest[i] = float64(len(stacks[i])-1) * float64(inSteps(k.along, unit))
		total += longest[i]
		if longest[i] > longest[largest] {
			largest = i
		}
	}
	unit *= units.Length(max(1, math.Ceil(total/mostSteps)))
	rest := []float64{1}
	for i, k := range kinds {
		if i != largest {
			rest = lengthen(rest, stacks[i], inSteps(k.along, unit))
		}
	}
	return float64(quantile(rest, stacks[largest], inSteps(kinds[largest].along, unit), level)) * float64(unit)
}

// quantile is the least number of steps that the rest and the stacks, which
// take so many steps each, do not exceed with the chance level.
func quantile(rest []float64, stacks emptied, along int, level float64) int {
	below := make([]float64, len(rest))
	sum := 0.0
	for at, p := range rest {
		sum += p
		below[at] = sum
	}
	return sort.Search(len(rest)-1+(len(stacks)-1)*along, func(most int) bool {
		chance := 0.0
		for n := 0; n < len(stacks) && n*along <= most; n++ {
			chance += stacks[n] * below[min(most-n*along, len(below)-1)]
		}
		return chance >= level-nearly
	})
}

// stacks is the distribution of the stacks of k between two visits.
func (k kind) stacks(minutes float64) emptied {
	n := emptied{1}
	for _, r := range k.loops {
		n = trimmed(n.and(emptiedBy(r.loop, minutes).share(r.share)))
	}
	out := make(emptied, (len(n)-1+k.stack-1)/k.stack+1)
	for i, p := range n {
		out[(i+k.stack-1)/k.stack] += p
	}
	return out
}

// lengthen adds stacks that take so many steps each to a distribution of
// lengths.
func lengthen(sum []float64, stacks emptied, along int) []float64 {
	out := make([]float64, len(sum)+(len(stacks)-1)*along)
	for at, p := range sum {
		if p == 0 {
			continue
		}
		for n, w := range stacks {
			out[at+n*along] += p * w
		}
	}
	return trimmed(out)
}

// roughly is needed by the normal distribution, mean + z·deviation, and
// whether the empties are so many that it stands for the exact one. It takes
// every empty for its share of a stack.
func roughly(kinds []kind, minutes, level float64) (length float64, many bool) {
	var n, spread, lengthSpread float64
	for _, k := range kinds {
		each := float64(k.along) / float64(k.stack)
		for _, r := range k.loops {
			mean, variance := moments(r, minutes)
			n, spread = n+mean, spread+variance
			length, lengthSpread = length+mean*each, lengthSpread+variance*each*each
		}
	}
	z := sizing.NormalQuantile(level)
	return math.Ceil(length + z*math.Sqrt(lengthSpread)), n+8*math.Sqrt(spread) > mostPooled
}

// moments are mean and variance of the empties of one loop on the rack: that of
// the pieces, of the phase of the container in use, and of the share.
func moments(r returner, minutes float64) (mean, variance float64) {
	q := float64(r.loop.Pack)
	mean = r.loop.Rate.Float64() * minutes / q
	_, part := math.Modf(mean)
	variance = part * (1 - part)
	switch r.loop.Model {
	case plant.SteadyModel:
	case plant.PoissonModel:
		variance += mean / q
	default:
		variance += r.loop.Variance.Float64() * minutes / q / q
	}
	return mean * r.share, variance*r.share*r.share + mean*r.share*(1-r.share)
}
