package ergonomics

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// The tables and examples are those of Waters, Putz-Anderson, Garg,
// Applications Manual for the Revised NIOSH Lifting Equation, DHHS (NIOSH)
// Pub. 94-110, 1994 (seen in a transcription with page numbers).

// halfUp rounds to two places, halves up, as the manual does.
func halfUp(f float64) float64 { return math.Floor(f*100+0.5+1e-9) / 100 }

func TestPublishedMultipliers(t *testing.T) {
	t.Parallel()
	cm := func(v int) units.Length { return units.Length(v) * units.Centimetre }
	for h, want := range map[int]float64{25: 1, 28: .89, 30: .83, 32: .78, 34: .74, 36: .69, 38: .66, 40: .63, 42: .60, 44: .57, 46: .54, 48: .52, 50: .50, 52: .48, 54: .46, 56: .45, 58: .43, 60: .42, 63: .40, 64: 0, 20: 1} {
		assert.InDelta(t, want, halfUp(horizontal(float64(h))), 1e-9, "Table 1, H %d cm", h)
	}
	for v, want := range map[int]float64{0: .78, 10: .81, 20: .84, 30: .87, 40: .90, 50: .93, 60: .96, 70: .99, 80: .99, 90: .96, 100: .93, 110: .90, 120: .87, 130: .84, 140: .81, 150: .78, 160: .75, 170: .72, 175: .70, 176: 0} {
		assert.InDelta(t, want, halfUp(vertical(cm(v))), 1e-9, "Table 2, V %d cm", v)
	}
	// The printed cell for 130 cm, .86, disagrees with the formula (.8546) and
	// is left out.
	for d, want := range map[int]float64{25: 1, 40: .93, 55: .90, 70: .88, 85: .87, 100: .87, 115: .86, 145: .85, 160: .85, 175: .85, 176: 0, 5: 1} {
		assert.InDelta(t, want, halfUp(travel(float64(d))), 1e-9, "Table 3, D %d cm", d)
	}
	for a, want := range map[int]float64{0: 1, 15: .95, 30: .90, 45: .86, 60: .81, 75: .76, 90: .71, 105: .66, 120: .62, 135: .57, 136: 0} {
		assert.InDelta(t, want, halfUp(asymmetry(float64(a))), 1e-9, "Table 4, A %d°", a)
	}
}

func TestPublishedFrequency(t *testing.T) {
	t.Parallel()
	low, high := 70*units.Centimetre, 75*units.Centimetre
	cases := []struct {
		name     string
		f        float64
		duration Duration
		height   units.Length
		want     float64
	}{
		{"Table 5, 0.2", 0.2, Short, low, 1}, {"Table 5, below 0.2", 0.05, Long, low, .85},
		{"Table 5, 12, short, low", 12, Short, low, .37}, {"Table 5, 13, short, low", 13, Short, low, 0},
		{"Table 5, 15, short, high", 15, Short, high, .28}, {"Table 5, above 15", 15.1, Short, high, 0},
		{"Table 5, 9, long, low", 9, Long, low, 0}, {"Table 5, 10, long, high", 10, Long, high, .13},
		{"Table 5, 6, moderate", 6, Moderate, low, .50}, {"above the last nonzero row", 8.5, Long, low, 0},
		{"Example 7, pp. 56-57: 2.4 a minute, short", 2.4, Short, high, .898},
	}
	for _, c := range cases {
		assert.InDelta(t, c.want, FM(c.f, c.duration, c.height), 1e-9, c.name)
	}
}

func TestPublishedDuration(t *testing.T) {
	t.Parallel()
	minutes := func(n int) time.Duration { return time.Duration(n) * time.Minute }
	assert.Equal(t, Short, DurationOf(minutes(30), minutes(30)), "p. 13: recovery as long as the work")
	assert.Equal(t, Moderate, DurationOf(minutes(75), minutes(30)), "p. 14: 30 + 45 min of lifting with 10 between are moderate")
	assert.Equal(t, Moderate, DurationOf(minutes(120), minutes(36)), "p. 14: 2 h need 36 min")
	assert.Equal(t, Long, DurationOf(minutes(120), minutes(35)), "p. 14")
	assert.Equal(t, Long, DurationOf(minutes(121), minutes(600)), "p. 14")
}

func TestPublishedCoupling(t *testing.T) {
	t.Parallel()
	low, high := 74*units.Centimetre, 75*units.Centimetre
	for _, c := range []struct {
		handles   plant.Handles
		low, high float64
	}{{plant.GoodHandles, 1, 1}, {plant.FairHandles, .95, 1}, {plant.PoorHandles, .90, .90}} {
		assert.Equal(t, c.low, CM(c.handles, low), "Table 7, p. 18")
		assert.Equal(t, c.high, CM(c.handles, high), "Table 7, p. 18")
	}
}

