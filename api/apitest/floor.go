package apitest

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"lanewright/planner/plant"
	"lanewright/planner/routing"
)

// FloorName is the plant of Floor.
const FloorName = "North works"

// Floor returns a store with the made-up plant in a zone, whose two routes leave every
// day in an early shift (06:00 and 07:30) and in a night shift (22:00 and every 90 min).
func Floor(t testing.TB, zone string) *Store {
	t.Helper()
	s := NewStore()
	AddFloor(t, s, zone)
	return s
}

// AddFloor adds the plant of Floor to a store.
func AddFloor(t testing.TB, s *Store, zone string) {
	t.Helper()
	facts := Facts()
	all := [7]bool{true, true, true, true, true, true, true}
	facts.Shifts = []plant.Shift{
		{Shift: "early", Days: all, Start: 6 * time.Hour, End: 14 * time.Hour},
		{Shift: "night", Days: all, Start: 22 * time.Hour, End: 30 * time.Hour},
	}
	facts.Settings.TimeZone = zone
	facts.Vehicles = []plant.Vehicle{{Vehicle: "TUG", Containers: 40, LoadTime: 6 * time.Second}}
	facts.Parts[0].MarketAddress, facts.Parts[0].Description = "M-4", "Lens, clear"
	hash := plant.Revision(facts)
	_, _, err := s.SaveRevision(context.Background(), FloorName, facts, hash, nil, nil)
	require.NoError(t, err)
	p := Plan()
	p.Plant, p.Revision, p.Settings.Plant.TimeZone = FloorName, hash, zone
	for i := range p.Routes {
		p.Routes[i].Interval = 90 * time.Minute
		p.Routes[i].Timetable = []routing.ShiftTimes{
			{Shift: "early", Departures: []time.Duration{6 * time.Hour, 7*time.Hour + 30*time.Minute}},
			{Shift: "night", Departures: []time.Duration{22 * time.Hour, 23*time.Hour + 30*time.Minute, 25 * time.Hour, 26*time.Hour + 30*time.Minute, 28 * time.Hour}},
		}
	}
	_, err = s.SavePlan(context.Background(), FloorName, 1, p)
	require.NoError(t, err)
}
