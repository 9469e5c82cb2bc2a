package wire_test

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/demand"
	"lanewright/planner/finding"
)

// TestExplanationDocument: a value has a place in the sheets or a setting, and a
// sentence without values has an empty list.
func TestExplanationDocument(t *testing.T) {
	t.Parallel()
	text, err := json.Marshal(wire.NewExplanation(planner.Explanation{
		Loop: demand.Key{Part: "LENS", Cell: "OPTIC", Station: "10"},
		Sections: []planner.Section{{Title: "What went in", Sentences: []planner.Sentence{
			{Text: "Plain."},
			{Text: "Two.", Values: []planner.Value{
				{Name: "pack", Text: "20 pieces", Origin: finding.Origin{File: "a.xlsx", Sheet: "Parts", Row: 3, Column: "C"}},
				{Name: "R", Text: "60 min", Setting: "refill_interval_min"},
			}},
		}}},
	}))
	require.NoError(t, err)
	assert.JSONEq(t, `{"format":"lanewright.explanation/1","part":"LENS","cell":"OPTIC","station":"10","sections":[{"title":"What went in","sentences":[
		{"text":"Plain.","values":[]},
		{"text":"Two.","values":[
			{"name":"pack","text":"20 pieces","origin":{"file":"a.xlsx","sheet":"Parts","row":3,"column":"C"}},
			{"name":"R","text":"60 min","origin":{},"setting":"refill_interval_min"}]}]}]}`, string(text))
}
