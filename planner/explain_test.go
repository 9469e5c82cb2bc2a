package planner_test

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner"
	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// told is the text of one section of an explanation.
func told(e planner.Explanation, title string) string {
	var text []string
	for _, s := range e.Sections {
		if s.Title != title {
			continue
		}
		for _, sentence := range s.Sentences {
			text = append(text, sentence.Text)
		}
	}
	return strings.Join(text, "\n")
}

// values are those of all sentences by name.
func values(e planner.Explanation) map[string]planner.Value {
	m := map[string]planner.Value{}
	for _, s := range e.Sections {
		for _, sentence := range s.Sentences {
			for _, v := range sentence.Values {
				m[v.Name] = v
			}
		}
	}
	return m
}

func explain(t *testing.T, in planner.Input, plan *planner.Plan, part, cell, station string) planner.Explanation {
	t.Helper()
	e, ok := planner.NewReasons(in.Plant, plan).Loop(demand.Key{Part: plant.PartCode(part), Cell: plant.CellCode(cell), Station: plant.StationCode(station)})
	require.True(t, ok)
	return e
}

// TestExplainSteadyLoop follows a loop worked out by hand: 120 an hour, R = L = 60
// min, packs of 20: D = 240, 12 cards, 13 containers; called in at once 60 min and
// 6 + 1 containers; 6 containers a round.
func TestExplainSteadyLoop(t *testing.T) {
	t.Parallel()
	in := small(t)
	e := explain(t, in, run(t, in), "LENS", "OPTIC", "10")
	assert.Equal(t, "120 pieces an hour / 60 min = 2 pieces a minute.\n"+
		"That is 120 pieces an hour of work, or 6 containers of 20. Cell OPTIC works 480 net minutes a day.", told(e, "How fast it is used"))
	assert.Contains(t, told(e, "The rule"), "The steady rule is used: it covers the mean use and the safety on top. No row gives a variation")
	out := told(e, "What came out")
	for _, want := range []string{
		"Over R + L, 120 min, 240 pieces are used in the mean. The rule covers D = 240.",
		"240 / 20, rounded up, is 12 cards. One more is being emptied: 13 containers.",
		"would live through the longer of the two, 60 min, and need 7 containers.",
		"A round carries 6 of its containers",
	} {
		assert.Contains(t, out, want)
	}
	assert.Contains(t, told(e, "On the lane"), "At most 13 containers lie there")
	assert.Contains(t, told(e, "On the lane"), "with 240 pieces on hand at the latest")
	assert.Contains(t, told(e, "Where it lies"), "On rack OPTIC-N1, level ")
	assert.Contains(t, told(e, "Where it lies"), "No route of the plan brings it.")
	assert.Contains(t, told(e, "What would change it"), "One container more if usage rises at all, above 120 pieces an hour.")
	assert.Contains(t, told(e, "What would change it"), "One container fewer if usage falls by 8.33 %, to 110 pieces an hour.")
}

// TestExplainNamesCellsAndSettings: what a row gives is named with its cell, the
// rest with the setting that counts instead.
func TestExplainNamesCellsAndSettings(t *testing.T) {
	t.Parallel()
	in := small(t)
	plan := run(t, in)
	base := values(explain(t, in, plan, "BASE", "HORN", "10"))
	assert.Equal(t, "lamps.csv, lamps!K5", base["refill interval R"].Origin.String())
	assert.Equal(t, "45 min", base["refill interval R"].Text)
	assert.Equal(t, "lamps.csv, lamps!D5", base["pieces per hour"].Origin.String())
	assert.Equal(t, "lamps.csv, lamps!I5", base["standard pack"].Origin.String())
	lens := values(explain(t, in, plan, "LENS", "OPTIC", "10"))
	assert.True(t, lens["refill interval R"].Origin.IsZero())
	assert.Equal(t, "refill_interval_min", lens["refill interval R"].Setting)
	assert.Equal(t, "safety", lens["safety"].Setting)
}

func TestExplainAFixedLoopThatIsTooSmall(t *testing.T) {
	t.Parallel()
	in := small(t)
	in.Plant.Usage[0].Containers = 3
	e := explain(t, in, run(t, in), "LENS", "OPTIC", "10")
	assert.Contains(t, told(e, "What came out"), "The sheet fixes the loop at 3 containers all the same.")
	assert.Contains(t, told(e, "On the lane"), "after the first container only 40 are left: the loop may run dry")
	assert.Equal(t, "Nothing but the sheet: the number is fixed there.", told(e, "What would change it"))
}