// TestPublishedExamples recomputes examples 1 to 4 (pp. 35-46) with the metric
// equation at full precision. The manual works them in inches and pounds with
// multipliers rounded to two places, and its two unit sets are no conversions
// of each other (51 lb is 23.13 kg, and H = 10 in is 25.4 cm against 25), so
// the printed limits are met within 6 %. Example 4's limits were seen, the
// others' inputs are from memory.
func TestPublishedExamples(t *testing.T) {
	t.Parallel()
	in := func(v float64) units.Length { return units.Length(v * float64(units.Inch)) }
	cases := []struct {
		name               string
		h, from, to, angle float64
		perMinute          float64
		handles            plant.Handles
		atOrigin           bool
		pounds             float64
	}{
		{"1 punch press stock, origin, p. 35", 23, 15, 64, 0, 0.1, plant.FairHandles, true, 16.3},
		{"1 destination", 23, 15, 64, 0, 0.1, plant.FairHandles, false, 14.5},
		{"2 supply rolls, origin, p. 39", 15, 27, 10, 0, 0.1, plant.PoorHandles, true, 28.0},
		{"2 destination", 20, 27, 10, 0, 0.1, plant.PoorHandles, false, 18.1},
		{"3 bags into a hopper, origin, p. 43", 18, 15, 36, 45, 0.1, plant.FairHandles, true, 18.9},
		{"4 package inspection, origin, p. 46", 10, 22, 59, 0, 3, plant.FairHandles, true, 34.9},
		{"4 destination", 20, 22, 59, 0, 3, plant.FairHandles, false, 15.2},
	}
	for _, c := range cases {
		l := Lift{Reach: in(c.h), Origin: in(c.from), Destination: in(c.to), Angle: c.angle, PerMinute: c.perMinute, Duration: Short, Handles: c.handles}
		at := l.Destination
		if c.atOrigin {
			at = l.Origin
		}
		pounds := l.Limit(at) / 0.45359237
		assert.InEpsilon(t, c.pounds, pounds, 0.06, c.name)
	}
}

// TestHeldAtTheTop: effort stays finite where the equation allows no lift.
func TestHeldAtTheTop(t *testing.T) {
	t.Parallel()
	assert.InDelta(t, .70, VM(3*units.Metre), 1e-12)
	assert.InDelta(t, 1, VM(750*units.Millimetre), 1e-12)
	assert.InDelta(t, .775, VM(-5*units.Millimetre), 1e-12)
}

func TestJudge(t *testing.T) {
	t.Parallel()
	base := Task{
		Container: plant.Container{Length: 600 * units.Millimetre, Width: 400 * units.Millimetre, Height: 280 * units.Millimetre, Handles: plant.GoodHandles},
		Side:      plant.LengthAlong, TwoHands: true,
		PickSurface: 700 * units.Millimetre, LoadSurface: 800 * units.Millimetre,
		Round: 20 * time.Minute, Interval: time.Hour, PerRound: 10, Rate: 0.1,
	}
	cases := []struct {
		name         string
		gross, piece float64
		load         units.Length
		want         map[string]string
	}{
		{"light", 5, 0.5, base.LoadSurface, map[string]string{}},
		{"a heavy container", 16, 0.5, base.LoadSurface, map[string]string{CodeRefill: "note"}},
		{"a heavy container up high", 16, 0.5, 1500 * units.Millimetre, map[string]string{CodeRefill: "warning"}},
		{"a heavy container out of reach", 16, 0.5, 1700 * units.Millimetre, map[string]string{CodeRefill: "error"}},
		{"a heavy piece", 5, 12, base.LoadSurface, map[string]string{CodePick: "note"}},
		{"under 3 kg nothing is lifted", 2.9, 2.9, 2 * units.Metre, map[string]string{}},
	}
	for _, c := range cases {
		task := base
		task.Gross, task.Piece = units.Mass(c.gross*float64(units.Kilogram)), units.Mass(c.piece*float64(units.Kilogram))
		task.LoadSurface = c.load
		got := map[string]string{}
		for _, f := range Judge(task, DefaultSettings()) {
			got[f.Code] = string(f.Severity)
			assert.NotEmpty(t, f.Remedy)
			assert.Contains(t, f.Detail, "a qualified person decides")
		}
		assert.Equal(t, c.want, got, c.name)
	}
}
