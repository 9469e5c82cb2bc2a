package search_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"lanewright/planner/search"
)

func TestStreamsAreNamed(t *testing.T) {
	t.Parallel()
	draw := func(seed uint64, name string) uint64 { return search.Stream(seed, name).Uint64() }
	assert.Equal(t, draw(1, "placement/C1"), draw(1, "placement/C1"))
	assert.NotEqual(t, draw(1, "placement/C1"), draw(1, "placement/C2"))
	assert.NotEqual(t, draw(1, "placement/C1"), draw(2, "placement/C1"))
}

func TestProgressMayBeNil(t *testing.T) {
	t.Parallel()
	var p search.Progress
	assert.NotPanics(t, func() { p.Report("placement", 1, 2) })
}
