package wire_test

import (
	"encoding/json"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/simulation"
)

// TestPlayedDocument: a play names the plan's facts and holds what a stored proof
// holds; lists are never null.
func TestPlayedDocument(t *testing.T) {
	t.Parallel()
	text, err := json.Marshal(wire.NewPlayed(&planner.Plan{Plant: "Small works", Revision: "abc", Version: "v"}, simulation.Result{
		Settings: simulation.Settings{Weeks: 4, Replications: 10, Use: simulation.UseModel}, Seed: 7, Played: 90 * time.Second, Events: 5, Pieces: 3,
		Loops: []simulation.LoopResult{{Verdict: simulation.Proved}, {Verdict: simulation.Short}},
	}))
	require.NoError(t, err)
	var doc map[string]any
	require.NoError(t, json.Unmarshal(text, &doc))
	proof := doc["proof"].(map[string]any)
	assert.Equal(t, map[string]any{"proved": 1.0, "short": 1.0, "not_played": 0.0}, proof["verdicts"])
	assert.Len(t, proof["loops"], 2)
	assert.Equal(t, []any{}, proof["racks"])
	delete(doc, "proof")
	assert.Equal(t, map[string]any{
		"format": "lanewright.play/1", "plant": "Small works", "revision": "abc", "seed": 7.0, "version": "v",
		"played_min": 1.5, "events": 5.0, "pieces": 3.0, "findings": []any{},
	}, doc)
}
