package buildlist_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"lanewright/planner/buildlist"
	"lanewright/planner/plant"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

func TestUnits(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		unit   string
		length units.Length
		text   string
	}{
		{"mm", 1451*mm + 149_000, "1451.1 mm"}, {"cm", -3 * mm, "-3 mm"}, {"m", 0, "0 mm"},
		{"in", 57*units.Inch + units.Inch/8, "57 1/8 in"}, {"ft", 24 * units.Inch, "24 in"}, {"in", units.Inch * 3 / 32, "3/32 in"},
		{"in", units.Inch - 1, "1 in"}, {"in", 0, "0 in"}, {"in", -units.Inch / 2, "-1/2 in"},
	} {
		assert.Equal(t, c.text, buildlist.UnitOf(c.unit).Text(c.length))
	}
}

// TestWordsAreInTheUnit: no millimetre is left in the words of an inch plant.
func TestWordsAreInTheUnit(t *testing.T) {
	t.Parallel()
	k, r := plant.ShippedKit("in"), plant.ShippedRackTypes()[3]
	f, _ := structure.Build(&r, &k, someLanes())
	l, _ := buildlist.Make("R1", f, buildlist.Inches)
	for _, p := range l.Pieces {
		assert.NotContains(t, p.Where, " mm")
	}
	for _, s := range l.Steps {
		assert.NotContains(t, s.Text, " mm", s.Title)
	}
}
