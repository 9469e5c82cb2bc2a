package demand_test

import (
	"testing"
	"time"
	_ "time/tzdata"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
)

// TestNightShiftsWhenTheClocksChange: in the European Union clocks go from 02:00
// to 03:00 on the last Sunday of March and back on that of October (Directive
// 2000/84/EC, articles 2 and 3, both changes at 01:00 UTC; from memory). A night
// shift by the clock is then an hour shorter or longer.
func TestNightShiftsWhenTheClocksChange(t *testing.T) {
	t.Parallel()
	berlin, err := time.LoadLocation("Europe/Berlin")
	require.NoError(t, err)
	chicago, err := time.LoadLocation("America/Chicago")
	require.NoError(t, err)
	night := plant.Shift{Shift: "N", Start: 22 * h, End: 30 * h, Breaks: []plant.Break{pause(25*h+30*time.Minute, 30*time.Minute)}}
	night.Days[time.Saturday] = true
	skipped := plant.Shift{Shift: "S", Start: 23 * h, End: 26*h + 30*time.Minute}
	skipped.Days[time.Saturday] = true
	cases := []struct {
		name       string
		shift      plant.Shift
		zone       *time.Location
		from       time.Time
		net        time.Duration
		start, end string
	}{
		{"an ordinary night", night, berlin, time.Date(2026, 5, 2, 0, 0, 0, 0, time.UTC), 7*h + 30*time.Minute, "22:00 +0200", "06:00 +0200"},
		{"forward, Berlin", night, berlin, time.Date(2026, 3, 28, 0, 0, 0, 0, time.UTC), 6*h + 30*time.Minute, "22:00 +0100", "06:00 +0200"},
		{"back, Berlin", night, berlin, time.Date(2026, 10, 24, 0, 0, 0, 0, time.UTC), 8*h + 30*time.Minute, "22:00 +0200", "06:00 +0100"},
		{"forward, Chicago", night, chicago, time.Date(2026, 3, 7, 0, 0, 0, 0, time.UTC), 6*h + 30*time.Minute, "22:00 -0600", "06:00 -0500"},
		{"back, Chicago", night, chicago, time.Date(2026, 10, 31, 0, 0, 0, 0, time.UTC), 8*h + 30*time.Minute, "22:00 -0500", "06:00 -0600"},
		{"an end that the clock skips is the moment of the change", skipped, berlin, time.Date(2026, 3, 28, 0, 0, 0, 0, time.UTC), 3 * h, "23:00 +0100", "03:00 +0200"},
		{"of an end that it shows twice the first counts", skipped, berlin, time.Date(2026, 10, 24, 0, 0, 0, 0, time.UTC), 3*h + 30*time.Minute, "23:00 +0200", "02:30 +0200"},
	}
	for _, c := range cases {
		list := demand.Occurrences([]plant.Shift{c.shift}, c.from, c.zone, 1)
		require.Len(t, list, 1, c.name)
		const layout = "15:04 -0700"
		assert.Equal(t, c.net, list[0].Net(), c.name)
		assert.Equal(t, c.start, list[0].Start().Format(layout), c.name)
		assert.Equal(t, c.end, list[0].End().Format(layout), c.name)
	}
}

func TestOccurrencesComeInOrder(t *testing.T) {
	t.Parallel()
	early := shift("early", 6*h, 14*h, pause(9*h, 15*time.Minute))
	late := shift("late", 13*h, 21*h)
	monday := time.Date(2026, 6, 1, 0, 0, 0, 0, time.UTC)
	list := demand.Occurrences([]plant.Shift{late, early}, monday, time.UTC, 7)
	require.Len(t, list, 10, "five days of two shifts")
	assert.Equal(t, plant.ShiftCode("early"), list[0].Shift)
	assert.Equal(t, plant.ShiftCode("late"), list[1].Shift)
	assert.Equal(t, []plant.Span{{Start: 6 * h, End: 9 * h}, {Start: 9*h + 15*time.Minute, End: 14 * h}}, list[0].Work)
	assert.Equal(t, monday.Add(6*h), list[0].Start())
	var net time.Duration
	for _, o := range list {
		net += o.Net()
	}
	assert.Equal(t, demand.NetDay([]plant.Shift{early, late}).Float64()*5, net.Minutes(), "both count the same week")
}