func TestExplainALoopWithoutALane(t *testing.T) {
	t.Parallel()
	in := small(t)
	for i := range in.Plant.Containers {
		in.Plant.Containers[i].Height = 2 * units.Metre
	}
	e := explain(t, in, run(t, in), "LENS", "OPTIC", "10")
	assert.Contains(t, told(e, "Where it lies"), "13 containers without a lane.")
	assert.Contains(t, told(e, "In other containers"), "does not fit the level, its height is too large")
}

// TestExplainEveryLoop: whatever its model, each section of each loop says
// something whole, and what it rests on has a place or a setting that there is.
func TestExplainEveryLoop(t *testing.T) {
	t.Parallel()
	in := skerrow(t)
	plan := run(t, in)
	settings := map[string]bool{}
	for _, p := range plan.Settings.Pairs() {
		settings[p.Key] = true
	}
	x := plant.NewIndex(in.Plant)
	for _, l := range plan.Loops {
		e, ok := planner.NewReasons(in.Plant, plan).Loop(l.Key)
		require.True(t, ok)
		require.Len(t, e.Sections, 9)
		for _, s := range e.Sections {
			require.NotEmpty(t, s.Sentences, "%v %s", l.Key, s.Title)
			for _, sentence := range s.Sentences {
				require.True(t, strings.HasSuffix(sentence.Text, "."), "%v: %s", l.Key, sentence.Text)
				require.NotContains(t, sentence.Text, "%!")
				require.NotContains(t, sentence.Text, "NaN")
			}
		}
		for name, v := range values(e) {
			require.True(t, !v.Origin.IsZero() || settings[v.Setting], "%v: %s has no place", l.Key, name)
		}
		var rate units.Ratio
		for _, term := range demand.Terms(x, plan.Settings.Plant, l.Loop.Loop) {
			rate = rate.Add(term.Rate)
		}
		require.True(t, rate.Equal(l.Rate), "%v: what is told adds up", l.Key)
	}
}

func TestExplainKnowsWhatIsNotThere(t *testing.T) {
	t.Parallel()
	in := small(t)
	_, ok := planner.NewReasons(in.Plant, run(t, in)).Loop(demand.Key{Part: "NONE"})
	assert.False(t, ok)
}

// TestExplainSaysHowServiceIsMeasured: the same number means something else.
func TestExplainSaysHowServiceIsMeasured(t *testing.T) {
	t.Parallel()
	in := small(t)
	in.Plant.Usage[0].Variation = units.R(1, 5)
	in.Plant.Usage[0].Response = 30 * time.Minute
	for measure, want := range map[plant.ServiceMeasure]string{
		plant.ServicePerCycle: "how often a refill cycle shall pass with no shortage",
		plant.ServiceFillRate: "the share of pieces that shall be there",
		plant.ServicePerYear:  "The plant allows 1 shortages a year",
	} {
		in.Plant.Settings.Measure = measure
		e := explain(t, in, run(t, in), "LENS", "OPTIC", "10")
		assert.Contains(t, told(e, "What went in"), want)
		assert.Contains(t, told(e, "The rule"), "The use varies from day to day.")
		assert.NotContains(t, told(e, "What went in"), "No response time is given")
	}
}

// TestExplainSaysThatShiftEndsAreCovered: the time that was covered is the one told.
func TestExplainSaysThatShiftEndsAreCovered(t *testing.T) {
	t.Parallel()
	in := fewCells(t)
	s := quick(in)
	s.CoverShiftEnds = true
	plan, err := planner.Run(context.Background(), in, s, planner.Options{})
	require.NoError(t, err)
	at := slices.IndexFunc(plan.Loops, func(l planner.Loop) bool { return l.Wait > l.Interval && l.Fixed == 0 })
	require.GreaterOrEqual(t, at, 0, "some shift ends with less than an interval")
	e, _ := planner.NewReasons(in.Plant, plan).Loop(plan.Loops[at].Key)
	out := told(e, "What came out")
	assert.Contains(t, out, "At the end of a shift a signal waits up to ")
	assert.Contains(t, out, fmt.Sprintf("Over the longest wait and L, %.4g min, ", plan.Loops[at].Window().Float64()))
}
