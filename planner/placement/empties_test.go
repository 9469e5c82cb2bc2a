package placement

import (
	"fmt"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// onReturn is a small cell whose containers come back.
func onReturn(change func(*small)) finding.List {
	s := newSmall(3)
	s.plant.Containers[0].Returnable = true
	change(s)
	in := s.input()
	return Empties(in, placed(in, 1), nil)
}

// A rack that is served more often than its loops ask for holds fewer empties.
func TestReturnLanesAtTheRealVisits(t *testing.T) {
	t.Parallel()
	s := newSmall(3)
	s.plant.Containers[0].Returnable = true
	s.loops[0].Interval, s.loops[0].Rate = 100*time.Minute, units.Int(1)
	in := s.input()
	l := placed(in, 1)
	at := func(d time.Duration) map[plant.RackCode]time.Duration {
		return map[plant.RackCode]time.Duration{l.Racks[0].Rack: d}
	}
	assert.Empty(t, Empties(in, l, at(90*time.Minute)))
	assert.Len(t, Empties(in, l, at(100*time.Minute)), 1)
}

// The small rack's return level takes 3 lanes of 320 mm, 1200 mm long: 3600 mm,
// nine totes of 400 mm. One piece a minute, 10 a tote: e = R/10 empties wait.
func TestReturnLanes(t *testing.T) {
	t.Parallel()
	steady := func(minutes int, pieces units.Ratio) func(*small) {
		return func(s *small) {
			s.loops[0].Interval, s.loops[0].Rate = time.Duration(minutes)*time.Minute, pieces
		}
	}
	tests := []struct {
		name   string
		change func(*small)
		code   string
		need   float64
		remedy string
	}{
		{"six of 400 mm fit", steady(60, units.Int(1)), "", 0, ""},
		{"nine are just right", steady(90, units.Int(1)), "", 0, ""},
		{"ten are too many; 90 min bring nine", steady(100, units.Int(1)), CodeReturnShort, 4000, "Visit it every 90 min, or add a return lane or level."},
		{"9.1 and 2.576 deviations of 0.3", steady(91, units.Int(1)), CodeReturnShort, 3950, "Visit it every 90 min, or add a return lane or level."},
		{"never more than floor + 1", steady(95, units.Int(1)), CodeReturnShort, 4000, "Visit it every 90 min, or add a return lane or level."},
		{"30 of them, three to a stack", func(s *small) {
			steady(300, units.Int(1))(s)
			// 300 mm clear, 150 mm high, half nested: 1 + (300-150)/75 = 3 in a stack
			s.plant.Containers[0].Nests = units.R(1, 2)
		}, CodeReturnShort, 4000, "Visit it every 270 min, or add a return lane or level."},
		{"no return level", func(s *small) {
			steady(60, units.Int(1))(s)
			s.plant.RackTypes[0].Levels = s.plant.RackTypes[0].Levels[:2]
		}, CodeNoReturn, 2400, "Give the rack a return level, or say where else its empties go."},
		{"nothing comes back", func(s *small) { steady(600, units.Int(1))(s); s.plant.Containers[0].Returnable = false }, "", 0, ""},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			list := onReturn(test.change)
			if test.code == "" {
				assert.Empty(t, list)
				return
			}
			require.Len(t, list, 1)
			assert.Equal(t, test.code, list[0].Code)
			assert.InDelta(t, test.need, list[0].Measure.Value, 1)
			assert.Equal(t, test.remedy, list[0].Remedy)
		})
	}
}

// The pooled quantile by hand: two loops, e = 2.5 and 0.6 of 400 mm, the second
// varying with variance 0.09 containers² per minute over 10 minutes.
func TestPooledEmpties(t *testing.T) {
	t.Parallel()
	c := collector{z: 2.5758293, list: []returner{
		{rate: 0.25, steady: true, along: 400},
		{rate: 0.06, variance: 0.09, along: 400},
	}}
	mean := (2.5 + 0.6) * 400
	spread := (0.25 + (0.24 + 0.9)) * 400 * 400
	pooled := mean + 2.5758293*math.Sqrt(spread)
	cap := 3*400 + 0.6*400 + 2.5758293*math.Sqrt((0.24+0.9)*400*400)
	assert.InDelta(t, min(pooled, cap), c.need(10), 1e-6)
}

func TestReturnLanesAreListed(t *testing.T) {
	t.Parallel()
	s := newSmall(3)
	s.plant.Containers[0].Returnable = true
	var back []string
	for _, l := range placed(s.input(), 1).Lanes {
		if l.Kind == plant.Return {
			back = append(back, fmt.Sprint(l.Lane, " ", l.Offset, " ", l.Width))
		}
	}
	assert.Equal(t, []string{"1 0 mm 320 mm", "2 330 mm 320 mm", "3 660 mm 320 mm"}, back)
}
