package wire_test

import (
	"testing"
	"time"
	_ "time/tzdata"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api/wire"
	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/simulation"
)

// TestTraceByTheClock: times are those of the plant's clocks, on the night on
// which they change too.
func TestTraceByTheClock(t *testing.T) {
	t.Parallel()
	berlin, err := time.LoadLocation("Europe/Berlin")
	require.NoError(t, err)
	day := time.Date(2026, 10, 24, 0, 0, 0, 0, berlin)
	trace := wire.NewTrace(simulation.Trace{
		Loop: demand.Key{Part: "P", Cell: "C", Station: "S"}, Replication: 4, Pack: 20, Containers: 3, Zone: berlin.String(),
		Points: []simulation.Point{{At: day.Add(22 * time.Hour), Event: simulation.EventVisit, Round: "B 22:00", OnHand: 12.5, Left: 1}},
		Shifts: []demand.Occurrence{{Shift: "night", Day: day, Work: []plant.Span{{Start: 22 * time.Hour, End: 31 * time.Hour}}}},
	}, 5, 2)
	assert.Equal(t, []any{"P", "C", "S", 5, 2, int64(20), "Europe/Berlin"}, []any{trace.Part, trace.Cell, trace.Station, trace.Replication, trace.Weeks, trace.Pack, trace.Zone})
	assert.Equal(t, "2026-10-24T22:00:00+02:00", trace.Points[0].At.Format(time.RFC3339))
	assert.Equal(t, "2026-10-25T06:00:00+01:00", trace.Shifts[0].Work[0].To.Format(time.RFC3339))
	assert.Equal(t, "visit B 22:00", trace.Points[0].Event+" "+trace.Points[0].Round)
	assert.NotNil(t, wire.NewTrace(simulation.Trace{}, 1, 1).Points, "a list is never null")
}
