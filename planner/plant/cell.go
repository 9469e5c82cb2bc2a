package plant

import (
	"lanewright/planner/finding"
	"lanewright/planner/units"
)

// Place is a spot on the plant map.
type Place struct{ X, Y units.Length }

// Cell is a group of stations under one name.
type Cell struct {
	Cell       CellCode
	Name, Area string
	// Shifts are the shifts the cell works; empty is all.
	Shifts []ShiftCode
	// Frontage is the largest total width of racks along the cell; 0 is no
	// limit.
	Frontage units.Length
	// RackTypes are those a rack added to the cell may have; empty is all.
	RackTypes []RackTypeCode
	// NewRack is where an added rack would stand; nil is the mean of the
	// cell's stations.
	NewRack *Place
	// NewRackPoint is where it would be served; empty is the aisle point
	// nearest to its place in a straight line.
	NewRackPoint PointCode
	Origin       finding.Origin
}

// Station is the place where a person builds. Its code is unique within its
// cell.
type Station struct {
	Station StationCode
	Cell    CellCode
	// Place is nil where the sheet gives no coordinates: then no walking is
	// counted and no walk limit can be checked.
	Place *Place
	// WalkLimit is the straight-line distance of the farthest rack an operator
	// may be sent to.
	WalkLimit units.Length
	Origin    finding.Origin
}

// DefaultWalkLimit is 5 m (workbook.md; common practice, no source).
const DefaultWalkLimit = 5 * units.Metre
