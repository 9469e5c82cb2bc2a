package placement

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// TestPublishedStackSteps: small load carriers of VDA 4500 are 147.5 and 280 mm
// high and sink 15 mm into the one below, so each more of a stack adds 132.5 or
// 265 mm (en.wikipedia.org, Euro container, seen). Two low ones are as high as one
// high one: 147.5 + 132.5 = 280 (recomputed).
func TestPublishedStackSteps(t *testing.T) {
	t.Parallel()
	const tenth = units.Millimetre / 10
	for _, c := range []struct {
		height, step units.Length
		clear        units.Length
		stack        int
	}{
		{1475, 1325, 1475, 1}, {1475, 1325, 2799, 1}, {1475, 1325, 2800, 2}, {1475, 1325, 4124, 2}, {1475, 1325, 4125, 3},
		{2800, 2650, 2800, 1}, {2800, 2650, 5449, 1}, {2800, 2650, 5450, 2}, {2800, 2650, 8100, 3},
	} {
		assert.Equal(t, units.Length(150), c.height-c.step, "15 mm sink in")
		box := plant.Container{Height: c.height * tenth, Nests: units.R(int64(c.step), int64(c.height))}
		assert.Equal(t, c.stack, stackOf(&box, c.clear*tenth), "%d.%d mm high under %g mm", c.height/10, c.height%10, (c.clear * tenth).MM())
	}
}
