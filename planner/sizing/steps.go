package sizing

import (
	"math"
	"time"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Input names one of the facts that a loop's containers follow from.
type Input string

// Inputs, with the unit in which a Step gives them.
const (
	// UsageInput is pieces per net hour; the coefficient of variation stays.
	UsageInput Input = "usage"
	// IntervalInput and ResponseInput are net minutes; the other one stays. Where
	// the two are the same, containers are exchanged and both move together:
	// CycleInput.
	IntervalInput Input = "interval"
	ResponseInput Input = "response"
	CycleInput    Input = "cycle"
	// PackInput is pieces per container.
	PackInput Input = "pack"
	// ServiceInput is a share, the service level of the loop's own measure.
	ServiceInput Input = "service level"
	// VariationInput is the coefficient of variation of daily use.
	VariationInput Input = "variation"
	// SafetyInput is a share, alpha of a steady loop.
	SafetyInput Input = "safety"
)

// Step is how far one input of a loop may move before the number of containers
// is another: "one more container if usage rises by more than 4 %".
type Step struct {
	Input Input
	// From is what the input is, To the threshold, in the unit of the input.
	From, To units.Ratio
	// ChangePercent is the way from From to To in percent of From; for the
	// service level and the safety in percentage points.
	ChangePercent units.Ratio
	// Containers is the number at the threshold, or just beyond it where
	// Exclusive says that the threshold itself still has the old number.
	Containers int
	Exclusive  bool
}

// reach is the factor within which steps are looked for: an input four times as
// large or as small is another loop.
const reach = 4

// Steps returns, for each input that counts for the loop's model, the nearest
// higher and the nearest lower value at which the loop needs another number of
// containers by the rule, all else as it is; none where that lies beyond a
// factor of 4 (for a pack below 1 piece or beyond 4 times it, for the service
// level beyond a factor of 4 of what it leaves open, for the safety of 1 + α).
//
// Steps of steady loops and of packs are exact. Those of other models are found
// on a grid of thousandths of the input by doubling and halving: To has the new
// number, one thousandth less far still the old one. It is the nearest such
// place where the containers rise or fall evenly with the input, as they do but
// for odd negative binomial loops.
//
// A loop whose containers are fixed has no steps, and one that is sized for a
// longer wait than its interval none of the interval: the timetable decides that
// wait.
func Steps(l Loop) []Step {
	if l.Fixed > 0 {
		return nil
	}
	var list []Step
	for _, in := range inputs(l.Loop) {
		for _, up := range []bool{true, false} {
			if s, ok := step(l, in, up); ok {
				list = append(list, s)
			}
		}
	}
	return list
}

// inputs are those that count for the model of l and that can be multiplied.
func inputs(l demand.Loop) []Input {
	list := append([]Input{UsageInput}, times(l)...)
	list = append(list, PackInput)
	switch l.Model {
	case plant.SteadyModel:
		return append(list, SafetyInput)
	case plant.NormalModel, plant.NegativeBinomialModel:
		if l.Variance.Sign() > 0 && l.Rate.Sign() > 0 && l.Day.Sign() > 0 {
			return append(list, ServiceInput, VariationInput)
		}
	}
	return append(list, ServiceInput)
}

// times are the times of l that can be moved.
func times(l demand.Loop) []Input {
	switch {
	case l.Wait > l.Interval:
		return []Input{ResponseInput}
	case l.Response == l.Interval:
		return []Input{CycleInput}
	default:
		return []Input{IntervalInput, ResponseInput}
	}
}

func step(l Loop, in Input, up bool) (Step, bool) {
	s, ok := Step{}, false
	switch {
	case in == PackInput:
		s, ok = packStep(l, up)
	case l.Model == plant.SteadyModel:
		s, ok = steadyStep(l, in, up)
	default:
		s, ok = searchedStep(l, in, up)
	}
	s.Input = in
	if !ok {
		return s, false
	}
	s.ChangePercent = s.To.Sub(s.From).Mul(units.Int(100))
	if in != ServiceInput && in != SafetyInput {
		s.ChangePercent = s.ChangePercent.Div(s.From)
	}
	return s, true
}

// packStep: D does not depend on the pack. With a pack q the loop has at most
// n cards when q >= D/n, and more than n when q < D/n.
func packStep(l Loop, up bool) (Step, bool) {
	n := int64(l.Rule - 1)
	q := l.Covered.Div(units.Int(n)).Ceil() - 1
	if up {
		if n < 2 {
			return Step{}, false
		}
		q = l.Covered.Div(units.Int(n - 1)).Ceil()
	}
	s := Step{From: units.Int(l.Pack), To: units.Int(q)}
	if q < 1 || s.To.Cmp(s.From.Mul(units.Int(reach))) > 0 {
		return s, false
	}
	s.Containers = ruled(l.Covered, q)
	return s, s.Containers != l.Rule
}

// steadyStep: with n cards, one more is needed when D passes n·q, and one less
// when D comes down to (n − 1)·q.
func steadyStep(l Loop, in Input, up bool) (Step, bool) {
	n := int64(l.Rule - 1)
	s := Step{Containers: l.Rule + 1, Exclusive: true}
	if !up {
		n--
		s = Step{Containers: l.Rule - 1}
	}
	if n < 1 || s.Containers > MostContainers || l.Mean.Sign() <= 0 {
		return s, false
	}
	one := units.Int(1)
	s.From = value(l.Loop, in)
	// D is μ(1 + α) now, and so many times it at the threshold.
	times := units.Int(n).Mul(units.Int(l.Pack)).Div(l.Mean.Mul(one.Add(l.Safety)))
	window := l.Window().Mul(times)
	switch in {
	case UsageInput:
		s.To = s.From.Mul(times)
	case IntervalInput:
		s.To = window.Sub(units.Minutes(l.Response))
	case ResponseInput:
		s.To = window.Sub(units.Minutes(max(l.Interval, l.Wait)))
	case CycleInput:
		s.To = window.Div(units.Int(2))
	case SafetyInput:
		s.To = one.Add(s.From).Mul(times).Sub(one)
		return s, s.To.Sign() >= 0 && near(one.Add(s.From), one.Add(s.To))
	}
	return s, s.From.Sign() > 0 && near(s.From, s.To)
}

// near reports whether two positive numbers are within the reach of each other.
func near(a, b units.Ratio) bool {
	return b.Mul(units.Int(reach)).Cmp(a) >= 0 && a.Mul(units.Int(reach)).Cmp(b) >= 0
}

// searchedStep looks for the first thousandth n at which the containers differ.
// The service level is moved by what it leaves open, 1 − s, and so the other
// way.
func searchedStep(l Loop, in Input, up bool) (Step, bool) {
	const grid = 1000
	sign, most := int64(1), int64((reach-1)*grid)
	if up == (in == ServiceInput) {
		sign, most = -1, grid-grid/reach
	} else if in == ServiceInput {
		open := units.Int(1).Sub(l.ServiceLevel)
		most = min(most, l.ServiceLevel.Mul(units.Int(grid)).Div(open).Ceil()-1) // the level stays above 0
	}
	if most < 1 {
		return Step{}, false
	}
	moved := func(n int64) demand.Loop { return move(l.Loop, in, units.R(grid+sign*n, grid)) }
	count := func(n int64) int {
		m := moved(n)
		return ruled(Covered(m), m.Pack)
	}
	lo, hi := int64(0), int64(1)
	for hi < most && count(hi) == l.Rule {
		lo, hi = hi, min(2*hi, most)
	}
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; count(mid) == l.Rule {
			lo = mid
		} else {
			hi = mid
		}
	}
	s := Step{From: value(l.Loop, in), To: value(moved(hi), in), Containers: count(hi)}
	return s, s.Containers != l.Rule && !s.To.Equal(s.From)
}

