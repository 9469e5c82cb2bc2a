package routing

import (
	"math"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/plant"
)

var (
	early = plant.Shift{Shift: "early", Start: clock(6, 0), End: clock(14, 0)}
	late  = plant.Shift{Shift: "late", Start: clock(13, 30), End: clock(21, 30)}
)

// madeGroup is a group without sites, whose stops madeTour makes up.
func madeGroup(interval time.Duration, shifts ...plant.Shift) *group {
	return &group{interval: interval, shifts: shifts, name: shiftNames(shifts)}
}

func madeTour(g *group, minutes float64) tour {
	return tour{group: g, round: time.Duration(minutes * float64(time.Minute)), stops: []stop{{demands: make([]Demand, 1)}}}
}

func made(g *group, minutes ...float64) []tour {
	var list []tour
	for _, m := range minutes {
		list = append(list, madeTour(g, m))
	}
	return list
}

func repeat(n int, minutes float64) []float64 { return slices.Repeat([]float64{minutes}, n) }

// TestCrews counts handlers by hand; the busy limit is 51 min of an hour.
func TestCrews(t *testing.T) {
	t.Parallel()
	hour, half, forty := madeGroup(time.Hour, early, late), madeGroup(30*time.Minute, early, late), madeGroup(40*time.Minute, early, late)
	morning, evening := madeGroup(time.Hour, early), madeGroup(time.Hour, late)
	for _, c := range []struct {
		name  string
		tours []tour
		want  int
	}{
		{"nothing to drive", nil, 0},
		{"both in one interval", made(hour, 20, 30), 1},
		{"up to the busy limit", made(hour, 20, 31), 1},
		{"too busy together", made(hour, 20, 31.5), 2},
		{"six rounds in slots of 10 and 6 min", made(hour, 9.05, 9.05, 9.05, 9.05, 5.05, 5.05), 1},
		{"ten rounds of 5.05 min, each in a slot of 6", made(hour, repeat(10, 5.05)...), 1},
		{"eleven of 4.1 min are 45.1 min, and 55 in slots", made(hour, repeat(11, 4.1)...), 1},
		{"thirteen are 53.3 min: too busy", made(hour, repeat(13, 4.1)...), 2},
		{"20 of 1.1 min and one of 20.5 are 42.5 min, and 61 in slots", made(hour, append(repeat(20, 1.1), 20.5)...), 2},
		{"31 of 1.1 min are 34.1 min, and 62 in slots", made(hour, repeat(31, 1.1)...), 2},
		{"one after the other even where no shift is in common", append(made(morning, 40), madeTour(evening, 40)), 2},
		{"shifts that have one in common", append(made(morning, 25), madeTour(hour, 25)), 1},
		{"too busy in the shift in common", append(made(morning, 40), madeTour(hour, 40)), 2},
		{"busy over all shifts", append(append(made(morning, 20), madeTour(hour, 25)), madeTour(evening, 25)), 2},
		{"every hour beside every half hour", append(made(half, 12), made(hour, 7, 6)...), 1},
		{"too long together for half an hour", append(made(half, 12), made(hour, 14, 13)...), 2},
		{"too long for the time between", append(made(half, 12), madeTour(hour, 19)), 2},
		{"every hour and every 40 min meet in slots of 20", append(made(forty, 8), madeTour(hour, 12)), 1},
		{"which are too short for these", append(made(forty, 8), madeTour(hour, 12.5)), 2},
	} {
		t.Run(c.name, func(t *testing.T) {
			assert.Len(t, newRota(0.85).crews(nil, c.tours), c.want)
		})
	}
}

