package plant

import (
	"lanewright/planner/finding"
	"lanewright/planner/units"
)

// RackType is a design of gravity flow rack.
type RackType struct {
	RackType             RackTypeCode
	Width, Depth, Height units.Length
	OwnMass              units.Mass
	// MassLimit holds for the levels' loads and the rack's own mass together;
	// 0 is no limit.
	MassLimit units.Mass
	// Cost is 0 where the sheet gives none.
	Cost      units.Money
	OnCasters bool
	// Kit is the parts kit it is built from; empty where none is named.
	Kit KitCode
	// Levels are ordered from the lowest.
	Levels []Level
	Origin finding.Origin
}

// LevelKind says what flows on a level.
type LevelKind string

// Kinds of level.
const (
	Supply LevelKind = "supply"
	Return LevelKind = "return"
)

// Level is one sloped surface of a rack type.
type Level struct {
	// Level counts from 1, the lowest.
	Level int
	Kind  LevelKind
	// PickHeight is from the floor to the lane surface at the pick edge.
	PickHeight units.Length
	// Drop is load edge minus pick edge: positive on a supply level, negative
	// on a return level.
	Drop units.Length
	// LaneLength and UsableWidth are what containers may fill.
	LaneLength, UsableWidth, ClearHeight units.Length
	// MassLimit of the level's load; 0 is no limit.
	MassLimit units.Mass
	Origin    finding.Origin
}

// LoadHeight is the height of the lane surface at the load edge.
func (l Level) LoadHeight() units.Length { return l.PickHeight + l.Drop }

// Rack is a rack that stands in the plant.
type Rack struct {
	Rack     RackCode
	RackType RackTypeCode
	Cell     CellCode
	// Stations are those the rack serves; empty is all stations of its cell.
	Stations []StationCode
	// Place is nil where the sheet gives none: the mean of the stations it
	// serves is then taken.
	Place      *Place
	AislePoint PointCode
	// FixedLanes lists the levels whose guides can not be moved, by level.
	FixedLanes []FixedLanes
	Origin     finding.Origin
}

// FixedLanes are the lane widths of one level from the left, seen from the
// pick side, with the guide width between them.
type FixedLanes struct {
	Level  int
	Widths []units.Length
}

// CurrentLane is what stands in a lane today.
type CurrentLane struct {
	Rack  RackCode
	Level int
	// Lane counts from 1, from the left seen from the pick side.
	Lane    int
	Part    PartCode
	Station StationCode
	// Containers is 0 where the sheet gives none.
	Containers int
	Origin     finding.Origin
}

// Pin is a placement that the planner must keep.
type Pin struct {
	Part PartCode
	// Station is empty when every loop of the part in the rack's cell is
	// meant.
	Station StationCode
	Rack    RackCode
	// Level and Lane are 0 where they are free.
	Level, Lane int
	Reason      string
	Origin      finding.Origin
}
