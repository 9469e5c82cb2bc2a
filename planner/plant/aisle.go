package plant

import (
	"time"

	"lanewright/planner/finding"
	"lanewright/planner/units"
)

// PointKind says what an aisle point is for.
type PointKind string

// Kinds of aisle point.
const (
	Market   PointKind = "market"
	StopAt   PointKind = "stop"
	Crossing PointKind = "crossing"
	Parking  PointKind = "parking"
)

// AislePoint is a point of the aisle network.
type AislePoint struct {
	Point  PointCode
	Place  Place
	Kind   PointKind
	Origin finding.Origin
}

// Aisle joins two points.
type Aisle struct {
	From, To PointCode
	// Length is 0 where the straight line counts.
	Length units.Length
	OneWay bool
	// SpeedLimit is 0 where there is none.
	SpeedLimit units.Speed
	Origin     finding.Origin
}

// Vehicle is a vehicle type.
type Vehicle struct {
	Vehicle VehicleCode
	// Count is how many there are, 0 or more.
	Count int
	// Containers is the capacity, 1 or more.
	Containers int
	// MassLimit of the load; 0 is no limit.
	MassLimit units.Mass
	// Speed is above 0.
	Speed units.Speed
	// StopTime is spent at each stop; LoadTime per container at the market;
	// UnloadTime per container at the rack; EmptyTime per empty taken back.
	StopTime, LoadTime, UnloadTime, EmptyTime time.Duration
	// From is the market where its rounds start; empty is the only market.
	From   PointCode
	Origin finding.Origin
}
