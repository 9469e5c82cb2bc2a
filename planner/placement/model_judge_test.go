package placement

import (
	"fmt"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/internal/solvertest"
	"lanewright/planner/plant"
)

func smallRecipe(d dice) recipe {
	return recipe{
		loops: d.from(1, 5), racks: d(3), types: d.from(1, 2), stations: d.from(1, 3), levels: d.from(1, 3), width: d.from(6, 14) * 100,
		frontage: []int{0, 2000, 3500}[d(3)], fixed: []int{0, 40}[d(2)], pins: []int{0, 30}[d(2)], apart: []int{0, 40, 90}[d(3)],
		masses: []int{0, 60}[d(2)], today: []int{0, 60}[d(2)], costs: []int{0, 60, 100}[d(3)], fill: []int{0, 60}[d(2)], places: d.yes(60),
		containers: []int{3, 6}[d(2)],
	}
}

// An outside solver finds no layout better than a bound of the search, none
// worse than the search's own, and where the search says optimal it agrees.
// What it finds obeys every rule.
func TestOutsideSolverJudgesTheSearch(t *testing.T) {
	t.Parallel()
	solvertest.Need(t)
	var undecided atomic.Int64
	t.Run("cells", func(t *testing.T) {
		for seed := range uint64(judgedCells) {
			t.Run(fmt.Sprintf("seed %d", seed), func(t *testing.T) {
				t.Parallel()
				d := seeded(seed)
				if !judgeCell(t, made(d, smallRecipe(d))) {
					undecided.Add(1)
				}
			})
		}
	})
	t.Logf("of %d cells the solver gave up on %d", judgedCells, undecided.Load())
	assert.LessOrEqual(t, undecided.Load(), int64(judgedCells/20))
}

// judgedCells is the number of cells that the solver judges.
const judgedCells = 200

// judgeCell compares the search with the solver, goal by goal; false where the
// solver gave up on a goal.
func judgeCell(t *testing.T, in Input) bool {
	t.Helper()
	l := placed(in, 1)
	require.Empty(t, broken(in, l))
	b := l.Bounds[0]
	most := noLimits()
	proved := spanned(t, in, GoalUnplaced, most, float64(b.UnplacedBound), float64(b.Unplaced), b.Optimal)
	most.Unplaced, most.Cost = b.Unplaced, b.AddedCost
	proved = spanned(t, in, GoalCost, most, b.AddedCostBound, b.AddedCost, b.Optimal) && proved
	most.Splits = splitsOf(l)
	return spanned(t, in, GoalEffort, most, b.EffortBound, b.Effort, b.Optimal) && proved
}

// spanned holds the solver's best value of a goal against the search's bound
// and value, and the solver's layout against the rules. It answers whether the
// solver was sure.
func spanned(t *testing.T, in Input, goal ModelGoal, most ModelLimits, bound, value float64, optimal bool) bool {
	t.Helper()
	j := judge(t, modelOf(t, in, goal, most))
	if !j.Found {
		return false
	}
	slack := 1e-5 * (1 + value)
	assert.LessOrEqual(t, bound, j.Value+slack, "%s %+v: a layout beats the bound", goal, most)
	require.Empty(t, broken(in, layoutOf(in, j.columns)), "%s %+v", goal, most)
	if j.Proved {
		assert.LessOrEqual(t, j.Value, value+slack, "%s %+v: the model lacks the search's layout", goal, most)
	}
	if optimal && j.Proved {
		assert.InDelta(t, value, j.Value, slack, "%s %+v: not optimal", goal, most)
	}
	return j.Proved
}

// layoutOf makes a layout of a solution: the columns of containers say what
// lies where, those of stretches which of several has the pinned lanes.
func layoutOf(in Input, columns map[string]float64) Layout {
	c := newCell(in, DefaultSettings(), &split(in)[0], overall{today(in), heeded(in)})
	tags := newModelTags(c)
	st := newState(c, nil)
	st.racks, st.shelves = nil, nil
	for b := range c.bases {
		tag := string(c.bases[b].rack.Rack)
		for k := 0; b < c.standing && k < 1 || b >= c.standing && columns[fmt.Sprintf("o_%s.new%d", c.bases[b].rack.Type.RackType, k+1)] > 0.5; k++ {
			if b >= c.standing {
				tag = fmt.Sprintf("%s.new%d", c.bases[b].rack.Type.RackType, k+1)
			}
			st.open(b)
			putAll(st, tags, tag, columns)
		}
	}
	st = st.withoutEmptyRacks()
	return merge(in, []result{c.report(st, nil, func() bool { return false }, taken(in.Racks))}, nil)
}

// putAll lays what a solution has on the rack opened last.
func putAll(st *state, tags modelTags, rack string, columns map[string]float64) {
	for s := st.racks[len(st.racks)-1].first; s < len(st.shelves); s++ {
		shelf := fmt.Sprintf("%s_L%d", rack, st.c.cols[st.shelves[s].col].level.Level.Level)
		for i := range st.c.loops {
			name := tags.loop(i) + "_" + shelf
			if n := int64(columns["n_"+name] + 0.5); n > 0 {
				st.putBack(item{loop: i, shelf: s, n: n, anchor: hasLanes(&st.c.loops[i], name, columns)})
			}
		}
	}
}

// hasLanes reports whether a stretch of a solution has a lane of l's pins.
func hasLanes(l *loop, name string, columns map[string]float64) bool {
	for _, side := range []plant.FlowSide{plant.LengthAlong, plant.WidthAlong} {
		for at := range 20 {
			for count := range 20 {
				if columns[fmt.Sprintf("s_%s_%s_%d.%d", name, sideName(side), at+1, count+1)] < 0.5 {
					continue
				}
				for _, lane := range l.lanes {
					return lane > at && lane <= at+count+1
				}
			}
		}
	}
	return false
}
