package wire_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api/apitest"
	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/finding"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/units"
)

func written(t *testing.T, p *planner.Plan) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, wire.WritePlan(&b, p))
	return b.String()
}

// TestDocumentFields: every name that the plan document promises is there.
func TestDocumentFields(t *testing.T) {
	t.Parallel()
	var doc map[string]any
	require.NoError(t, json.Unmarshal([]byte(written(t, apitest.Plan())), &doc))
	for _, c := range []struct {
		at     string
		fields string
	}{
		{"", "format plant revision seed version settings loops racks lanes unplaced routes moves bounds summary findings proof"},
		{"loops", "part cell station container pack pieces_per_hour interval_min response_min service_level service_measure demand_model mean_pieces covered_pieces containers lane_capacity lanes flow_side route"},
		{"racks", "rack rack_type cell stations proposed x y aisle_point"},
		{"lanes", "rack level lane kind offset_mm width_mm part cell station flow_side capacity containers"},
		{"unplaced", "part cell station containers reason detail"},
		{"routes", "route vehicle_type handler interval_min round_min travel_m busy load_mean load_planned mass_planned departures stops"},
		{"routes.stops", "order rack aisle_point arrive_min containers empties"},
		{"moves", "part station from to containers"},
		{"bounds", "cells routes"},
		{"bounds.cells", "cell unplaced unplaced_bound added_cost added_cost_bound effort effort_bound optimal stopped_by"},
		{"bounds.routes", "routes routes_bound travel_m travel_bound_m"},
		{"summary", "loops loops_placed lanes_used lanes_free racks racks_proposed containers routes handlers"},
		{"proof", "weeks warm_up_weeks replications use from verdicts loops routes racks"},
		{"proof.verdicts", "proved short not_played"},
		{"proof.loops", "part cell station verdict cause short_rate short_rate_low short_rate_high short_rate_allowed shortages fill_rate"},
		{"proof.routes", "route rounds late round_mean_min round_95_min round_most_min load_mean left_behind"},
		{"proof.racks", "rack visits overfull most_mm room_mm"},
		{"findings", "code severity summary detail remedy origin subject"},
		{"findings.origin", "file sheet row column"},
	} {
		at := doc
		for name := range strings.FieldsFuncSeq(c.at, func(r rune) bool { return r == '.' }) {
			if list, ok := at[name].([]any); ok {
				at = list[0].(map[string]any)
			} else {
				at = at[name].(map[string]any)
			}
		}
		for _, f := range strings.Fields(c.fields) {
			assert.Contains(t, at, f, c.at)
		}
	}
}

// TestDocumentValues checks units and the awkward corners.
func TestDocumentValues(t *testing.T) {
	t.Parallel()
	text := written(t, apitest.Plan())
	for name, want := range map[string]string{
		"a rate per hour":             `"pieces_per_hour":25,`,
		"service level in percent":    `"service_level":99.5,`,
		"settings as numbers":         `"seed":1,`,
		"settings as text":            `"time_zone":"Europe/London"`,
		"an empty lane":               `"part":"","cell":"","station":"","flow_side":"","capacity":0,"containers":0}`,
		"metres":                      `"x":4,"y":12,`,
		"a move of what is new":       `"from":null,"to":{"rack":"R4","level":2,"lane":1}`,
		"no empty list is null":       `"unserved": []`,
		"a plant-wide finding":        `"origin":{},`,
		"a finding with a place":      `"origin":{"file":"skerrow.xlsx","sheet":"Parts","row":13,"column":"D"}`,
		"clock times":                 `"departures":["06:00","06:30","22:00","00:15"]`,
		"the shift's own times":       `{"shift":"night","departures":["22:00:00","00:15:00"]}`,
		"a proof on lines of its own": "  \"proof\": {\n    \"weeks\": 4,\n",
		"a loop of it":                "    \"loops\": [\n      {\"part\":\"LE-105\",",
		"its verdicts":                `"verdicts": {"proved":15,"short":1,"not_played":2},`,
		"signs are not escaped":       `"summary":"Part LN-777 names the container \"SLC-9999\", which is not listed"`,
	} {
		assert.Contains(t, text, want, name)
	}
	assert.NotContains(t, strings.Replace(text, "  \"build\": null,\n", "", 1), "null,\n")
	assert.Equal(t, text, written(t, apitest.Plan()), "the same plan gives the same bytes")
}

// TestStreamedAsEncoded: the streamed document and encoding/json agree.
func TestStreamedAsEncoded(t *testing.T) {
	t.Parallel()
	plain, err := json.Marshal(wire.NewPlan(apitest.Plan()))
	require.NoError(t, err)
	assert.JSONEq(t, string(plain), written(t, apitest.Plan()))
}

