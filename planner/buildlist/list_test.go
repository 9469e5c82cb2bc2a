package buildlist_test

import (
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/importers"
	"lanewright/planner"
	"lanewright/planner/buildlist"
	"lanewright/planner/plant"
	"lanewright/planner/structure"
	"lanewright/planner/units"
	"lanewright/testdata/plants"
)

// kits are the shipped ones and one with a hole every 25 mm.
func kits() []plant.Kit {
	holes := plant.ShippedKit("mm")
	holes.Kit, holes.HolePitch, holes.FirstHole = "holes", 25*mm, 12_500_000
	return append(plant.ShippedKits(), holes)
}

// someLanes are two lanes of one container on level 2.
func someLanes() []structure.Lane {
	box := structure.Box{Container: "BOX", Flow: 400 * mm, Across: 300 * mm, Height: 200 * mm, Gross: 12 * units.Kilogram}
	return []structure.Lane{
		{Level: 2, Offset: 0, Width: 320 * mm, Box: box, Capacity: 3, Containers: 2},
		{Level: 2, Offset: 330 * mm, Width: 320 * mm, Box: box, Capacity: 3, Containers: 3},
	}
}

// TestShippedRacksAssemble puts every shipped rack together from its build list,
// out of every kit.
func TestShippedRacksAssemble(t *testing.T) {
	t.Parallel()
	for _, k := range kits() {
		for _, r := range plant.ShippedRackTypes() {
			t.Run(fmt.Sprintf("%s %s", k.Kit, r.RackType), func(t *testing.T) {
				t.Parallel()
				for _, lanes := range [][]structure.Lane{nil, someLanes()} {
					f, _ := structure.Build(&r, &k, lanes)
					require.NotNil(t, f)
					check(t, made(t, "R1", f))
				}
			})
		}
	}
}

func skerrow(t testing.TB) (*plant.Plant, *planner.Plan) {
	t.Helper()
	read, err := importers.ReadBytes(context.Background(), plants.SkerrowName, plants.Skerrow)
	require.NoError(t, err)
	settings := planner.DefaultSettings(&read.Plant)
	settings.Placement.Steps = 0
	plan, err := planner.Run(context.Background(), planner.Input{Plant: &read.Plant}, settings, planner.Options{Threads: 2})
	require.NoError(t, err)
	return &read.Plant, plan
}

// TestRacksOfAPlanAssemble puts every rack of the made-up plant together, with the
// lanes planned on it.
func TestRacksOfAPlanAssemble(t *testing.T) {
	t.Parallel()
	facts, plan := skerrow(t)
	n := 0
	for _, r := range planner.Frames(context.Background(), facts, plan, 2) {
		require.NotNil(t, r.Frame)
		check(t, made(t, string(r.Rack.Rack), r.Frame))
		n++
	}
	assert.Greater(t, n, 50)
}

// anyRack draws a rack type of any measures and a kit.
func anyRack(t *rapid.T) (plant.RackType, plant.Kit) {
	k := rapid.SampledFrom(kits()).Draw(t, "kit")
	between := func(name string, low, high int) units.Length {
		return units.Length(rapid.IntRange(low, high).Draw(t, name)) * mm / 4
	}
	depth := between("depth", 2000, 24_000)
	r := plant.RackType{RackType: "T", Width: between("width", 1600, 10_000), Depth: depth, Height: 2200 * mm, OnCasters: rapid.Bool().Draw(t, "casters")}
	for n := range rapid.IntRange(1, 4).Draw(t, "levels") {
		r.Levels = append(r.Levels, plant.Level{
			Level: n + 1, Kind: plant.Supply, PickHeight: units.Length(400+400*n) * mm, Drop: between("drop", -400, 400),
			LaneLength: depth - 50*mm, UsableWidth: r.Width - 80*mm, ClearHeight: 300 * mm,
		})
	}
	return r, k
}

// anyLanes draws lanes with containers on the levels of a rack.
func anyLanes(t *rapid.T, r plant.RackType) (lanes []structure.Lane) {
	for _, l := range r.Levels {
		at := units.Length(0)
		for range rapid.IntRange(0, 3).Draw(t, "lanes") {
			across := units.Length(rapid.IntRange(80, 600).Draw(t, "across")) * mm
			if at+across+20*mm > l.UsableWidth {
				break
			}
			box := structure.Box{
				Container: "BOX", Flow: units.Length(rapid.IntRange(120, 400).Draw(t, "flow")) * mm, Across: across,
				Height: units.Length(rapid.IntRange(60, 420).Draw(t, "height")) * mm, Gross: 10 * units.Kilogram,
			}
			lanes = append(lanes, structure.Lane{Level: l.Level, Offset: at, Width: across + 20*mm, Box: box, Capacity: 2, Containers: 1})
			at += across + 30*mm
		}
	}
	return lanes
}

// TestAnyRackAssembles does the same with racks of any measures and any lanes.
func TestAnyRackAssembles(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r, k := anyRack(t)
		f, _ := structure.Build(&r, &k, anyLanes(t, r))
		l, _ := buildlist.Make("R1", f, buildlist.MM)
		check(t, l)
	})
}
