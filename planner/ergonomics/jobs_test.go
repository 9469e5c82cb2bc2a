package ergonomics

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// rounds are tasks of one route and station: so many containers of 9 kg each
// round of 20 min in an hour.
func rounds(perRound ...float64) []Task {
	var list []Task
	for _, n := range perRound {
		list = append(list, Task{
			Subject:   finding.Subject{Cell: "C1", Station: "S1", Part: "P1"},
			Container: plant.Container{Length: 600 * units.Millimetre, Width: 400 * units.Millimetre, Height: 280 * units.Millimetre},
			Gross:     9 * units.Kilogram, Piece: 4 * units.Kilogram, TwoHands: true,
			PickSurface: 700 * units.Millimetre, LoadSurface: 800 * units.Millimetre,
			Rate: n / 20, Pack: 3, Share: 1,
			Route: "A", PerRound: 10, Round: 20 * time.Minute, Interval: time.Hour,
		})
	}
	return list
}

func codes(list finding.List) map[string]finding.Severity {
	found := map[string]finding.Severity{}
	for _, f := range list {
		found[f.Code] = f.Severity
	}
	return found
}

func TestJobs(t *testing.T) {
	t.Parallel()
	assert.InDelta(t, 5, rounds(5)[0].Own(), 1e-9, "containers a round")
	for _, c := range []struct {
		name  string
		tasks []Task
		want  map[string]finding.Severity
	}{
		{"one lift has its own finding", rounds(60), map[string]finding.Severity{}},
		{"few", rounds(2, 2), map[string]finding.Severity{}},
		{"many together", rounds(40, 40, 40), map[string]finding.Severity{CodeRound: finding.Note, CodeStation: finding.Note}},
		{"more", rounds(75, 75, 75), map[string]finding.Severity{CodeRound: finding.Warning, CodeStation: finding.Error}},
		{"far too many", rounds(200, 200, 200), map[string]finding.Severity{CodeRound: finding.Error, CodeStation: finding.Error}},
	} {
		found := JudgeJobs(c.tasks, DefaultSettings())
		assert.Equal(t, c.want, codes(found), "%s: %v", c.name, found)
	}
	split := rounds(40, 40, 40)
	for i := range split {
		split[i].Route = ""
	}
	assert.NotContains(t, codes(JudgeJobs(split, DefaultSettings())), CodeRound, "no route, no round")
}

// TestCompositeHolds: one lift has its lifting index; a job is never below any of
// its lifts; more lifts never lower it; the order of the list means nothing.
func TestCompositeHolds(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		draw := func() Share {
			cm := units.Length(rapid.IntRange(25, 60).Draw(t, "reach"))
			l := Lift{
				Origin:    End{Reach: cm * units.Centimetre, Height: units.Length(rapid.IntRange(10, 170).Draw(t, "height")) * units.Centimetre},
				PerMinute: float64(rapid.IntRange(0, 20).Draw(t, "tenths")) / 10,
			}
			l.Destination = l.Origin
			m := units.Mass(rapid.IntRange(3, 25).Draw(t, "kg")) * units.Kilogram
			return Share{l, m, m}
		}
		q := Equation{}
		job := []Share{draw()}
		assert.InEpsilon(t, q.Index(job[0].Lift, job[0].Mean), q.Composite(job), 1e-12)
		for range rapid.IntRange(1, 5).Draw(t, "more") {
			job = append(job, draw())
			if after := q.Composite(job); !math.IsInf(after, 1) {
				assert.GreaterOrEqual(t, after, q.Index(job[len(job)-1].Lift, job[len(job)-1].Mean)-1e-9)
				assert.GreaterOrEqual(t, after+1e-9, job[0].Lift.Index(job[0].Mean))
			}
		}
		mixed := append([]Share(nil), job...)
		rand.New(rand.NewPCG(1, uint64(len(job)))).Shuffle(len(mixed), func(i, j int) { mixed[i], mixed[j] = mixed[j], mixed[i] })
		assert.Equal(t, q.Composite(job), q.Composite(mixed))
	})
	assert.Zero(t, Equation{}.Composite(nil))
}

