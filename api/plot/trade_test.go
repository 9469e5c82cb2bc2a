package plot_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api/plot"
	"lanewright/planner"
	"lanewright/planner/units"
)

func drawTrade(t *testing.T, cell string, list []planner.TradeOff) picture {
	t.Helper()
	var b strings.Builder
	require.NoError(t, plot.Trade(&b, cell, list))
	p := look(t, b.String())
	assert.NotContains(t, p.source, "NaN")
	return p
}

// row is a trade-off at a fill limit in percent.
func row(limit, millimetres int64, effort float64, good bool) planner.TradeOff {
	return planner.TradeOff{FillLimit: units.R(limit, 100), Frontage: units.Length(millimetres) * units.Millimetre, Effort: effort, Undominated: good}
}

func TestTradeMarksWhatIsChosen(t *testing.T) {
	t.Parallel()
	list := []planner.TradeOff{row(100, 4500, 210, true), row(90, 6000, 150, true), row(85, 6000, 150, true), row(80, 7500, 160, false), row(100, 5200, 155, true)}
	list[1].Best, list[4].Priced = true, true
	list[3].Unplaced = 2
	p := drawTrade(t, "LENS <1>", list)
	assert.Equal(t, 4, p.marks["trade"])
	assert.Equal(t, 1, p.marks["trade-hollow"])
	assert.Equal(t, 1, p.marks["best"])
	assert.Equal(t, 1, p.marks["plan"])
	assert.Equal(t, 3, p.marks["key"], "a spot, a ring and a square")
	assert.Equal(t, []string{"100 %", "90 % = 85 %", "80 %, 2 without a lane", "plan"}, p.texts["label"], "what falls together shares a label")
	assert.Equal(t, []string{"effort, kg per net hour", "frontage of all racks, m"}, p.texts["unit"])
	assert.Contains(t, p.texts["title"][0], "cell LENS <1>")
	assert.Contains(t, p.texts["desc"][0], "90 %: 6 m, 150 kg/h, the best fill limit at the price of frontage.")
	assert.Contains(t, p.texts["desc"][0], "160 kg/h, beaten by another.")
}

func TestTradeWithoutAPrice(t *testing.T) {
	t.Parallel()
	p := drawTrade(t, "", []planner.TradeOff{row(100, 4500, 210, true), row(80, 7500, 160, true)})
	assert.Zero(t, p.marks["best"]+p.marks["plan"])
	assert.Equal(t, "Frontage against effort", p.texts["title"][0])
	assert.Zero(t, drawTrade(t, "", nil).marks["trade"])
}