// move returns l with one input, for the service level what it leaves open,
// times f.
func move(l demand.Loop, in Input, f units.Ratio) demand.Loop {
	longer := func(d time.Duration) time.Duration { return time.Duration(units.Int(int64(d)).Mul(f).Floor()) }
	switch in {
	case UsageInput:
		l.Rate, l.Variance = l.Rate.Mul(f), l.Variance.Mul(f).Mul(f)
		days := make([]units.Ratio, len(l.Days))
		for i, d := range l.Days {
			days[i] = d.Mul(f)
		}
		l.Days = days
	case IntervalInput:
		l.Interval = longer(l.Interval)
	case ResponseInput:
		l.Response = longer(l.Response)
	case CycleInput:
		l.Interval = longer(l.Interval)
		l.Response = l.Interval
	case ServiceInput:
		one := units.Int(1)
		l.ServiceLevel = one.Sub(one.Sub(l.ServiceLevel).Mul(f))
	case VariationInput:
		l.Variance = l.Variance.Mul(f).Mul(f)
	}
	return l
}

// value returns an input of l in its unit.
func value(l demand.Loop, in Input) units.Ratio {
	switch in {
	case UsageInput:
		return l.Rate.Mul(units.Int(60))
	case IntervalInput, CycleInput:
		return units.Minutes(l.Interval)
	case ResponseInput:
		return units.Minutes(l.Response)
	case ServiceInput:
		return l.ServiceLevel
	case SafetyInput:
		return l.Safety
	default:
		return units.Float(math.Sqrt(l.Variance.Div(l.Day).Float64()) / l.Rate.Float64())
	}
}
