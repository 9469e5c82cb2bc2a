package main

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/cmd/lanebench/internal/scale"
	"lanewright/importers/export"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// TestOtherServiceAgrees measures service by the year and by the pieces, on
// bent plants in which some loops vary more than Poisson use does.
func TestOtherServiceAgrees(t *testing.T) {
	t.Parallel()
	for seed := range uint64(8) {
		t.Run(fmt.Sprintf("seed %d", seed), func(t *testing.T) {
			t.Parallel()
			p, rng := scale.Plant(2, 60+10*int(seed), seed), rand.New(rand.NewPCG(seed, 7))
			bend(p, rng)
			p.Settings.Measure = []plant.ServiceMeasure{plant.ServicePerYear, plant.ServiceFillRate}[seed%2]
			p.Settings.ShortagesPerYear = units.R(int64(1+rng.IntN(40)), 2)
			p.Settings.WeeksPerYear = units.Int(int64(40 + rng.IntN(12)))
			disperse(p, rng)
			agrees(t, p)
		})
	}
}

// disperse makes some products vary widely, and some rows negative binomial.
func disperse(p *plant.Plant, rng *rand.Rand) {
	for i := range p.Products {
		if rng.IntN(2) == 0 {
			p.Products[i].Variation = units.R(int64(30+rng.IntN(90)), 100)
		}
	}
	for i := range p.Usage {
		if rng.IntN(3) == 0 {
			p.Usage[i].Model = plant.NegativeBinomialModel
		}
	}
}

// TestRecomputeNoticesOtherService spoils a plan that promises a share of the
// pieces and one that allows shortages by the year.
func TestRecomputeNoticesOtherService(t *testing.T) {
	t.Parallel()
	type object = map[string]any
	for _, measure := range []plant.ServiceMeasure{plant.ServicePerYear, plant.ServiceFillRate} {
		p := scale.Plant(2, 60, 3)
		p.Settings.Measure = measure
		disperse(p, rand.New(rand.NewPCG(3, 7)))
		dir := filepath.Join(t.TempDir(), "plant")
		require.NoError(t, export.WriteFolder(dir, export.Workbook(p)))
		document := planOf(t, dir, 1)
		for name, change := range map[string]func(l object){
			"model":         func(l object) { l["demand_model"] = "poisson" },
			"covered":       func(l object) { l["covered_pieces"] = l["covered_pieces"].(float64) - 1 },
			"service level": func(l object) { l["service_level"] = l["service_level"].(float64) - 0.01 },
		} {
			var d object
			require.NoError(t, json.Unmarshal(document, &d))
			list := d["loops"].([]any)
			at := slices.IndexFunc(list, func(l any) bool { return l.(object)["demand_model"] == string(plant.NegativeBinomialModel) })
			require.GreaterOrEqual(t, at, 0, "the plan has a negative binomial loop")
			change(list[at].(object))
			assert.NotEmpty(t, objections(t, dir, d), "%s, %s was not noticed", measure, name)
		}
	}
}
