package wire_test

import (
	"bytes"
	"encoding/json"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/costing"
	"lanewright/planner/units"
)

// TestChoicesDocument: numbers have the units of this package, and what is not
// known can be told from 0.
func TestChoicesDocument(t *testing.T) {
	t.Parallel()
	stock := costing.Line{Kind: costing.Stock, Quantity: units.R(1, 3), Unit: "of stock value", Items: 4, Unpriced: 4}
	doc := wire.NewChoices("Small works", "abc", planner.Settings{}, []planner.Choice{{
		Interval: 90 * time.Second, ServiceLevel: units.R(995, 1000), Undominated: true, Frontage: 1200 * units.Millimetre,
		RoundsWeek: 7, RoundsDay: units.R(7, 5), Unvalued: 2, OwnIntervals: 3,
		Cost: costing.Cost{Lines: []costing.Line{stock}, Total: units.Unit / 2},
	}})
	var b bytes.Buffer
	require.NoError(t, json.NewEncoder(&b).Encode(doc))
	assert.JSONEq(t, `{"format":"lanewright.choices/1","plant":"Small works","revision":"abc","seed":0,"version":"`+planner.Version+`","choices":[{
		"interval_min":1.5,"service_level":99.5,"undominated":true,"containers":0,"containers_unplaced":0,"lanes_used":0,"racks":0,
		"racks_proposed":0,"frontage_m":1.2,"routes":0,"handlers":0,"rounds_per_week":7,"rounds_per_day":1.4,"stock_pieces":0,
		"stock_value":0.3333333333333333,"loops_unvalued":2,"own_intervals":3,"own_service_levels":0,
		"cost":{"total":0.5,"partial":true,"lines":[{"kind":"stock","quantity":0.3333333333333333,"unit":"of stock value","price":0,"amount":0,"items":4,"unpriced":4}]}}]}`,
		b.String())
	assert.NotNil(t, wire.NewChoices("", "", planner.Settings{}, nil).Choices, "a list is never null")
}
