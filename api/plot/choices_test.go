package plot_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api/plot"
	"lanewright/planner"
	"lanewright/planner/costing"
	"lanewright/planner/units"
)

// choice is one with what the picture shows; an unpriced cost where year is 0.
func choice(minutes, containers, rounds int, year units.Money, good bool) planner.Choice {
	c := planner.Choice{
		Interval: time.Duration(minutes) * time.Minute, ServiceLevel: units.R(995, 1000), Undominated: good,
		Containers: containers, RoundsWeek: 5 * rounds, RoundsDay: units.Int(int64(rounds)),
		Cost: costing.Cost{Lines: []costing.Line{{Kind: costing.Handlers, Items: 1}}, Total: year},
	}
	if year == 0 {
		c.Cost.Lines[0].Unpriced = 1
	}
	return c
}

func drawChoices(t *testing.T, list []planner.Choice) picture {
	t.Helper()
	var b strings.Builder
	require.NoError(t, plot.Choices(&b, list))
	p := look(t, b.String())
	assert.NotContains(t, p.source, "NaN")
	return p
}

func TestChoicesFillsAndJoinsWhatIsNotDominated(t *testing.T) {
	t.Parallel()
	p := drawChoices(t, []planner.Choice{
		choice(15, 1267, 476, 0, true), choice(30, 1481, 255, 0, true), choice(60, 1873, 270, 0, false),
	})
	assert.Equal(t, 2, p.marks["choice"])
	assert.Equal(t, 1, p.marks["choice-hollow"])
	assert.Equal(t, 1, strings.Count(p.paths["joined"], "L"), "two are joined")
	assert.Equal(t, []string{"15 min", "30 min", "60 min"}, p.texts["label"])
	assert.Equal(t, []string{"containers in all loops", "rounds per day"}, p.texts["unit"])
	assert.Contains(t, p.texts["desc"][0], "15 min: 476, 1\u2009267.")
	assert.NotContains(t, p.texts["desc"][0], "60 min:")
}

func TestChoicesShowsCostWhereItIsKnown(t *testing.T) {
	t.Parallel()
	list := []planner.Choice{choice(15, 1267, 0, 90_000*units.Unit, true), choice(30, 1481, 0, 80_000*units.Unit, true)}
	p := drawChoices(t, list)
	assert.Equal(t, []string{"yearly cost, in the plant's currency", "refill interval, minutes"}, p.texts["unit"], "without rounds the interval is the axis")
	list[1].Cost.Lines[0].Unpriced = 1
	assert.Equal(t, "containers in all loops", drawChoices(t, list).texts["unit"][0], "one total that is not all is no curve of cost")
}

func TestChoicesHasALineForEachServiceLevel(t *testing.T) {
	t.Parallel()
	low := []planner.Choice{choice(15, 1000, 476, 0, true), choice(30, 1100, 255, 0, true)}
	high := []planner.Choice{choice(15, 1267, 476, 0, true), choice(30, 1481, 255, 0, true)}
	for i := range low {
		low[i].ServiceLevel = units.R(9, 10)
	}
	p := drawChoices(t, append(low, high...))
	assert.Equal(t, 2, p.marks["joined"])
	assert.Equal(t, []string{"15 min, 90 %", "30 min, 90 %", "15 min, 99.5 %", "30 min, 99.5 %"}, p.texts["label"])
}

// TestChoicesLabelsKeepApart: equal values do not hide each other's labels.
func TestChoicesLabelsKeepApart(t *testing.T) {
	t.Parallel()
	p := drawChoices(t, []planner.Choice{choice(15, 500, 10, 0, true), choice(20, 500, 10, 0, true), choice(30, 500, 10, 0, true)})
	spots := map[string]bool{}
	for part := range strings.SplitSeq(p.source, "<text class=\"label\" ") {
		x, y := 0.0, 0.0
		if n, _ := fmt.Sscanf(part, "x=\"%f\" y=\"%f\"", &x, &y); n == 2 {
			spots[fmt.Sprint(x, y)] = true
		}
	}
	assert.Len(t, spots, 3)
}

func TestChoicesWithNothingInIt(t *testing.T) {
	t.Parallel()
	assert.Zero(t, drawChoices(t, nil).marks["choice"])
}
