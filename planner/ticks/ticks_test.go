package ticks_test

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/ticks"
)

var day = time.Date(2026, 10, 19, 0, 0, 0, 0, time.UTC)

// sheet has two stops: one with two lanes, one with one.
func sheet() *planner.RoundSheet {
	r := &routing.Route{Route: "A", Stops: []routing.Stop{{Rack: "R1"}, {Rack: "R2"}}}
	lane := func(stop, level, lane int, part plant.PartCode) planner.SheetLane {
		return planner.SheetLane{Drop: planner.Drop{Stop: stop, Level: level, Lane: lane}, Part: part}
	}
	return &planner.RoundSheet{
		Route: r, Takes: []planner.SheetTake{{Pick: planner.Pick{Part: "P1"}}, {Pick: planner.Pick{Part: "P2"}}},
		Stops: []planner.SheetStop{
			{Stop: &r.Stops[0], Lanes: []planner.SheetLane{lane(1, 2, 1, "P1"), lane(1, 2, 2, "P2")}},
			{Stop: &r.Stops[1], Lanes: []planner.SheetLane{lane(2, 3, 1, "P1")}},
		},
	}
}

// at returns a tick that happened so many minutes into the day.
func at(id string, minute int, kind ticks.Kind, change func(*ticks.Tick)) ticks.Tick {
	t := ticks.Tick{ID: id, At: day.Add(time.Duration(minute) * time.Minute), Kind: kind, Round: ticks.RoundID{Plan: 1, Day: day, Working: 1, Leaves: day, Route: "A"}}
	if change != nil {
		change(&t)
	}
	return t
}

func lane(stop, level, lane, containers int) func(*ticks.Tick) {
	return func(t *ticks.Tick) { t.Stop, t.Level, t.Lane, t.Containers = stop, level, lane, containers }
}

func TestProgress(t *testing.T) {
	t.Parallel()
	blocked := func(t *ticks.Tick) { t.Stop, t.Reason = 1, ticks.RackBlocked }
	full := func(t *ticks.Tick) { t.Stop, t.Level, t.Lane, t.Reason = 1, 2, 1, ticks.LaneFull }
	undo := func(id string) func(*ticks.Tick) { return func(t *ticks.Tick) { t.Undoes = id } }
	for _, c := range []struct {
		name   string
		list   []ticks.Tick
		state  ticks.State
		ticked int
		want   string // brought, short, skip of each lane
	}{
		{"nothing", nil, ticks.ToCome, 0, "- - -, - - -; - - -"},
		{"started", []ticks.Tick{at("a", 1, ticks.Started, nil)}, ticks.UnderWay, 0, "- - -, - - -; - - -"},
		{"a lane of two", []ticks.Tick{at("a", 1, ticks.Brought, lane(1, 2, 1, 3))}, ticks.UnderWay, 0, "3 - -, - - -; - - -"},
		{"none was asked for", []ticks.Tick{at("a", 1, ticks.Brought, lane(2, 3, 1, 0))}, ticks.UnderWay, 1, "- - -, - - -; 0 - -"},
		{"the later count holds", []ticks.Tick{at("a", 2, ticks.Brought, lane(2, 3, 1, 1)), at("b", 1, ticks.Brought, lane(2, 3, 1, 5))}, ticks.UnderWay, 1, "- - -, - - -; 1 - -"},
		{"at one moment the id decides", []ticks.Tick{at("b", 1, ticks.Brought, lane(2, 3, 1, 5)), at("a", 1, ticks.Brought, lane(2, 3, 1, 1))}, ticks.UnderWay, 1, "- - -, - - -; 5 - -"},
		{"brought and short", []ticks.Tick{at("a", 1, ticks.Brought, lane(2, 3, 1, 1)), at("b", 1, ticks.Short, lane(2, 3, 1, 2))}, ticks.UnderWay, 1, "- - -, - - -; 1 2 -"},
		{"a stop is skipped after its first lane", []ticks.Tick{at("a", 1, ticks.Brought, lane(1, 2, 1, 1)), at("b", 2, ticks.Skipped, blocked)}, ticks.UnderWay, 1, "1 - -, - - rack_blocked; - - -"},
		{"a skip of a lane takes the place of what was brought", []ticks.Tick{at("a", 1, ticks.Brought, lane(1, 2, 1, 1)), at("b", 2, ticks.Skipped, full)}, ticks.UnderWay, 0, "- - lane_full, - - -; - - -"},
		{"and what is brought later that of the skip", []ticks.Tick{at("b", 1, ticks.Skipped, full), at("a", 2, ticks.Brought, lane(1, 2, 1, 1))}, ticks.UnderWay, 0, "1 - -, - - -; - - -"},
		{"undone before it came", []ticks.Tick{at("u", 0, ticks.Undone, undo("a")), at("a", 1, ticks.Brought, lane(1, 2, 1, 1))}, ticks.ToCome, 0, "- - -, - - -; - - -"},
		{"an undone is not undone", []ticks.Tick{at("u", 2, ticks.Undone, undo("a")), at("v", 3, ticks.Undone, undo("u")), at("a", 1, ticks.Ended, nil)}, ticks.ToCome, 0, "- - -, - - -; - - -"},
		{"the count before an undone one", []ticks.Tick{at("a", 1, ticks.Brought, lane(2, 3, 1, 1)), at("b", 2, ticks.Brought, lane(2, 3, 1, 9)), at("u", 3, ticks.Undone, undo("b"))}, ticks.UnderWay, 1, "- - -, - - -; 1 - -"},
		{"ended", []ticks.Tick{at("e", 9, ticks.Ended, nil), at("a", 10, ticks.Brought, lane(2, 3, 1, 1))}, ticks.Done, 1, "- - -, - - -; 1 - -"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			p := ticks.ProgressOf(sheet(), c.list)
			assert.Equal(t, c.state, p.State)
			assert.Equal(t, c.ticked, p.StopsTicked())
			assert.Equal(t, c.want, shown(p))
		})
	}
}

