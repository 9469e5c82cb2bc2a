package routing_test

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/units"
)

// TestRandomPlants recomputes the plans of random plants: light and heavy use,
// one-way aisles cut off some racks, loops shared by racks, several markets,
// shifts and limits.
func TestRandomPlants(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		in := drawInput(rt)
		p := routing.Routes(context.Background(), in, routing.Settings{Steps: 5}, 1, 2, nil)
		require.Empty(rt, check(in, p))
		var names []string
		for _, r := range p.Routes {
			names = append(names, r.Route)
		}
		require.True(rt, slices.IsSortedFunc(names, func(a, b string) int {
			if len(a) != len(b) {
				return len(a) - len(b)
			}
			return slices.Compare([]byte(a), []byte(b))
		}), names)
	})
}

func drawInput(t *rapid.T) routing.Input {
	r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
	in := random(r, size{
		columns: rapid.IntRange(1, 5).Draw(t, "columns"), rows: rapid.IntRange(1, 5).Draw(t, "rows"),
		racks: rapid.IntRange(1, 25).Draw(t, "racks"), loops: rapid.IntRange(1, 12).Draw(t, "loops"),
		vehicles:  rapid.IntRange(1, 3).Draw(t, "vehicles"),
		intervals: []time.Duration{20 * time.Minute, time.Hour, 50 * time.Minute, 40 * time.Minute, 2 * time.Hour}[:rapid.IntRange(1, 5).Draw(t, "intervals")],
		used:      rapid.SampledFrom([]float64{0.1, 1, 5, 20}).Draw(t, "used"),
	})
	p := in.Index.Plant
	for range rapid.IntRange(0, 3).Draw(t, "aisles closed") {
		if len(p.Aisles) > 0 {
			i := r.IntN(len(p.Aisles))
			p.Aisles = slices.Delete(p.Aisles, i, i+1)
		}
	}
	if rapid.Bool().Draw(t, "a second market") {
		far := &p.AislePoints[len(p.AislePoints)-1]
		far.Kind = plant.Market
		for i := range p.Vehicles {
			p.Vehicles[i].From = p.AislePoints[r.IntN(2)*(len(p.AislePoints)-1)].Point
		}
	}
	p.Cells = append(p.Cells, plant.Cell{Cell: "FINISH", Shifts: []plant.ShiftCode{"late"}}, plant.Cell{Cell: "CASTING", Shifts: []plant.ShiftCode{"early"}})
	for i := range in.Racks {
		if cell := r.IntN(6); cell < 2 {
			in.Racks[i].Cell = p.Cells[1+cell].Cell
		}
	}
	if rapid.Bool().Draw(t, "a shorter late shift") {
		p.Shifts[1].End -= time.Duration(rapid.SampledFrom([]int{7, 340, 440}).Draw(t, "minutes off")) * time.Minute
		p.Shifts[1].Breaks = nil
	}
	if len(in.Demands) > 1 && in.Demands[0].Rack != in.Demands[len(in.Demands)-1].Rack { // one loop on two racks
		first, last := &in.Demands[0], &in.Demands[len(in.Demands)-1]
		first.Share, last.Share = units.R(1, 3), units.R(2, 3)
		last.Loop, last.Rate, last.Variance = first.Loop, first.Rate, first.Variance
	}
	drawTraffic(t, r, p)
	p.Settings.ServiceLevel = rapid.SampledFrom([]units.Ratio{units.MustRatio("0.995"), units.R(1, 2), units.R(9, 10)}).Draw(t, "service level")
	return input(p, in.Racks, in.Demands)
}

// drawTraffic closes an aisle, keeps some for people or vehicles, makes some single
// file, lets a handler walk, and parks vehicles somewhere.
func drawTraffic(t *rapid.T, r *rand.Rand, p *plant.Plant) {
	for range rapid.IntRange(0, 4).Draw(t, "aisles marked") {
		if len(p.Aisles) == 0 {
			break
		}
		a := &p.Aisles[r.IntN(len(p.Aisles))]
		switch r.IntN(4) {
		case 0:
			p.RouteRules = append(p.RouteRules, plant.RouteRule{Kind: plant.RuleClosed, From: a.From, To: a.To})
		case 1:
			a.Traffic = plant.OnlyWalkers
		case 2:
			a.Traffic = plant.OnlyDriven
		default:
			a.SingleFile = true
		}
	}
	if len(p.RouteRules) > 1 {
		p.RouteRules = p.RouteRules[:1]
	}
	for i := range p.Vehicles {
		p.Vehicles[i].OnFoot = r.IntN(4) == 0
		if r.IntN(2) == 0 {
			p.Vehicles[i].Parking = p.AislePoints[r.IntN(len(p.AislePoints))].Point
		}
	}
	p.AislePoints[0].Places = r.IntN(3)
}
