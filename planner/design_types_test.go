package planner_test

import (
	"context"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner"
)

// TestRacksDesignedForAPlan: asked to, the plan of the made-up plant, in which
// containers lack lanes, designs racks and places more of them; each design stands in
// its own cell, and says so. Not asked, nothing is designed.
func TestRacksDesignedForAPlan(t *testing.T) {
	t.Parallel()
	in := skerrow(t)
	plan := func(design string, threads int) *planner.Plan {
		s := planner.DefaultSettings(in.Plant)
		require.NoError(t, s.Set("placement_steps", "0"))
		require.NoError(t, s.Set("design_racks", design))
		p, err := planner.Run(context.Background(), in, s, planner.Options{Threads: threads})
		require.NoError(t, err)
		return p
	}
	without, with := plan("no", 2), plan("yes", 2)
	missing := func(p *planner.Plan) (n, designed int) {
		for _, u := range p.Unplaced {
			n += u.Containers
		}
		for _, r := range p.Racks {
			if cell, _, ok := strings.Cut(string(r.Type.RackType), " designed "); ok {
				designed++
				assert.True(t, r.Proposed)
				assert.Equal(t, cell, string(r.Cell))
				assert.Positive(t, r.Type.Cost, "priced as the plant's dearest")
				for _, l := range r.Type.Levels {
					assert.Positive(t, l.MassLimit)
				}
			}
		}
		return n, designed
	}
	before, none := missing(without)
	after, designed := missing(with)
	assert.Zero(t, none)
	assert.Positive(t, designed)
	assert.Less(t, after, before)
	notes := 0
	for _, f := range with.Findings {
		if f.Code == planner.CodeRacksDesigned {
			notes++
		}
	}
	assert.Equal(t, 1, notes)
	assert.Equal(t, with, plan("yes", 1), "threads change nothing")
}