// shown writes the lanes of a progress.
func shown(p ticks.Progress) (text string) {
	count := func(n *int) string {
		if n == nil {
			return "-"
		}
		return fmt.Sprint(*n)
	}
	for i, s := range p.Stops {
		if i > 0 {
			text += "; "
		}
		for j, l := range s.Lanes {
			if j > 0 {
				text += ", "
			}
			skip := "-"
			if l.Skipped != nil {
				skip = string(l.Skipped.Reason)
			}
			text += count(l.Brought) + " " + count(l.Short) + " " + skip
		}
	}
	return text
}

func TestStartAndEnd(t *testing.T) {
	t.Parallel()
	p := ticks.ProgressOf(sheet(), []ticks.Tick{at("a", 4, ticks.Brought, lane(1, 2, 1, 1)), at("b", 9, ticks.Ended, nil)})
	assert.Equal(t, day.Add(4*time.Minute), p.Started, "nobody ticked the start: the first tick is it")
	assert.Equal(t, day.Add(9*time.Minute), p.Ended)
	p = ticks.ProgressOf(sheet(), []ticks.Tick{at("a", 4, ticks.Took, func(t *ticks.Tick) { t.Part, t.Containers = "P2", 7 }), at("b", 6, ticks.Started, nil)})
	assert.Equal(t, day.Add(6*time.Minute), p.Started, "loading precedes the start")
	assert.Equal(t, map[plant.PartCode]int{"P2": 7}, p.Took)
}

// tick draws any tick that fits the sheet.
func tick(t *rapid.T, n int) ticks.Tick {
	kind := rapid.SampledFrom(ticks.Kinds()).Draw(t, "kind")
	return at(fmt.Sprintf("id-%02d", n), rapid.IntRange(0, 5).Draw(t, "minute"), kind, func(x *ticks.Tick) {
		place := rapid.SampledFrom([][3]int{{1, 2, 1}, {1, 2, 2}, {2, 3, 1}}).Draw(t, "place")
		count := rapid.IntRange(1, 9).Draw(t, "containers")
		switch kind {
		case ticks.Took:
			x.Part, x.Containers = "P1", count
		case ticks.Brought, ticks.Short:
			lane(place[0], place[1], place[2], count)(x)
		case ticks.Empties:
			x.Stop, x.Containers = place[0], count
		case ticks.Skipped:
			x.Stop, x.Reason = place[0], rapid.SampledFrom(ticks.Reasons()).Draw(t, "reason")
			x.Text = "seen"
			if rapid.Bool().Draw(t, "lane only") {
				x.Level, x.Lane = place[1], place[2]
			}
		case ticks.Undone:
			x.Undoes = fmt.Sprintf("id-%02d", rapid.IntRange(0, 20).Draw(t, "undoes"))
		}
	})
}

