package routing

import (
	"lanewright/planner/floor"
	"lanewright/planner/plant"
	"lanewright/planner/structure"
)

// Input is what the routes are made from.
type Input struct {
	// Plant are the settings of the run, which may differ from the sheet's.
	Plant   plant.Settings
	Index   *plant.Index
	Network *floor.Network
	// Tables remembers ways between two makings of routes; nil remembers nothing.
	Tables *floor.Tables
	// Racks are those that stand and those proposed, each with its point.
	Racks []structure.Rack
	// Demands are what the loops ask of the rounds, at most one for each loop
	// and rack.
	Demands []Demand
}
