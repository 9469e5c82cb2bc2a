package buildlist_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"

	"lanewright/planner/buildlist"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// TestShippedTypesAreClean: every shipped rack type, built from either shipped kit,
// holds the mass limit of each level, empty of plans and with lanes of containers
// as high as its clear height less a hand, and nothing is found but that a push
// asks for an anchor.
func TestShippedTypesAreClean(t *testing.T) {
	t.Parallel()
	limits := structure.DefaultLimits()
	for _, kit := range plant.ShippedKits() {
		for _, rack := range plant.ShippedRackTypes() {
			for _, lanes := range [][]structure.Lane{nil, fullLanes(rack, limits.Hand)} {
				name := fmt.Sprintf("%s, %s, %d lanes", rack.RackType, kit.Kit, len(lanes))
				frame, found := structure.Build(&rack, &kit, lanes)
				_, more := structure.Screen(frame, limits)
				_, last := buildlist.Make("R1", frame, buildlist.UnitOf("mm"))
				x := plant.NewIndex(&plant.Plant{RackTypes: []plant.RackType{rack}})
				for _, list := range []finding.List{found, more, last, structure.Check(x)} {
					for _, f := range list {
						assert.Equal(t, finding.Note, f.Severity, "%s: %s", name, f.Summary)
						assert.Equal(t, structure.CodeTips, f.Code, "%s: %s", name, f.Summary)
					}
				}
			}
		}
	}
}

// fullLanes fills the supply levels of a rack with lanes of one container up to
// their mass limit.
func fullLanes(rack plant.RackType, hand units.Length) (list []structure.Lane) {
	const mm = units.Millimetre
	for _, l := range rack.Levels {
		if l.Kind != plant.Supply {
			continue
		}
		box := structure.Box{Container: "B43", Flow: 396 * mm, Across: 297 * mm, Height: l.ClearHeight - hand}
		n, each := l.UsableWidth/(320*mm), int(l.LaneLength/box.Flow)
		box.Gross = l.MassLimit / units.Mass(int(n)*each)
		for i := range n {
			list = append(list, structure.Lane{Level: l.Level, Offset: i * l.UsableWidth / n, Width: 316 * mm, Box: box, Capacity: each, Containers: each})
		}
	}
	return list
}
