package plant

import (
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/finding"
	"lanewright/planner/units"
)

// ownKit is the metric kit as a plant's sheets would give it.
func ownKit() Kit {
	k := ShippedKit("mm")
	k.Kit, k.Origin, k.Parts[0].Origin = "own", at("Kits", 2), at("Kit parts", 2)
	return k
}

func withKit(change func(*Kit)) *Plant {
	k := ownKit()
	if change != nil {
		change(&k)
	}
	return &Plant{Settings: DefaultSettings(), Kits: []Kit{k}, RackTypes: ShippedRackTypes()[:1]}
}

func TestCheckKits(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name   string
		code   string
		change func(*Kit)
	}{
		{"a sound kit", "", nil},
		{"no tube", CodeKitNoTube, func(k *Kit) { k.Parts = k.Parts[1:] }},
		{"a wall as thick as half the tube", CodeWall, func(k *Kit) { k.Parts[0].Wall = 15 * units.Millimetre }},
		{"no wall", CodeWall, func(k *Kit) { k.Parts[0].Wall = 0 }},
		{"corners rounder than round", CodeWall, func(k *Kit) { k.Parts[0].CornerRadius = 16 * units.Millimetre }},
		{"no stock", CodeNoStock, func(k *Kit) { k.Parts[0].StockLengths = nil }},
		{"a kerf below 0", CodeOutOfRange, func(k *Kit) { k.Kerf = -1 }},
		{"a price below 0", CodeOutOfRange, func(k *Kit) { k.Parts[1].Price = -1 }},
		{"a stock of nothing", CodeOutOfRange, func(k *Kit) { k.Parts[1].StockLengths = []units.Length{0} }},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			c := &checker{p: withKit(test.change)}
			c.x = NewIndex(c.p)
			c.kits()
			c.measuresOfKits()
			if test.code == "" {
				assert.Empty(t, c.found)
				return
			}
			require.NotEmpty(t, c.found)
			assert.Equal(t, test.code, c.found[0].Code)
			assert.NotEmpty(t, c.found[0].Remedy)
		})
	}
}

func TestUnknownKit(t *testing.T) {
	t.Parallel()
	for kit, unknown := range map[KitCode]bool{"": false, "own": false, InchKit: false, "other": true} {
		p := withKit(nil)
		p.RackTypes[0].Kit = kit
		found := finding.List{}
		for _, f := range Check(p) {
			if f.Code == CodeUnknownKit {
				found = append(found, f)
			}
		}
		assert.Equal(t, unknown, len(found) == 1, "%q", kit)
		p.Kits = nil
		for _, f := range Check(p) {
			assert.NotEqual(t, CodeUnknownKit, f.Code, "a plant without kits is not asked")
		}
	}
}

func TestKitOf(t *testing.T) {
	t.Parallel()
	p := withKit(nil)
	for _, c := range []struct {
		unit      string
		kit, want KitCode
	}{{"mm", "own", "own"}, {"mm", "", MetricKit}, {"in", "", InchKit}, {"mm", InchKit, InchKit}, {"ft", "gone", InchKit}} {
		p.Settings.LengthUnit = c.unit
		assert.Equal(t, c.want, NewIndex(p).KitOf(&RackType{Kit: c.kit}).Kit)
	}
}

// TestShippedKits: they have every kind of part, and their tubes weigh what
// steel of their section does (7850 kg/m³, handbooks, from memory).
func TestShippedKits(t *testing.T) {
	t.Parallel()
	for _, k := range ShippedKits() {
		for _, kind := range PartKinds() {
			assert.NotNil(t, k.Of(kind), "%s: %s", k.Kit, kind)
		}
		tube := k.Of(TubePart)
		w, wall := tube.Width.Metres(), tube.Wall.Metres()
		outer, inner := tube.CornerRadius.Metres(), tube.CornerRadius.Metres()-wall
		const corners = .858407 // 4 - pi
		area := w*w - (w-2*wall)*(w-2*wall) - corners*(outer*outer-inner*inner)
		assert.InEpsilon(t, area*7850, tube.MassPerMetre.KG(), .01, k.Kit)
		for _, use := range TubeUses() {
			assert.Equal(t, tube.Part, k.Tube(use).Part)
		}
	}
}

func TestTubeByUse(t *testing.T) {
	t.Parallel()
	k := Kit{Parts: []KitPart{
		{Part: "any", Kind: TubePart}, {Part: "strong", Kind: TubePart, Uses: []TubeUse{AsUpright, AsRail}}, {Part: "foot", Kind: FootPart},
	}}
	assert.Equal(t, KitPartCode("strong"), k.Tube(AsUpright).Part)
	assert.Equal(t, KitPartCode("any"), k.Tube(AsBrace).Part)
	k.Parts = k.Parts[1:]
	assert.Nil(t, k.Tube(AsCrossTube))
}

// TestRevisionOfKits: every field of a kit has its part in the revision, and a
// plant without kits has the one it had before there were any.
func TestRevisionOfKits(t *testing.T) {
	t.Parallel()
	with := func() *Plant {
		p := full()
		p.Kits = []Kit{ownKit()}
		p.Kits[0].Parts = p.Kits[0].Parts[:2]
		p.Kits[0].Parts[0].Uses = []TubeUse{AsRail}
		return p
	}
	base := Revision(with())
	assert.NotEqual(t, Revision(full()), base)
	tried := 0
	for path, change := range everyChange(with()) {
		if !strings.Contains(path, "Kits") {
			continue
		}
		p := with()
		change(reflect.ValueOf(p).Elem())
		assert.NotEqual(t, base, Revision(p), path)
		tried++
	}
	assert.Greater(t, tried, 50)
}
