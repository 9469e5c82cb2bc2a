// Package structure is the geometry of racks: levels with their slope,
// heights, clearances and load limits, as placement needs them, and what is
// wrong with them.
package structure

import (
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Rack is a rack that stands in the plant or that the planner proposes, with
// its type's geometry resolved.
type Rack struct {
	Rack     plant.RackCode
	Type     *plant.RackType
	Cell     plant.CellCode
	Proposed bool
	// Stations are the stations it serves, by code; never empty for a rack of
	// a cell that has stations.
	Stations []plant.StationCode
	// Place is where it stands. Known is false where neither the rack nor a
	// station it serves has coordinates: then nobody's walk is counted.
	Place plant.Place
	Known bool
	Point plant.PointCode
	// Levels are ordered from the lowest.
	Levels []Level
}

// Level is one level of a rack with the guides it has.
type Level struct {
	plant.Level
	// Fixed are the widths of lanes whose guides can not be moved, from the
	// left; empty where guides are free.
	Fixed []units.Length
}
