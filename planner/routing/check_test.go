package routing_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/units"
)

// TestCheck reckons the route of TestOneRoute by hand for one loop with a
// variation: the same demands give the plan's own figures, more of them the load,
// mass and time that the rules give.
func TestCheck(t *testing.T) {
	t.Parallel()
	y := newYard().rack("R2", "P4", 6).rack("R1", "P2", 4)
	y.p.Vehicles[0].MassLimit = 100 * units.Kilogram
	y.p.Settings.LoadLimit, y.p.Settings.BusyLimit = units.R(8, 10), units.R(9, 10)
	y.p.Settings.ServiceLevel = units.R(975, 1000)
	r := y.routes(t).Routes[0]
	x := plant.NewIndex(y.p)
	c, ok := routing.Check(x, y.p.Settings, r, y.demands, y.demands)
	require.True(t, ok)
	assert.Equal(t, c.Before, c.After)
	assert.InDelta(t, r.LoadPlanned, c.Before.Planned, 1e-9)
	assert.InDelta(t, r.LoadMean, c.Before.Mean, 1e-9)
	assert.Equal(t, r.MassPlanned, c.Before.Mass)
	assert.Equal(t, r.Round, c.Before.Round)
	assert.Equal(t, routing.Load{Planned: 16, Mass: 80 * units.Kilogram, Round: 54 * time.Minute}, c.Most)
	assert.False(t, c.Overfull() || c.TooHeavy() || c.TooLong())

	more := append(y.demands[:0:0], y.demands...)
	more[0].Rate, more[0].Variance = 8.5/60, 0.06
	c, _ = routing.Check(x, y.p.Settings, r, y.demands, more)
	const planned = 12.5 + 1.959964*1.9621417 // variance 0.5·0.5 + 0.06·60
	assert.InDelta(t, planned, c.After.Planned, 1e-5)
	assert.InDelta(t, 5*planned, c.After.Mass.KG(), 1e-4)
	assert.InDelta(t, (80+60+20*planned+5*12.5)/60, c.After.Round.Minutes(), 1e-5)
	assert.True(t, c.Overfull(), "16.3 of 16 containers")
	assert.True(t, c.TooHeavy(), "81.7 of 80 kg")
	assert.False(t, c.TooLong())
	back, _ := routing.Check(x, y.p.Settings, r, more, more)
	assert.False(t, back.Overfull(), "what was too much before and is no more is no news")

	y.p.Settings.BusyLimit = units.R(1, 10)
	c, _ = routing.Check(x, y.p.Settings, r, y.demands, more)
	assert.True(t, c.TooLong(), "7.8 of 6 minutes")
	r.Vehicle = "none"
	_, ok = routing.Check(x, y.p.Settings, r, y.demands, more)
	assert.False(t, ok)
}
