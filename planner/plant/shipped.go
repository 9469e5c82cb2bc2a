package plant

import "lanewright/planner/units"

// ShippedRackTypes are five generic gravity flow racks, for plants whose
// sheets name no rack types. Their measures are our own and common practice,
// no source: lanes drop about 1 in 24 (between the 3 % under which a container
// may not start and the 8.8 % over which it may run away), supply levels lie
// between knee and shoulder, one return level brings the empties back. Costs
// are 0: the program knows no prices.
func ShippedRackTypes() []RackType {
	standard := shippedLevels{first: 600, pitch: 400, supply: 3, clear: 345, back: 200, backClear: 345}
	small := shippedLevels{first: 520, pitch: 270, supply: 4, clear: 215, back: 250, backClear: 215}
	// The long return level ends lower: all stand higher, so that its last tube is
	// clear of the ends of the uprights.
	deep := shippedLevels{first: 620, pitch: 400, supply: 3, clear: 345, back: 220, backClear: 345}
	large := shippedLevels{first: 770, pitch: 560, supply: 2, clear: 500, back: 200, backClear: 500}
	return []RackType{
		shipped("generic 1250 x 1500, 2 supply levels", 1250, 1500, 1950, large),
		shipped("generic 1250 x 1500, 3 supply levels", 1250, 1500, 1800, standard),
		shipped("generic 1250 x 1500, 4 supply levels", 1250, 1500, 1700, small),
		shipped("generic 1250 x 2500, 3 supply levels", 1250, 2500, 1870, deep),
		shipped("generic 1850 x 1500, 3 supply levels", 1850, 1500, 1800, standard),
	}
}

// shippedLevels describes the levels of a shipped rack type in millimetres: supply
// levels rise from first by pitch; back is the pick height of its one return
// level, the lowest.
type shippedLevels struct {
	first, pitch    units.Length
	supply          int
	clear           units.Length
	back, backClear units.Length
}

// shipped builds a rack type from measures in millimetres. The lanes are 50 mm
// shorter than the rack is deep and its posts take 80 mm of its width.
func shipped(code RackTypeCode, width, depth, height units.Length, l shippedLevels) RackType {
	const mm = units.Millimetre
	lane := depth - 50
	drop := lane / 24
	supply := make([]Level, l.supply)
	for i := range supply {
		supply[i] = Level{Kind: Supply, PickHeight: (l.first + units.Length(i)*l.pitch) * mm, Drop: drop * mm, ClearHeight: l.clear * mm}
	}
	back := Level{Kind: Return, PickHeight: l.back * mm, Drop: -drop * mm, ClearHeight: l.backClear * mm}
	levels := append([]Level{back}, supply...)
	for i := range levels {
		levels[i].Level = i + 1
		levels[i].LaneLength = lane * mm
		levels[i].UsableWidth = (width - 80) * mm
		levels[i].MassLimit = 200 * units.Kilogram
	}
	return RackType{
		RackType: code, Width: width * mm, Depth: depth * mm, Height: height * mm,
		OwnMass: 60 * units.Kilogram, MassLimit: 700 * units.Kilogram, Levels: levels,
	}
}