// TestEmptyPlan: a plan of nothing is a document with empty lists.
func TestEmptyPlan(t *testing.T) {
	t.Parallel()
	text := written(t, &planner.Plan{Settings: planner.DefaultSettings(&plant.Plant{Settings: plant.DefaultSettings()})})
	for _, list := range []string{"loops", "racks", "lanes", "unplaced", "routes", "unserved", "moves", "findings", "balance"} {
		assert.Contains(t, text, `"`+list+`": []`)
	}
	assert.Contains(t, text, `"proof": null`)
	assert.Contains(t, text, `"build": null`)
	assert.Equal(t, 2, strings.Count(text, "null"))
}

type full struct{ room int }

var errFull = errors.New("disk full")

func (f *full) Write(p []byte) (int, error) {
	if f.room -= len(p); f.room < 0 {
		return 0, errFull
	}
	return len(p), nil
}

func TestWriteErrors(t *testing.T) {
	t.Parallel()
	assert.ErrorIs(t, wire.WritePlan(&full{room: 10}, apitest.Plan()), errFull)
	p := apitest.Plan()
	p.Cells[0].EffortBound = math.NaN()
	assert.ErrorContains(t, wire.WritePlan(&full{room: 1 << 20}, p), "bounds")
	p = apitest.Plan()
	p.Proof.Loops[1].Rate = math.NaN()
	assert.ErrorContains(t, wire.WritePlan(&full{room: 1 << 20}, p), "proof: loops: element 1")
}

// TestMeasures: what has no number in JSON is left out, never invented.
func TestMeasures(t *testing.T) {
	t.Parallel()
	list := wire.NewFindings(finding.List{{Measure: &finding.Measure{Value: math.Inf(1), Limit: 3, Unit: "kg"}}, {}})
	assert.Nil(t, list[0].Value)
	assert.Equal(t, 3.0, *list[0].Limit)
	assert.Nil(t, list[1].Limit)
	assert.NotNil(t, wire.NewFindings(nil), "a list is never null")
}

// TestSharedDepartures: two shifts that share a clock time show it once.
func TestSharedDepartures(t *testing.T) {
	t.Parallel()
	p := apitest.Plan()
	p.Routes = []routing.Route{{Interval: time.Hour, Timetable: []routing.ShiftTimes{
		{Shift: "a", Departures: []time.Duration{8 * time.Hour, 9*time.Hour + 59*time.Second}},
		{Shift: "b", Departures: []time.Duration{9 * time.Hour, 33 * time.Hour, 34 * time.Hour}},
	}}}
	r := wire.NewPlan(p).Routes[0]
	assert.Equal(t, []string{"08:00", "09:00", "10:00"}, r.Departures)
	assert.Equal(t, []string{"08:00:00", "09:00:59"}, r.Timetable[0].Departures)
}

func TestUnknownPlace(t *testing.T) {
	t.Parallel()
	p := apitest.Plan()
	p.Racks[0].Known = false
	assert.Nil(t, wire.NewPlan(p).Racks[0].X)
}

func TestExactUntilWritten(t *testing.T) {
	t.Parallel()
	p := apitest.Plan()
	p.Loops[0].Rate = units.R(1, 180) // a third of a piece an hour
	p.Loops[0].Gross = units.Pound
	l := wire.NewPlan(p).Loops[0]
	assert.Equal(t, 1.0/3, l.PiecesPerHour)
	assert.Equal(t, 0.45359237, l.GrossKG)
}

// TestCells counts the made-up plant by hand.
func TestCells(t *testing.T) {
	t.Parallel()
	cells := wire.NewCells(apitest.Facts(), apitest.Plan())
	require.Len(t, cells, 3)
	lens, wiring := cells[0], cells[1]
	assert.Equal(t, []int{8, 12, 8, 4, 0}, []int{lens.LanesNeeded, lens.LanesThere, lens.LanesUsed, lens.LanesFree, lens.LanesShort})
	assert.Equal(t, []int{6, 6, 4, 2, 2}, []int{wiring.LanesNeeded, wiring.LanesThere, wiring.LanesUsed, wiring.LanesFree, wiring.LanesShort})
	assert.Equal(t, []int{6, 4, 20, 8}, []int{wiring.Loops, wiring.LoopsPlaced, wiring.Containers, wiring.ContainersUnplaced})
	assert.Equal(t, []string{"A"}, lens.Routes)
	assert.Equal(t, 2400.0, lens.FrontageMM)
	assert.Equal(t, 1, wiring.Warnings)
	assert.Equal(t, 1, lens.Notes, "the finding names its rack only")
	assert.Equal(t, 1, cells[2].RacksProposed)
}

// TestUnknownCell: a code that is no cell is counted nowhere and harms nobody.
func TestUnknownCell(t *testing.T) {
	t.Parallel()
	p := apitest.Plan()
	p.Balance = append(p.Balance, placement.Balance{Cell: "NOWHERE", Needed: 5})
	p.Racks[0].Cell = "NOWHERE"
	assert.Len(t, wire.NewCells(apitest.Facts(), p), 3)
}
