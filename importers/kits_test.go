package importers

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

func TestKits(t *testing.T) {
	t.Parallel()
	r := loadWorkbook(t, "lantern").withKit().readZip(t)
	require.Len(t, r.Plant.Kits, 1, "%v", r.Findings)
	k := r.Plant.Kits[0]
	assert.Equal(t, plant.KitCode("tube28"), k.Kit)
	assert.Equal(t, []units.Length{units.Millimetre, 3 * units.Millimetre, 0}, []units.Length{k.CutStep, k.Kerf, k.HolePitch})
	assert.Equal(t, 3, k.RollersUnder, "a blank column has its default")
	assert.Equal(t, 6*units.Foot, k.CentreSupport)
	require.Len(t, k.Parts, 2)
	roller, tube := k.Parts[0], k.Parts[1]
	assert.Equal(t, plant.RollerPart, roller.Kind)
	assert.Equal(t, 33*units.Millimetre, roller.Pitch)
	assert.Equal(t, plant.RectangularTube, tube.Shape)
	assert.Equal(t, []units.Length{3 * units.Metre, 6 * units.Metre}, tube.StockLengths, "rising")
	assert.Equal(t, 235*units.Megapascal, tube.Yield)
	assert.InDelta(t, .45359237/.3048, tube.MassPerMetre.KG(), 1e-9, "a pound per foot")
	for _, l := range r.Sheets {
		assert.Equal(t, l.Rows, l.Used+l.Reported+l.Skipped, l.Sheet)
	}
}

func TestRackTypesNameTheirKit(t *testing.T) {
	t.Parallel()
	w := loadWorkbook(t, "lantern").withKit().set("Rack types", "I2", " TUBE28 ")
	r := w.readZip(t)
	assert.Equal(t, plant.KitCode("tube28"), r.Plant.RackTypes[0].Kit)
	assert.Empty(t, ofCode(r.Findings, plant.CodeUnknownKit))
	found := ofCode(w.set("Rack types", "I2", "tube 40").readZip(t).Findings, plant.CodeUnknownKit)
	require.Len(t, found, 1)
	assert.Contains(t, found[0].Origin.String(), "Rack types!I2")
	assert.Empty(t, ofCode(loadWorkbook(t, "lantern").readZip(t).Findings, plant.CodeUnknownKit), "without kits nothing is asked")
}
