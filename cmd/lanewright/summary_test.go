package main

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"lanewright/planner"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
)

func TestSummaryAddsUpTheLanesOfACell(t *testing.T) {
	t.Parallel()
	made := &planner.Plan{
		Plant:   "Small works",
		Cells:   []placement.Bound{{Cell: "C1", Unplaced: 5, UnplacedBound: 4, Effort: 12.34, EffortBound: 10}},
		Balance: []placement.Balance{{Cell: "C1", Needed: 3, Placed: 2}, {Cell: "C1", Needed: 4, Placed: 4}, {Cell: "C2", Needed: 9}},
	}
	var b strings.Builder
	writeSummary(&b, made)
	assert.Contains(t, b.String(), "cell  lanes needed  got  containers without  bound  effort     bound\n"+
		"C1    7             6    5                   4      12.3 kg/h  10.0 kg/h\n")
	assert.NotContains(t, b.String(), "route ", "a plan without routes has no table of them")
}

func TestSummaryCutsLongTables(t *testing.T) {
	t.Parallel()
	made := &planner.Plan{}
	for i := range rowsShown + 3 {
		made.Cells = append(made.Cells, placement.Bound{Cell: plant.CellCode(fmt.Sprintf("C%02d", i+1))})
	}
	var b strings.Builder
	writeSummary(&b, made)
	assert.Contains(t, b.String(), "C40 ")
	assert.NotContains(t, b.String(), "C41 ")
	assert.Contains(t, b.String(), "and 3 more; the plan document")
}
