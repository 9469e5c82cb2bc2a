package structure

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// laidOut designs one level without clearances or guides, so long, for containers
// of one footprint, and returns its lanes.
func laidOut(t *testing.T, length, width, lane units.Length, containers int) (lanes []Lane, usable units.Length) {
	t.Helper()
	k := plant.ShippedKit("mm")
	k.SideClearance = 0
	w := DefaultWishes(plant.DefaultSettings())
	w.Depth, w.Return, w.MostLevels = lane+laneShort, NoReturn, 1
	w.SideClearance, w.GuideWidth = 0, 0
	along := Box{Container: "BOX", Flow: length, Across: width, Height: 147 * mm, Gross: units.Kilogram}
	across := along
	across.Flow, across.Across = width, length
	p, found, ok := Design([]Need{{Ways: []Box{along, across}, Containers: containers}}, &k, w)
	require.True(t, ok, "%v", found)
	return p.Lanes, p.Lanes[len(p.Lanes)-1].Offset + p.Lanes[0].Width
}

// TestPublishedFootprints: outside measures of VDA 4500 (594 x 396, 396 x 297,
// 297 x 198 mm; en.wikipedia.org, Euro container, seen) and modules of ISO
// 3394:2012 (600 x 400, 600 x 500, 550 x 366 mm; NVC, rigid rectangular packages,
// seen) fill unit loads of ISO 3676 (same page, seen) as printed there or in German
// encyclopaedia texts (4 of 600 x 400 or 8 of 400 x 300 on 1200 x 800, seen); counts
// without that mark are recomputed. A unit load's length is the width of the level,
// its width the length of the lanes.
func TestPublishedFootprints(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name                string
		length, width, long units.Length
		wide                units.Length
		containers          int
	}{
		{"VDA 4500, 600 x 400, on 1200 x 800 (seen)", 594, 396, 800, 1200, 4},
		{"VDA 4500, 400 x 300, on 1200 x 800 (seen)", 396, 297, 800, 1200, 8},
		{"VDA 4500, 300 x 200, on 1200 x 800 (calc)", 297, 198, 800, 1200, 16},
		{"ISO 3394, 600 x 400, on 1200 x 800 (seen)", 600, 400, 800, 1200, 4},
		{"ISO 3394, 600 x 500, on 1200 x 1000 (calc)", 600, 500, 1000, 1200, 4},
		{"ISO 3394, 550 x 366, on 1100 x 1100 (calc)", 550, 366, 1100, 1100, 6},
	} {
		lanes, usable := laidOut(t, c.length*mm, c.width*mm, c.long*mm, c.containers)
		held := 0
		for _, l := range lanes {
			held += l.Capacity
		}
		assert.Equal(t, c.containers, held, c.name)
		assert.LessOrEqual(t, usable, c.wide*mm, c.name)
		lanes, usable = laidOut(t, c.length*mm, c.width*mm, c.long*mm, c.containers+1)
		assert.Greater(t, usable, c.wide*mm, "%s: one more has no place in %d lanes", c.name, len(lanes))
	}
}

// TestOutsideMeasuresCount: a lane holds what its containers' outside measures
// allow, not the nominal ones: 2970 mm hold five of 594 mm, by the nominal 600 mm
// they would hold four (VDA 4500, seen; counts recomputed).
func TestOutsideMeasuresCount(t *testing.T) {
	t.Parallel()
	for flow, want := range map[units.Length]int{594: 5, 600: 4} {
		k, w := plant.ShippedKit("mm"), DefaultWishes(plant.DefaultSettings())
		w.Depth, w.Return = 2970*mm+laneShort, NoReturn
		box := Box{Container: "BOX", Flow: flow * mm, Across: 396 * mm, Height: 147 * mm, Gross: units.Kilogram}
		p, _, ok := Design([]Need{{Ways: []Box{box}, Containers: 1}}, &k, w)
		require.True(t, ok)
		assert.Equal(t, want, p.Lanes[0].Capacity)
	}
}

// TestPublishedUnits: pound-force, its moment and stiffness, in³ and in⁴ follow from
// exact definitions (international yard and pound of 1959 and standard gravity,
// NIST SP 811 appendix B, seen quoted; derived figures recomputed).
func TestPublishedUnits(t *testing.T) {
	t.Parallel()
	near(t, pound, newtons(units.Pound), 1e-13, "1 lbf in N")
	near(t, 175.126835, newtons(units.Pound)/inch*1000, 5e-7, "1 lbf/in in N/m")
	b := Beam{Span: 2 * inch, Elastic: 1, Section: Section{Inertia: 1, Modulus: 1}, Loads: []Force{PointLoad(inch, 2*newtons(units.Pound))}}
	moment, _ := b.MostMoment()
	near(t, 112.984829, moment, 5e-7, "1 lbf·in in N·mm: 2 lbf in the middle of 2 in")
	solid := SectionOf(squareTube("1", ".5", "0"))
	near(t, 416_231.4256/12, solid.Inertia, 1e-6, "1 in⁴ in mm⁴: a solid inch has a twelfth")
	near(t, 16_387.064/6, solid.Modulus, 1e-7, "1 in³ in mm³: a solid inch has a sixth")
	near(t, 1, kilograms(newtons(units.Kilogram)), 1e-15, "there and back")
}
