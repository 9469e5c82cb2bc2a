package storage_test

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sync/errgroup"

	"lanewright/planner/archive"
	"lanewright/planner/ticks"
	"lanewright/storage/storagetest"
)

var tickDay = time.Date(2026, 10, 24, 0, 0, 0, 0, time.UTC)

func roundOf(plan int64, route string) ticks.RoundID {
	return ticks.RoundID{Plan: plan, Day: tickDay, Working: 2, Leaves: tickDay.Add(24*time.Hour + 30*time.Minute), Route: route}
}

func brought(round ticks.RoundID, n, containers int) ticks.Tick {
	return ticks.Tick{
		ID: fmt.Sprintf("00000000-0000-4000-8000-%012d", n), Round: round, At: tickDay.Add(time.Duration(n) * time.Millisecond),
		Kind: ticks.Brought, Stop: 1, Level: 2, Lane: 3, Part: "7-114", Containers: containers, Who: "Ida",
	}
}

func TestTicksRoundTrip(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	plan, other := savedPlan(t, db, "a"), savedPlan(t, db, "b")
	round := roundOf(plan.ID, "A. north")
	skip := ticks.Tick{ID: "00000000-0000-4000-8000-00000000000f", Round: round, At: tickDay, Kind: ticks.Skipped, Stop: 2, Reason: ticks.Other, Text: "wet floor"}
	undo := ticks.Tick{ID: "00000000-0000-4000-8000-00000000000e", Round: round, At: tickDay.Add(-time.Second), Kind: ticks.Undone, Undoes: skip.ID}
	sent := []ticks.Tick{brought(round, 2, 4), brought(round, 1, 3), skip, undo}
	out, err := db.SaveTicks(t.Context(), round, sent)
	require.NoError(t, err)
	assert.Equal(t, []ticks.Outcome{ticks.Accepted, ticks.Accepted, ticks.Accepted, ticks.Accepted}, out)
	out, err = db.SaveTicks(t.Context(), round, []ticks.Tick{sent[0], brought(round, 5, 1), brought(round, 5, 1)})
	require.NoError(t, err)
	assert.Equal(t, []ticks.Outcome{ticks.Known, ticks.Accepted, ticks.Known}, out)
	_, err = db.SaveTicks(t.Context(), roundOf(other.ID, "A"), []ticks.Tick{brought(roundOf(other.ID, "A"), 9, 1)})
	require.NoError(t, err)

	list, err := db.Ticks(t.Context(), round)
	require.NoError(t, err)
	require.Len(t, list, 5)
	for i, want := range []ticks.Tick{undo, skip, sent[1], sent[0], brought(round, 5, 1)} {
		assert.True(t, want.Same(list[i]), "%d: %v", i, list[i])
		assert.False(t, list[i].Received.IsZero())
	}
	day, err := db.TicksOn(t.Context(), "a", tickDay)
	require.NoError(t, err)
	assert.Equal(t, list, day, "not those of the other plant")
	day, err = db.TicksOn(t.Context(), "a", tickDay.AddDate(0, 0, 1))
	require.NoError(t, err)
	assert.Empty(t, day, "a round after midnight is of the day on which its shift began")
	_, err = db.TicksOn(t.Context(), "a\x00", tickDay)
	require.NoError(t, err)
}

// TestTicksThatClash: where one id says something else, or is another round's, nothing of
// the batch is kept.
func TestTicksThatClash(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	plan := savedPlan(t, db, "a")
	round, next := roundOf(plan.ID, "A"), roundOf(plan.ID, "B")
	_, err := db.SaveTicks(t.Context(), round, []ticks.Tick{brought(round, 1, 3)})
	require.NoError(t, err)
	for name, clashing := range map[string]ticks.Tick{"content": brought(round, 1, 4), "round": brought(next, 1, 3)} {
		out, err := db.SaveTicks(t.Context(), clashing.Round, []ticks.Tick{brought(clashing.Round, 2, 1), clashing})
		require.NoError(t, err)
		assert.Equal(t, []ticks.Outcome{ticks.Accepted, ticks.Clashes}, out, name)
		list, err := db.TicksOn(t.Context(), "a", tickDay)
		require.NoError(t, err)
		assert.Len(t, list, 1, name)
	}
}

// TestTicksSentAtOnce: two windows that send the same events in opposite order keep each
// once, and none of them fails.
func TestTicksSentAtOnce(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	round := roundOf(savedPlan(t, db, "a").ID, "A")
	var up, down []ticks.Tick
	for i := range 40 {
		up, down = append(up, brought(round, i, i)), append(down, brought(round, 39-i, 39-i))
	}
	accepted := make([]int, 6)
	var group errgroup.Group
	for i := range accepted {
		group.Go(func() error {
			out, err := db.SaveTicks(t.Context(), round, [][]ticks.Tick{up, down}[i%2])
			for _, o := range out {
				if o == ticks.Accepted {
					accepted[i]++
				}
			}
			return err
		})
	}
	require.NoError(t, group.Wait())
	sum := 0
	for _, n := range accepted {
		sum += n
	}
	assert.Equal(t, 40, sum)
	list, err := db.Ticks(t.Context(), round)
	require.NoError(t, err)
	assert.Len(t, list, 40)
}

// TestTicksAreBounded: beyond the most of a round none is kept, and what is known stays so.
func TestTicksAreBounded(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	round := roundOf(savedPlan(t, db, "a").ID, "A")
	var list []ticks.Tick
	for i := range ticks.MostPerRound + 1 {
		list = append(list, brought(round, i, 1))
	}
	out, err := db.SaveTicks(t.Context(), round, list)
	require.NoError(t, err)
	assert.Equal(t, ticks.Accepted, out[ticks.MostPerRound-1])
	assert.Equal(t, ticks.Beyond, out[ticks.MostPerRound])
	out, err = db.SaveTicks(t.Context(), round, list[ticks.MostPerRound-1:])
	require.NoError(t, err)
	assert.Equal(t, []ticks.Outcome{ticks.Known, ticks.Beyond}, out)
}

func TestTicksAreSealed(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	round := roundOf(savedPlan(t, db, "a").ID, "A")
	_, err := db.SaveTicks(t.Context(), round, []ticks.Tick{brought(round, 1, 3)})
	require.NoError(t, err)
	for _, sql := range []string{`update work.ticks set containers = 9`, `delete from work.ticks`, `truncate work.ticks`} {
		_, err := db.Pool().Exec(t.Context(), sql)
		require.ErrorContains(t, err, "append-only", sql)
	}
	nowhere := roundOf(99, "A")
	_, err = db.SaveTicks(t.Context(), nowhere, []ticks.Tick{brought(nowhere, 7, 1)})
	require.Error(t, err, "a round of no plan")
	assert.NotErrorIs(t, err, archive.ErrUnavailable)
}