// TestAnyOrderAndAnyNumberOfTimes: the same events, sent in any order, in any batches and
// any number of times, give the same state; each is kept once.
func TestAnyOrderAndAnyNumberOfTimes(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		list := make([]ticks.Tick, rapid.IntRange(0, 20).Draw(t, "ticks"))
		for i := range list {
			list[i] = tick(t, i)
			if reason := list[i].Check(sheet()); reason != "" {
				t.Fatalf("%+v does not fit: %s", list[i], reason)
			}
		}
		want := ticks.ProgressOf(sheet(), list)
		sent := rapid.Permutation(list).Draw(t, "order")
		if len(list) > 0 {
			sent = append(sent, rapid.SliceOf(rapid.SampledFrom(list)).Draw(t, "again")...)
		}
		assert.Equal(t, want, ticks.ProgressOf(sheet(), sent))

		kept, accepted := map[string]ticks.Tick{}, 0
		for _, x := range sent {
			for _, o := range ticks.Judge(kept, accepted, []ticks.Tick{x}) {
				require.Contains(t, []ticks.Outcome{ticks.Accepted, ticks.Known}, o)
				if o == ticks.Accepted {
					accepted++
				}
			}
		}
		assert.Equal(t, len(list), accepted)
	})
}

func TestCheck(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		want string
		tick ticks.Tick
	}{
		{"", at("a", 1, ticks.Skipped, func(t *ticks.Tick) { t.Stop, t.Reason = 2, ticks.Damaged })},
		{"", at("a", 1, ticks.Brought, func(t *ticks.Tick) { lane(1, 2, 2, 1)(t); t.Part = "P2" })},
		{"no tick of this kind", at("a", 1, "danced", nil)},
		{"from 0 to 1000", at("a", 1, ticks.Brought, lane(1, 2, 1, -1))},
		{"from 0 to 1000", at("a", 1, ticks.Brought, lane(1, 2, 1, 1001))},
		{"counts no containers", at("a", 1, ticks.Started, lane(0, 0, 0, 1))},
		{"has no stop", at("a", 1, ticks.Ended, lane(1, 0, 0, 0))},
		{"no such stop", at("a", 1, ticks.Empties, lane(3, 0, 0, 1))},
		{"no such stop", at("a", 1, ticks.Brought, lane(0, 2, 1, 1))},
		{"level and lane are missing", at("a", 1, ticks.Brought, lane(1, 0, 0, 1))},
		{"no such lane", at("a", 1, ticks.Brought, lane(1, 2, 3, 1))},
		{"no such lane", at("a", 1, ticks.Brought, lane(1, 0, 1, 1))},
		{"no level and lane", at("a", 1, ticks.Empties, lane(1, 2, 1, 1))},
		{"another part's", at("a", 1, ticks.Brought, func(t *ticks.Tick) { lane(1, 2, 2, 1)(t); t.Part = "P1" })},
		{"needs a level and lane", at("a", 1, ticks.Empties, func(t *ticks.Tick) { t.Stop, t.Part = 1, "P1" })},
		{"takes no such part", at("a", 1, ticks.Took, func(t *ticks.Tick) { t.Part = "P3" })},
		{"takes no such part", at("a", 1, ticks.Took, nil)},
		{"1 container or more", at("a", 1, ticks.Short, lane(1, 2, 1, 0))},
		{"known reasons", at("a", 1, ticks.Skipped, lane(1, 0, 0, 0))},
		{"known reasons", at("a", 1, ticks.Skipped, func(t *ticks.Tick) { t.Stop, t.Reason = 1, "tired" })},
		{"needs a text", at("a", 1, ticks.Skipped, func(t *ticks.Tick) { t.Stop, t.Reason = 1, ticks.Other })},
		{"only a skip has a reason", at("a", 1, ticks.Short, func(t *ticks.Tick) { lane(1, 2, 1, 1)(t); t.Reason = ticks.Damaged })},
		{"undoes belongs", at("a", 1, ticks.Undone, nil)},
		{"undoes belongs", at("a", 1, ticks.Started, func(t *ticks.Tick) { t.Undoes = "b" })},
		{"nobody can read", at("a", 1, ticks.Started, func(t *ticks.Tick) { t.Who = "I\x00da" })},
	} {
		got := c.tick.Check(sheet())
		if c.want == "" {
			assert.Empty(t, got)
			continue
		}
		assert.Contains(t, got, c.want, "%+v", c.tick)
	}
}

