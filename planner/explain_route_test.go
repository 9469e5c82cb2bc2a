package planner_test

import (
	"strings"
	"testing"
	"time"
	_ "time/tzdata"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner"
	"lanewright/planner/plant"
)

func text(t planner.Told) string {
	var b strings.Builder
	b.WriteString(t.Title)
	for _, s := range t.Sections {
		b.WriteString("\n# " + s.Title)
		for _, x := range s.Sentences {
			b.WriteString("\n" + x.Text)
		}
	}
	return b.String()
}

func TestExplainRoute(t *testing.T) {
	t.Parallel()
	in := skerrow(t)
	plan := run(t, in)
	for _, r := range plan.Routes {
		told, ok := planner.NewReasons(in.Plant, plan).Route(r.Route)
		require.True(t, ok)
		says := text(told)
		for _, s := range r.Stops {
			assert.Contains(t, says, "is rack "+string(s.Rack))
		}
		assert.Contains(t, says, "Handler "+r.Handler)
		assert.Contains(t, says, "driving")
		assert.Contains(t, says, "Without it a round would be")
		assert.NotContains(t, says, "%!", "a text was not filled in")
	}
	_, ok := planner.NewReasons(in.Plant, plan).Route("ZZ")
	assert.False(t, ok)
}

func TestExplainRack(t *testing.T) {
	t.Parallel()
	in := skerrow(t)
	plan := run(t, in)
	rack := plan.Routes[0].Stops[0].Rack
	told, ok := planner.NewReasons(in.Plant, plan).Rack(rack)
	require.True(t, ok)
	assert.Contains(t, text(told), "Why it is stop 1 of route A")
	_, ok = planner.NewReasons(in.Plant, plan).Rack("none")
	assert.False(t, ok)
}

// TestExplainRackThatIsCutOff: the aisle to a rack's point is closed; opening it would help.
func TestExplainRackThatIsCutOff(t *testing.T) {
	t.Parallel()
	in := skerrow(t)
	point := in.Plant.Racks[0].AislePoint
	for _, a := range in.Plant.Aisles {
		if a.From == point || a.To == point {
			in.Plant.RouteRules = append(in.Plant.RouteRules, plant.RouteRule{Kind: plant.RuleClosed, From: a.From, To: a.To})
		}
	}
	plan := run(t, in)
	told, ok := planner.NewReasons(in.Plant, plan).Rack(in.Plant.Racks[0].Rack)
	require.True(t, ok)
	assert.Contains(t, text(told), "Why no round serves")
	assert.Contains(t, text(told), "is open to it in both directions")
}

func TestRoundsOfADay(t *testing.T) {
	t.Parallel()
	in := skerrow(t)
	plan := run(t, in)
	monday := time.Date(2026, 10, 26, 0, 0, 0, 0, time.UTC)
	r := plan.Routes[0]
	departures := 0
	for _, s := range r.Timetable {
		departures += len(s.Departures)
	}
	rounds, ok := planner.Rounds(in.Plant, plan, r.Route, monday, 1)
	require.True(t, ok)
	assert.Len(t, rounds, departures)
	assert.Len(t, rounds[0].Stops, len(r.Stops))
	_, ok = planner.Rounds(in.Plant, plan, "ZZ", monday, 1)
	assert.False(t, ok)
}
