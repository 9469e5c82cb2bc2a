package skerrow

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/importers"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/testdata/plants"
)

// read writes the workbook and reads it back.
func read(t *testing.T) *importers.Result {
	t.Helper()
	var file bytes.Buffer
	require.NoError(t, Write(&file))
	result, err := importers.ReadBytes(t.Context(), plants.SkerrowName, file.Bytes())
	require.NoError(t, err)
	return result
}

func TestWorkbookInTheRepositoryIsCurrent(t *testing.T) {
	t.Parallel()
	var file bytes.Buffer
	require.NoError(t, Write(&file))
	assert.True(t, bytes.Equal(file.Bytes(), plants.Skerrow),
		"go run ./cmd/lanebench skerrow --out testdata/plants/skerrow/skerrow.xlsx")
}

func TestSizeOfTheWorks(t *testing.T) {
	t.Parallel()
	p := read(t).Plant
	loops := map[plant.Usage]bool{}
	models := map[plant.DemandModel]bool{}
	for _, u := range p.Usage {
		loops[plant.Usage{Part: u.Part, Cell: u.Cell, Station: u.Station}] = true
		models[u.Model] = true
	}
	returns := 0
	for _, r := range p.RackTypes {
		for _, l := range r.Levels {
			if l.Kind == plant.Return {
				returns++
			}
		}
	}
	oneWay := 0
	for _, a := range p.Aisles {
		if a.OneWay {
			oneWay++
		}
	}
	laidOut := map[plant.CellCode]bool{}
	x := plant.NewIndex(&p)
	for _, c := range p.Current {
		laidOut[x.Racks[c.Rack].Cell] = true
	}
	assert.Len(t, p.Cells, 14)
	assert.InDelta(t, 60, len(p.Stations), 2)
	assert.InDelta(t, 450, len(loops), 10)
	assert.Len(t, p.Products, 8)
	assert.Len(t, p.Racks, 70)
	assert.Len(t, p.RackTypes, 5)
	assert.Equal(t, 5, returns)
	assert.Greater(t, oneWay, 10)
	assert.Len(t, p.Shifts, 2)
	assert.Len(t, p.Vehicles, 3)
	assert.Len(t, p.Pins, 6)
	assert.Len(t, laidOut, 7, "half of the cells are in today's layout")
	assert.GreaterOrEqual(t, len(p.History), 120)
	for _, m := range []plant.DemandModel{plant.DefaultModel, plant.NormalModel, plant.PoissonModel, plant.EmpiricalModel} {
		assert.True(t, models[m], "demand model %q", m)
	}
}

func TestHonestMistakesAreFoundAndNoneIsAnError(t *testing.T) {
	t.Parallel()
	found := read(t).Findings
	assert.Zero(t, found.Count(finding.Error), "%v", found)
	codes := map[string]bool{}
	for _, f := range found {
		codes[f.Code] = true
		assert.False(t, f.Origin.IsZero(), "%s says where", f.Code)
	}
	for _, code := range []string{
		"codes.differ-in-case", "columns.unknown", "rows.repeated", "parts.unknown-look-alike", "parts.no-usage",
		"current.unknown-code", "levels.longer-than-rack", "shifts.break-outside", "products.other-cell", "containers.fits-no-lane",
	} {
		assert.True(t, codes[code], code)
	}
}

func TestInchesAndPoundsAreExact(t *testing.T) {
	t.Parallel()
	p := read(t).Plant
	x := plant.NewIndex(&p)
	assert.Equal(t, "387.35 mm", x.Containers["T-1512"].Length.String(), "15 1/4 in")
	assert.Equal(t, "1828.8 mm", x.RackTypes["US-72"].Width.String(), "72 in")
	assert.Equal(t, "149.6854821 kg", x.Vehicles["HANDCART"].MassLimit.String(), "330 lb")
	assert.Equal(t, "5486.4 mm", x.Stations[plant.StationKey{Cell: "REEF-2", Station: "010"}].WalkLimit.String(), "18 ft")
	assert.NotNil(t, x.Parts["00110"], "zeros in front stay")
	assert.NotNil(t, x.Parts["1E5"], "a code that looks like a number stays text")
}

func TestFullContainersAreFitToLift(t *testing.T) {
	t.Parallel()
	p := read(t).Plant
	x := plant.NewIndex(&p)
	for _, part := range p.Parts {
		c := x.Containers[part.Container]
		gross := c.Gross(part).KG()
		if c.Container == "CRATE-T" {
			continue
		}
		assert.LessOrEqual(t, gross, c.GrossLimit.KG(), "part %s", part.Part)
		assert.True(t, gross >= 1 && gross <= 16, "part %s: %v kg", part.Part, gross)
	}
}