func TestCheckTime(t *testing.T) {
	t.Parallel()
	x := at("a", 60, ticks.Started, nil)
	for now, want := range map[time.Time]string{
		day.Add(time.Hour): "", day.AddDate(0, 0, -2): "", day.AddDate(0, 0, 60): "",
		day.AddDate(0, 0, -3): "two days before", day.AddDate(0, 0, 61): "60 days after",
	} {
		x.At = now
		checkSaid(t, want, x.CheckTime(now))
	}
	x.At = time.Date(1970, 1, 1, 0, 0, 0, 0, time.UTC)
	checkSaid(t, "says 1970-01-01 00:00", x.CheckTime(day))
	x.At = day.AddDate(1, 0, 0)
	checkSaid(t, "clock of the device", x.CheckTime(day))
}

func checkSaid(t *testing.T, want, got string) {
	t.Helper()
	if want == "" {
		assert.Empty(t, got)
		return
	}
	assert.Contains(t, got, want)
}

func TestRoundID(t *testing.T) {
	t.Parallel()
	id := ticks.RoundID{Plan: 12, Day: time.Date(2026, 10, 24, 0, 0, 0, 0, time.UTC), Working: 2, Leaves: time.Date(2026, 10, 25, 0, 30, 0, 0, time.UTC), Route: "A/2. north"}
	assert.Equal(t, "12.2026-10-24.2.20261025T003000Z.A/2. north", id.String())
	berlin := planner.DayRound{Route: &routing.Route{Route: id.Route}, Working: 2, Round: routing.Round{Leaves: id.Leaves.In(time.FixedZone("CEST", 7200))}}
	assert.True(t, map[ticks.RoundID]bool{id: true}[ticks.IDOf(12, id.Day, berlin)])
	odd := id
	odd.Leaves = odd.Leaves.Add(1500 * time.Millisecond)
	for _, x := range []ticks.RoundID{id, odd} {
		back, ok := ticks.ParseRoundID(x.String())
		require.True(t, ok)
		assert.True(t, map[ticks.RoundID]bool{x: true}[back], "names can be compared")
	}
	for _, bad := range []string{"", "12", "x.2026-10-24.1.20261025T003000Z.A", "012.2026-10-24.1.20261025T003000Z.A", "0.2026-10-24.1.20261025T003000Z.A", "12.2026-10-24.+1.20261025T003000Z.A", "12.2026-13-24.1.20261025T003000Z.A", "12.2026-10-24.1.2026.A"} {
		_, ok := ticks.ParseRoundID(bad)
		assert.False(t, ok, bad)
	}
}

func TestLateAndMisses(t *testing.T) {
	t.Parallel()
	s := sheet()
	round := planner.DayRound{Route: s.Route, Working: 1, Round: routing.Round{Leaves: day.Add(10 * time.Minute), Back: day.Add(30 * time.Minute)}}
	list := []ticks.Tick{at("a", 13, ticks.Started, nil), at("b", 20, ticks.Short, lane(1, 2, 1, 2)), at("c", 21, ticks.Skipped, func(t *ticks.Tick) { t.Stop, t.Reason = 1, ticks.RackBlocked })}
	for i := range list {
		list[i].Round = ticks.IDOf(1, day, round)
	}
	stray := at("d", 20, ticks.Ended, nil)
	stray.Round.Plan = 7
	rounds, strays := ticks.Rounds(1, day, []planner.DayRound{round}, map[string]*planner.RoundSheet{"A": s}, append(list, stray))
	require.Len(t, rounds, 1)
	assert.Equal(t, []ticks.Tick{stray}, strays, "what was ticked on another plan's round is not lost")
	r := rounds[0]
	assert.Equal(t, ticks.Late{Start: 3 * time.Minute, Back: 0}, r.Late(day.Add(25*time.Minute)))
	assert.Equal(t, ticks.Late{Start: 3 * time.Minute, Back: 12 * time.Minute}, r.Late(day.Add(42*time.Minute)))
	misses := r.Misses()
	require.Len(t, misses, 2)
	assert.Equal(t, 2, misses[0].Short)
	assert.Nil(t, misses[0].Skipped)
	assert.Equal(t, plant.PartCode("P2"), misses[1].Lane.Part)
	assert.Equal(t, ticks.RackBlocked, misses[1].Skipped.Reason)
}
