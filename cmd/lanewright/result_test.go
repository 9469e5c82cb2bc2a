package main

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"lanewright/planner"
	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/simulation"
	"lanewright/planner/units"
)

// loops are results of one verdict, named by their part.
func loops(v simulation.Verdict, parts ...string) []simulation.LoopResult {
	var list []simulation.LoopResult
	for _, part := range parts {
		list = append(list, simulation.LoopResult{Loop: demand.Key{Part: plant.PartCode(part), Cell: "C1", Station: "S1"}, Verdict: v})
	}
	return list
}

func TestVerdictInWords(t *testing.T) {
	t.Parallel()
	proved, missing := loops(simulation.Proved, "A", "B"), loops(simulation.NotPlayed, "X")
	cases := map[string][]simulation.LoopResult{
		"2 of 2 loops proved.":                           proved,
		"2 of 3 loops proved; 1 runs short: P at C1/S1.": append(proved[:2:2], loops(simulation.Short, "P")...),
		"2 of 9 loops proved; 6 run short: P at C1/S1, Q at C1/S1, R at C1/S1, S at C1/S1, T at C1/S1 and 1 more; 1 not played, for want of a lane, a round or any use.": append(append(proved[:2:2], loops(simulation.Short, "P", "Q", "R", "S", "T", "U")...), missing...),
	}
	for want, list := range cases {
		assert.Equal(t, want, verdict(simulation.Result{Loops: list}))
	}
}

func TestResultSaysWhatNeverEndsAndWhatDoesNotHelp(t *testing.T) {
	t.Parallel()
	list := loops(simulation.Short, "P", "Q")
	list[0].Cause, list[0].ShortLongest = simulation.CauseCapacity, time.Hour
	list[1].Shortages, list[1].Enough, list[1].Containers = 12, 9, 7
	var b strings.Builder
	writeResult(&b, &planner.Plan{}, simulation.Result{Loops: list})
	assert.Regexp(t, `(?m)^P .* never ends .* more don't help +left behind by a full round$`, b.String())
	assert.Regexp(t, `(?m)^Q .* 12 .* 7 +9 `, b.String())
	assert.NotContains(t, b.String(), "route ", "a play without routes has no table of them")
}

// TestEmptiesWithinTheServiceLevelAreNoNews: the worst rack comes first, what the
// service level leaves is counted only.
func TestEmptiesWithinTheServiceLevelAreNoNews(t *testing.T) {
	t.Parallel()
	made := &planner.Plan{Settings: planner.Settings{Plant: plant.Settings{ServiceLevel: units.R(99, 100)}}}
	var b strings.Builder
	writeOverfull(&b, made, simulation.Result{Racks: []simulation.RackResult{
		{Rack: "R1", Visits: 1000, Overfull: 20}, {Rack: "R2", Visits: 1000, Overfull: 5}, {Rack: "R3", Visits: 1000, Overfull: 300}, {Rack: "R4", Visits: 1000},
	}})
	text := b.String()
	assert.Less(t, strings.Index(text, "R3 "), strings.Index(text, "R1 "))
	assert.NotContains(t, text, "R2 ")
	assert.Contains(t, text, "at 1 rack besides, within the 1.00 % of visits")
}

func TestShellQuotesWhatAShellTakesApart(t *testing.T) {
	t.Parallel()
	for code, want := range map[string]string{"4103-A": "4103-A", "A B": "'A B'", "it's": `'it'\''s'`, "": "''", "$X": "'$X'", "Ü1": "Ü1"} {
		assert.Equal(t, want, shell(code))
	}
}
