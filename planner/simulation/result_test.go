package simulation_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"lanewright/planner/simulation"
)

func TestEveryCauseHasWordsOfItsOwn(t *testing.T) {
	t.Parallel()
	words := map[string]bool{}
	for _, c := range []simulation.Cause{
		simulation.NoCause, simulation.CauseCapacity, simulation.CauseLate, simulation.CauseGap, simulation.CauseContainers, simulation.CauseUse,
	} {
		words[c.Words()] = true
	}
	assert.Len(t, words, 6)
	assert.Contains(t, words, "", "no cause, no words")
}
