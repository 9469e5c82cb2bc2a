package placement

import (
	"fmt"
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
		name       string
		change     func(*small)
		code       string
		need, have float64
		remedy     string
	}{
		{"six of 400 mm fit", steady(60, units.Int(1)), "", 0, 0, ""},
		{"nine are just right", steady(90, units.Int(1)), "", 0, 0, ""},
		{"ten are too many; 90 min bring nine", steady(100, units.Int(1)), CodeReturnShort, 4000, 3600, "Visit it every 90 min, or add return lanes: 4 lanes would do."},
		{"a tenth visit in ten finds ten", steady(91, units.Int(1)), CodeReturnShort, 4000, 3600, "Visit it every 90 min, or add return lanes: 4 lanes would do."},
		{"one in 250 is below the service level", steady(1, units.R(9004, 100)), "", 0, 0, ""},
		{"one in 200 is just within it", steady(1, units.R(9005, 100)), "", 0, 0, ""},
		{"one in 166 is not; nothing shorter in whole minutes", steady(1, units.R(9006, 100)), CodeReturnShort, 4000, 3600, "Add return lanes: 4 lanes would do."},
		{"30 of them, three to a stack", func(s *small) {
			steady(300, units.Int(1))(s)
			// 300 mm clear, 150 mm high, half nested: 1 + (300-150)/75 = 3 in a stack
			s.plant.Containers[0].Nests = units.R(1, 2)
		}, CodeReturnShort, 4000, 3600, "Visit it every 270 min, or add return lanes: 4 lanes would do."},
		{"28 of them take ten stacks", func(s *small) {
			steady(280, units.Int(1))(s)
			s.plant.Containers[0].Nests = units.R(1, 2)
		}, CodeReturnShort, 4000, 3600, "Visit it every 270 min, or add return lanes: 4 lanes would do."},
		{"two of 500 mm in each lane", func(s *small) {
			steady(60, units.Int(1))(s)
			s.plant.Containers[0].Length = 500 * mm
			s.plant.RackTypes[0].Levels[2].LaneLength = 1400 * mm
		}, "", 0, 0, ""},
		{"a seventh has no place there", func(s *small) {
			steady(70, units.Int(1))(s)
			s.plant.Containers[0].Length = 500 * mm
			s.plant.RackTypes[0].Levels[2].LaneLength = 1400 * mm
		}, CodeReturnShort, 3500, 3000, "Visit it every 60 min, or add return lanes: 4 lanes would do."},
		{"return lanes shorter than the tote", func(s *small) {
			steady(60, units.Int(1))(s)
			s.plant.RackTypes[0].Levels[2].LaneLength = 300 * mm
		}, CodeReturnShort, 2400, 0, "Add return lanes."},
		{"no return level", func(s *small) {
			steady(60, units.Int(1))(s)
			s.plant.RackTypes[0].Levels = s.plant.RackTypes[0].Levels[:2]
		}, CodeNoReturn, 2400, 0, "Give the rack a return level of 2 lanes, or say where else its empties go."},
		{"nothing comes back", func(s *small) { steady(600, units.Int(1))(s); s.plant.Containers[0].Returnable = false }, "", 0, 0, ""},
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
			assert.InDelta(t, test.need, list[0].Measure.Value, 1e-9)
			assert.InDelta(t, test.have, list[0].Measure.Limit, 1e-9)
			assert.Equal(t, test.remedy, list[0].Remedy)
		})
	}
}

// Three slow loops of e = 0.1: at 28 visits in a thousand two or three are empty,
// at one all three: two containers are not exceeded at 99.9 % of visits, one is at
// 2.8 %. A normal distribution of the same mean and deviation says 1.64. Every m
// minutes, p = m/600 and 3p² − 2p³ is at most 0.005 up to m = 24.6.
func TestSlowLoopsTogether(t *testing.T) {
	t.Parallel()
	s := newSmall(3, 3, 3)
	s.plant.Containers[0].Returnable = true
	s.plant.RackTypes[0].Levels[2].UsableWidth = 320 * mm
	s.plant.RackTypes[0].Levels[2].LaneLength = 700 * mm
	for i := range s.loops {
		s.loops[i].Interval, s.loops[i].Rate = 60*time.Minute, units.R(1, 60)
	}
	in := s.input()
	list := Empties(in, placed(in, 1), nil)
	require.Len(t, list, 1)
	assert.Equal(t, &finding.Measure{Value: 800, Limit: 400, Unit: "mm"}, list[0].Measure)
	assert.Equal(t, "Visit it every 24 min, or add return lanes: 2 lanes would do.", list[0].Remedy)
}

// A loop on two racks brings half of its empties back on each.
func TestSplitLoopsShareTheirEmpties(t *testing.T) {
	t.Parallel()
	s := newSmall(12)
	s.plant.Containers[0].Returnable = true
	s.plant.Racks = append(s.plant.Racks, plant.Rack{Rack: "R2", RackType: "flow", Cell: "C"})
	in := s.input()
	l := placed(in, 1)
	half := func(rack plant.RackCode) Lane {
		return Lane{Rack: rack, Level: 1, Lane: 1, Kind: plant.Supply, Loop: s.loops[0].Key, Side: plant.LengthAlong, Capacity: 6, Containers: 6}
	}
	l.Lanes = []Lane{half("R"), half("R2")}
	s.loops[0].Rate = units.R(2, 60)
	for _, f := range Empties(in, l, nil) {
		assert.Equal(t, CodeNoReturn, f.Code)
		// e = 0.2: 0.9 none, 0.1 one on each rack.
		assert.InDelta(t, 400, f.Measure.Value, 1e-9, "rack %s", f.Subject.Rack)
	}
	l.Lanes = []Lane{half("R")}
	assert.Len(t, Empties(in, l, nil), 1, "all come back where all that is placed lies")
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