// TestTurns reckons when routes first leave.
func TestTurns(t *testing.T) {
	t.Parallel()
	hour, half := madeGroup(time.Hour, early, late), madeGroup(30*time.Minute, early, late)
	morning, evening := madeGroup(time.Hour, early), madeGroup(time.Hour, late)
	short := plant.Shift{Shift: "short", Start: clock(22, 0), End: clock(22, 30)}
	for _, c := range []struct {
		name  string
		tours []tour
		want  []int // minutes; nil where nobody can drive them all
	}{
		{"one after the other, in whole minutes", made(hour, 10.2, 9, 20), []int{0, 11, 20}},
		{"beside every half hour", append(made(half, 12), made(hour, 7, 6)...), []int{0, 12, 19}},
		{"too long together for half an hour", append(made(half, 12), made(hour, 14, 13)...), nil},
		{"at the same time in different shifts", append(made(morning, 25), made(evening, 25)...), []int{0, 0}},
		{"after what leaves in any of its shifts", append(append(made(morning, 10), made(evening, 20)...), madeTour(hour, 20)), []int{0, 0, 20}},
		{"a short shift keeps its only round", append(made(hour, 15), madeTour(madeGroup(time.Hour, early, short), 20)), nil},
		{"and gives up what is too long for it", append(made(hour, 15), madeTour(madeGroup(time.Hour, early, short), 31)), []int{0, 15}},
	} {
		t.Run(c.name, func(t *testing.T) {
			turns, ok := newRota(0.85).turns(c.tours)
			require.Equal(t, c.want != nil, ok)
			var got []int
			for _, x := range turns {
				got = append(got, int(x.offset.Minutes()))
			}
			assert.Equal(t, c.want, got)
		})
	}
}

// TestNoTwoRoundsOverlap expands the rounds of random crews through a long shift
// and marks every second; and no tour is lost.
func TestNoTwoRoundsOverlap(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		sets := [][]plant.Shift{{early}, {late}, {early, late}}
		var groups []*group
		for range rapid.IntRange(1, 4).Draw(rt, "groups") {
			interval := rapid.SampledFrom([]int{10, 15, 20, 30, 40, 45, 60, 90, 120}).Draw(rt, "interval")
			groups = append(groups, madeGroup(time.Duration(interval)*time.Minute, rapid.SampledFrom(sets).Draw(rt, "shifts")...))
		}
		var all []tour
		for range rapid.IntRange(1, 12).Draw(rt, "tours") {
			g := rapid.SampledFrom(groups).Draw(rt, "group")
			x := madeTour(g, g.interval.Minutes()*rapid.Float64Range(0.02, 0.85).Draw(rt, "round"))
			x.loading = time.Duration(float64(x.round) * rapid.Float64Range(0, 0.9).Draw(rt, "loading"))
			all = append(all, x)
		}
		r := newRota(0.85)
		crews := r.crews(nil, all)
		require.LessOrEqual(rt, r.least(all), len(crews))
		require.LessOrEqual(rt, len(crews), r.firstFit(all))
		driven := 0
		for _, h := range crews {
			driven += len(h.turns)
			overlapFree(rt, h.turns)
		}
		require.Equal(rt, len(all), driven)
	})
}

// overlapFree compares all rounds of a handler by seconds, from the start of loading.
func overlapFree(t require.TestingT, turns []turn) {
	taken := map[plant.ShiftCode]map[int]bool{"early": {}, "late": {}}
	shortest, rounds := math.Inf(1), 0.0
	for _, x := range turns {
		shortest = min(shortest, x.group.interval.Minutes())
		rounds += x.round.Minutes()
		for _, s := range x.group.shifts {
			for from := x.offset - x.loading; from < 25*time.Hour; from += x.group.interval {
				for second := from.Truncate(time.Second) + time.Second; second < from+x.round; second += time.Second {
					at := int(second / time.Second)
					require.False(t, taken[s.Shift][at], "two rounds in second %d of %s", at, s.Shift)
					taken[s.Shift][at] = true
				}
			}
		}
	}
	require.LessOrEqual(t, rounds, 0.85*shortest+1e-6, "within the busy limit of the shortest interval")
}