func TestDays(t *testing.T) {
	t.Parallel()
	day := Day{Who: "Handler H1", Shift: "Early", Net: 8 * time.Hour, Mass: DayLimit}
	assert.Empty(t, JudgeDays([]Day{day}), "the limit itself is kept")
	day.Mass++
	found := JudgeDays([]Day{day})
	require.Len(t, found, 1)
	assert.Equal(t, CodeDay, found[0].Code)
	assert.Equal(t, "Handler H1 lifts 10001 kg in shift Early", found[0].Summary)
	task := rounds(5)[0]
	assert.InDelta(t, 45, task.RefillMass(), 1e-9)
	assert.InDelta(t, 1, task.PickMass(), 1e-9, "0.25 pieces a minute of 4 kg")
	task.Piece = 2 * units.Kilogram
	assert.Zero(t, task.PickMass(), "below 3 kg nothing counts")
}

func TestReach(t *testing.T) {
	t.Parallel()
	mm := units.Millimetre
	assert.Equal(t, Arm, ReachOver(Shoulder))
	assert.Equal(t, units.Length(0), ReachOver(Knuckle))
	for _, c := range []struct {
		name       string
		pick, load units.Length
		side       plant.FlowSide
		clear      units.Length
		want       map[string]finding.Severity
	}{
		{"easy", 900 * mm, 980 * mm, plant.WidthAlong, 0, map[string]finding.Severity{}},
		{"low", 400 * mm, 480 * mm, plant.WidthAlong, 0, map[string]finding.Severity{CodeLow: finding.Note}},
		{"high at the load edge alone", 1050 * mm, 1130 * mm, plant.WidthAlong, 0, map[string]finding.Severity{CodeHigh: finding.Note}},
		{"out of reach", 1700 * mm, 1780 * mm, plant.WidthAlong, 0, map[string]finding.Severity{CodeHigh: finding.Warning}},
		{"deep", 900 * mm, 980 * mm, plant.LengthAlong, 0, map[string]finding.Severity{CodeDeep: finding.Note}},
		{"no room for a hand", 900 * mm, 980 * mm, plant.WidthAlong, 329 * mm, map[string]finding.Severity{CodeHand: finding.Note}},
		{"room for a hand", 900 * mm, 980 * mm, plant.WidthAlong, 330 * mm, map[string]finding.Severity{}},
	} {
		task := rounds(1)[0]
		task.PickSurface, task.LoadSurface, task.Side, task.Clear = c.pick, c.load, c.side, c.clear
		found := JudgeReach([]Task{task})
		assert.Equal(t, c.want, codes(found), c.name)
		for _, f := range found {
			assert.NotEmpty(t, f.Remedy, f.Code)
			assert.NotEmpty(t, f.Source, f.Code)
		}
	}
	low := rounds(1, 1, 1)
	low[1].PickSurface = 300 * mm
	low[2].PickSurface = 200 * mm
	low[2].Subject.Rack, low[2].Subject.Level = "R7", 1
	found := JudgeReach(low)
	require.Len(t, found, 2, "low and deep")
	assert.Equal(t, "Cell C1: hands go below the knuckles at 2 of 3 lanes, most at part P1 on rack R7 level 1: 340 mm", found[0].Summary)
}

// TestPagesForAllCodes: every finding of the stage is explained.
func TestPagesForAllCodes(t *testing.T) {
	t.Parallel()
	var explained []string
	for _, p := range Pages() {
		explained = append(explained, p.Code)
	}
	assert.ElementsMatch(t, []string{CodeRefill, CodePick, CodeRound, CodeStation, CodeDay, CodeLow, CodeHigh, CodeDeep, CodeHand}, explained)
}
