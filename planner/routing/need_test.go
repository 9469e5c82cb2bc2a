package routing

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

func TestNeed(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name     string
		demand   Demand
		interval time.Duration
		want     need
	}{
		{"whole containers do not vary", Demand{Share: units.Int(1), Rate: 0.1, Gross: 10 * units.Kilogram, Returnable: true}, time.Hour,
			need{6, 0, 60, 0, 6}},
		{"half a container is one or none", Demand{Share: units.Int(1), Rate: 0.025, Gross: 10 * units.Kilogram}, time.Hour,
			need{1.5, 0.25, 15, 25, 0}},
		{"variation grows with the interval", Demand{Share: units.Int(1), Rate: 0.1, Variance: 0.05, Gross: 2 * units.Kilogram}, 30 * time.Minute,
			need{3, 1.5, 6, 6, 0}},
		{"half of a loop has a quarter of its variance", Demand{Share: units.R(1, 2), Rate: 0.1, Variance: 0.04}, 40 * time.Minute,
			need{2, 0.4, 0, 0, 0}},
		{"nothing used", Demand{Share: units.Int(1), Gross: units.Kilogram, Returnable: true}, time.Hour, need{}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := c.demand.need(c.interval)
			for i, x := range []struct{ want, got float64 }{
				{c.want.mean, got.mean}, {c.want.variance, got.variance}, {c.want.mass, got.mass},
				{c.want.massVariance, got.massVariance}, {c.want.empties, got.empties},
			} {
				assert.InDelta(t, x.want, x.got, 1e-9, i)
			}
		})
	}
}

// TestQuantile compares with the tables of the standard normal distribution
// that statistics books print (four to six places; from memory).
func TestQuantile(t *testing.T) {
	t.Parallel()
	for p, want := range map[string]float64{"0.5": 0, "0.9": 1.281552, "0.95": 1.644854, "0.975": 1.959964, "0.99": 2.326348, "0.995": 2.575829, "0.999": 3.090232, "0.1": -1.281552} {
		assert.InDelta(t, want, quantile(units.MustRatio(p)), 1e-6, p)
	}
}

func TestWorst(t *testing.T) {
	t.Parallel()
	set := plant.DefaultSettings()
	v := &plant.Vehicle{Containers: 20, MassLimit: 300 * units.Kilogram}
	l := newLimit(set, v)
	l.round = busy(set, time.Hour)
	assert.Equal(t, 51*time.Minute, l.round)
	for _, c := range []struct {
		name  string
		need  need
		round time.Duration
		unit  string
		ok    bool
	}{
		{"exactly the load limit fits", need{mean: 18}, time.Minute, "containers", true},
		{"an error of float64 fits", need{mean: 18.000000001}, time.Minute, "containers", true},
		{"a little more does not", need{mean: 18.00001}, time.Minute, "containers", false},
		{"the spread counts", need{mean: 17, variance: 1}, time.Minute, "containers", false},
		{"too heavy", need{mean: 10, mass: 271}, time.Minute, "kg", false},
		{"exactly as long as may be", need{mean: 10}, 51 * time.Minute, "min", true},
		{"too long", need{mean: 10}, 51*time.Minute + time.Millisecond, "min", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			worst, ok := l.worst(c.need, c.round)
			assert.Equal(t, c.ok, ok)
			assert.Equal(t, c.unit, worst.unit)
		})
	}
}

func TestNoMassLimit(t *testing.T) {
	t.Parallel()
	l := newLimit(plant.DefaultSettings(), &plant.Vehicle{Containers: 20})
	l.round = time.Hour
	_, ok := l.worst(need{mean: 1, mass: math.MaxFloat64}, time.Minute)
	assert.True(t, ok)
}
