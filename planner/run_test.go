package planner_test

import (
	"context"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/importers"
	"lanewright/planner"
	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/search"
	"lanewright/planner/units"
	"lanewright/testdata/plants"
)

func skerrow(t testing.TB) planner.Input {
	t.Helper()
	read, err := importers.ReadBytes(context.Background(), plants.SkerrowName, plants.Skerrow)
	require.NoError(t, err)
	require.False(t, read.Findings.HasErrors())
	return planner.Input{Plant: &read.Plant, Findings: read.Findings}
}

func run(t *testing.T, in planner.Input) *planner.Plan {
	t.Helper()
	plan, err := planner.Run(context.Background(), in, planner.DefaultSettings(in.Plant), planner.Options{Threads: 2})
	require.NoError(t, err)
	return plan
}

func TestEveryLoopHasLanesOrAReason(t *testing.T) {
	t.Parallel()
	in := skerrow(t)
	plan := run(t, in)
	held := map[demand.Key]int{}
	for _, l := range plan.Lanes {
		held[l.Loop] += l.Containers
	}
	for _, u := range plan.Unplaced {
		held[u.Loop] += u.Containers
		assert.True(t, slices.ContainsFunc(plan.Findings, func(f finding.Finding) bool { return f.Code == u.Reason }), u.Reason)
	}
	for _, l := range plan.Loops {
		assert.Equal(t, l.Containers, held[l.Key], "%v", l.Key)
		assert.Equal(t, l.Lanes > 0, l.Route != "", "%v is refilled where it has lanes", l.Key)
	}
	assert.Equal(t, search.Limit, plan.Stopped)
	assert.Subset(t, plan.Findings, in.Findings, "what was read stays beside the plan")
}

// TestMistakesAreNoticed bends one fact of the made-up plant at a time and
// looks for the finding that the planning rules ask for.
func TestMistakesAreNoticed(t *testing.T) {
	t.Parallel()
	cases := []struct {
		code string
		bend func(*plant.Plant)
	}{
		{"structure.slope-low", func(p *plant.Plant) { p.RackTypes[0].Levels[1].Drop = 10 * units.Millimetre }},
		{"structure.slope-high", func(p *plant.Plant) { p.RackTypes[0].Levels[1].Drop = 300 * units.Millimetre }},
		{"sizing.fixed-below-rule", func(p *plant.Plant) { p.Usage[0].Containers = 1 }},
		{"empties.return-lanes-short", func(p *plant.Plant) { longerReturns(p, 8*time.Hour) }},
		{"routes.more-handlers-than-vehicles", func(p *plant.Plant) {
			for i := range p.Vehicles {
				p.Vehicles[i].Count = 1
			}
		}},
		{"routes.no-vehicles", func(p *plant.Plant) { p.Vehicles = nil }},
		{"lifting.refill", func(p *plant.Plant) {
			for i := range p.Parts {
				p.Parts[i].PieceMass = 20 * units.Kilogram / units.Mass(p.Parts[i].Pack)
			}
		}},
		{"lifting.pick", func(p *plant.Plant) {
			part := p.Usage[0].Part
			for i := range p.Usage {
				if p.Usage[i].Part == part {
					p.Usage[i].Containers = 2
				}
			}
			for i := range p.Parts {
				if p.Parts[i].Part == part {
					p.Parts[i].Pack, p.Parts[i].PieceMass = 1, 9*units.Kilogram
				}
			}
		}},
		{"lifting.round", func(p *plant.Plant) {
			for i := range p.Parts {
				p.Parts[i].PieceMass = 12 * units.Kilogram / units.Mass(p.Parts[i].Pack)
			}
		}},
		{"lifting.station", heavyPieces},
		{"lifting.day", heavyPieces},
		{"reach.low", func(p *plant.Plant) { p.RackTypes[0].Levels[1].PickHeight = 200 * units.Millimetre }},
		{"reach.high", func(*plant.Plant) {}},
		{"reach.deep", func(*plant.Plant) {}},
		{"placement.frontage-used-up", func(p *plant.Plant) {
			for i := range p.Cells {
				p.Cells[i].Frontage = units.Metre
			}
		}},
		{"placement.roller-pitch", func(p *plant.Plant) { p.Settings.RollerPitch = 150 * units.Millimetre }},
	}
	for _, c := range cases {
		t.Run(c.code, func(t *testing.T) {
			t.Parallel()
			in := skerrow(t)
			c.bend(in.Plant)
			plan := run(t, in)
			var codes []string
			for _, f := range plan.Findings {
				codes = append(codes, f.Code)
				assert.NotEmpty(t, f.Remedy, f.Code)
				assert.NotEmpty(t, f.Detail, f.Code)
			}
			slices.Sort(codes)
			assert.Contains(t, slices.Compact(codes), c.code)
		})
	}
}

// heavyPieces makes every piece one of 4 kg.
func heavyPieces(p *plant.Plant) {
	for i := range p.Parts {
		p.Parts[i].PieceMass = 4 * units.Kilogram
	}
}

func longerReturns(p *plant.Plant, d time.Duration) {
	for i := range p.Usage {
		p.Usage[i].Interval = d
	}
}

func TestCancelledRunsGiveNoPlan(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	in := skerrow(t)
	plan, err := planner.Run(ctx, in, planner.DefaultSettings(in.Plant), planner.Options{})
	assert.Nil(t, plan)
	assert.ErrorIs(t, err, context.Canceled)
}

// TestATimeLimitKeepsWhatThereIs: a deadline that has passed still gives every
// loop a lane or a reason.
func TestATimeLimitKeepsWhatThereIs(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithDeadline(context.Background(), time.Unix(0, 0))
	defer cancel()
	in := skerrow(t)
	plan, err := planner.Run(ctx, in, planner.DefaultSettings(in.Plant), planner.Options{})
	require.NoError(t, err)
	assert.Equal(t, search.Cancelled, plan.Stopped)
	s := plan.Summary()
	assert.Equal(t, s.Loops, s.LoopsPlaced+len(plan.Unplaced))
	assert.NotZero(t, s.LoopsPlaced)
	assert.NotZero(t, s.Routes)
}

func TestAnEmptyPlantGivesAnEmptyPlan(t *testing.T) {
	t.Parallel()
	in := planner.Input{Plant: &plant.Plant{Name: "bare", Settings: plant.DefaultSettings()}}
	plan := run(t, in)
	assert.Zero(t, plan.Summary().Loops)
	assert.Empty(t, plan.Lanes)
}
