package sizing_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/sizing"
	"lanewright/planner/units"
)

// put sets one input of l to v, in the unit of the input. Times are rounded
// down to whole nanoseconds.
func put(l demand.Loop, in sizing.Input, v units.Ratio) demand.Loop {
	nanos := func() time.Duration { return time.Duration(v.Mul(units.Int(int64(time.Minute))).Floor()) }
	switch in {
	case sizing.UsageInput:
		times := v.Div(l.Rate).Div(units.Int(60))
		l.Rate, l.Variance = l.Rate.Mul(times), l.Variance.Mul(times).Mul(times)
		days := []units.Ratio{}
		for _, d := range l.Days {
			days = append(days, d.Mul(times))
		}
		l.Days = days
	case sizing.IntervalInput:
		l.Interval = nanos()
	case sizing.ResponseInput:
		l.Response = nanos()
	case sizing.CycleInput:
		l.Interval = nanos()
		l.Response = l.Interval
	case sizing.PackInput:
		l.Pack = v.Floor()
	case sizing.ServiceInput:
		l.ServiceLevel = v
	case sizing.SafetyInput:
		l.Safety = v
	case sizing.VariationInput:
		// cv² = variance/(day·rate²)
		l.Variance = v.Mul(v).Mul(l.Day).Mul(l.Rate).Mul(l.Rate)
	}
	return l
}

// TestStepsOfSteadyLoops: just before the threshold the old number, just after
// it the new one, exactly.
func TestStepsOfSteadyLoops(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		l := drawLoop(t, []plant.DemandModel{plant.SteadyModel})
		old := sized(l)
		hair := units.R(1, 1_000_000) // below the distance of two thresholds, above a nanosecond
		for _, s := range sizing.Steps(old) {
			at, before, after := sized(put(l, s.Input, s.To)).Rule, 0, 0
			up := s.Exclusive
			switch {
			case s.Input == sizing.PackInput:
				before = sized(put(l, s.Input, towards(s, units.Int(1)))).Rule
				require.Equal(t, s.Containers, at, "%+v", s)
			case up:
				require.Equal(t, old.Rule, at, "%+v", s)
				before, after = old.Rule, sized(put(l, s.Input, s.To.Add(hair))).Rule
				require.Equal(t, s.Containers, after, "%+v", s)
			default:
				require.Equal(t, s.Containers, at, "%+v", s)
				before = sized(put(l, s.Input, s.To.Add(hair))).Rule
			}
			require.Equal(t, old.Rule, before, "%+v", s)
			require.NotEqual(t, old.Rule, s.Containers)
		}
	})
}

// towards is the threshold moved back by so much towards where it came from.
func towards(s sizing.Step, by units.Ratio) units.Ratio {
	if s.To.Cmp(s.From) > 0 {
		return s.To.Sub(by)
	}
	return s.To.Add(by)
}

// TestStepsOfVaryingLoops: at the threshold the new number, a thousandth
// before it the old one.
func TestStepsOfVaryingLoops(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		l := drawLoop(t, varying)
		old := sized(l)
		for _, s := range sizing.Steps(old) {
			back := s.From.Div(units.Int(1000))
			switch s.Input {
			case sizing.PackInput:
				back = units.Int(1)
			case sizing.ServiceInput:
				back = units.Int(1).Sub(s.From).Div(units.Int(1000))
			case sizing.VariationInput:
				// The coefficient is a rounded root: stay clear of the grid's lines.
				continue
			}
			require.Equal(t, s.Containers, sized(put(l, s.Input, s.To)).Rule, "%+v", s)
			require.Equal(t, old.Rule, sized(put(l, s.Input, towards(s, back))).Rule, "%+v", s)
			require.NotEqual(t, old.Rule, s.Containers)
		}
	})
}

func TestStepsByHand(t *testing.T) {
	t.Parallel()
	// 2 a minute over two hours in packs of 20: 12 cards exactly, 13 containers.
	l := sized(steady("2", 20, time.Hour))
	steps := map[string]string{}
	for _, s := range sizing.Steps(l) {
		way := " down"
		if s.To.Cmp(s.From) >= 0 {
			way = " up"
		}
		mark := ""
		if s.Exclusive {
			mark = " more than"
		}
		steps[string(s.Input)+way] = s.To.String() + mark + " " + s.ChangePercent.String()
	}
	assert.Equal(t, map[string]string{
		"usage up":   "120 more than 0",
		"usage down": "110 -25/3",
		"cycle up":   "60 more than 0",
		"cycle down": "55 -25/3",
		"pack up":    "22 10",
		"pack down":  "19 -5",
		"safety up":  "0 more than 0",
	}, steps)
}

func TestStepsThatAreNone(t *testing.T) {
	t.Parallel()
	assert.Empty(t, sizing.Steps(sized(steady("0", 10, time.Hour))), "no use")
	fixed := steady("2", 20, time.Hour)
	fixed.Fixed = 5
	assert.Empty(t, sizing.Steps(sized(fixed)), "fixed")
	small := sized(steady("1/100000", 1000, time.Hour))
	assert.Empty(t, sizing.Steps(small), "the least loop, far from a second card")
	plain := steady("1", 10, time.Hour)
	plain.Model = plant.NormalModel
	for _, s := range sizing.Steps(sized(plain)) {
		assert.NotContains(t, []sizing.Input{sizing.VariationInput, sizing.ServiceInput}, s.Input, "nothing varies")
	}
}

// TestVariationStep: the threshold of the coefficient of variation, put back
// into the loop a little beyond and a little before.
func TestVariationStep(t *testing.T) {
	t.Parallel()
	for _, model := range []plant.DemandModel{plant.NormalModel, plant.NegativeBinomialModel} {
		l := steady("1", 10, 30*time.Minute)
		l.Model, l.Variance = model, units.R(5, 2)
		old, seen := sized(l), 0
		for _, s := range sizing.Steps(old) {
			if s.Input == sizing.VariationInput {
				seen++
				hair := s.To.Sub(s.From).Div(units.Int(100_000))
				assert.Equal(t, s.Containers, sized(put(l, s.Input, s.To.Add(hair))).Rule, "%+v", s)
				thousandth := s.From.Div(units.Int(1000))
				assert.Equal(t, old.Rule, sized(put(l, s.Input, towards(s, thousandth).Sub(hair))).Rule, "%+v", s)
			}
		}
		assert.Equal(t, 2, seen, "%s", model)
	}
}
