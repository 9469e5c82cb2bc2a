package importers

import (
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// levelRow is a level and the rack type it belongs to.
type levelRow struct {
	rackType plant.RackTypeCode
	level    plant.Level
}

func (r *row) level() levelRow {
	return levelRow{plant.RackTypeCode(r.must("Rack type").code()), plant.Level{
		Level:       int(r.must("Level").whole(1, 100)),
		Kind:        choice(r.must("Kind"), plant.LevelKind(""), []string{"supply", "full", "feed"}, []string{"return", "returns", "empty", "empties", "empty return"}),
		PickHeight:  r.must("Pick height").length(0, largestMeasure, "a height from 0 to 100 m"),
		Drop:        r.must("Drop").length(-10*units.Metre, 10*units.Metre, "a difference in height of at most 10 m"),
		LaneLength:  r.must("Lane length").measure(),
		UsableWidth: r.must("Usable width").measure(),
		ClearHeight: r.must("Clear height").measure(),
		MassLimit:   r.may("Mass limit").limit(),
		Origin:      r.origin(),
	}}
}
