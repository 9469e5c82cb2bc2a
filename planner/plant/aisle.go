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
	Point PointCode
	Place Place
	Kind  PointKind
	// Places is how many vehicles may stand at the point at once; 0 is not known.
	// It counts at markets.
	Places int
	Origin finding.Origin
}

// Traffic says who may use an aisle.
type Traffic string

// Traffic of an aisle.
const (
	AllTraffic  Traffic = ""
	OnlyDriven  Traffic = "vehicles"
	OnlyWalkers Traffic = "people"
)

// Aisle joins two points.
type Aisle struct {
	From, To PointCode
	// Length is 0 where the straight line counts.
	Length units.Length
	OneWay bool
	// SpeedLimit is 0 where there is none.
	SpeedLimit units.Speed
	// Traffic says who may use it.
	Traffic Traffic
	// SingleFile is true where two vehicles can neither pass nor meet.
	SingleFile bool
	// NoTurning is true where a vehicle that comes out of the aisle at either end
	// may not go straight back into it. A row of the sheet Turns that allows it
	// there comes first.
	NoTurning bool
	Origin    finding.Origin
}

// Turn forbids or allows a vehicle that comes to a point along one aisle to go on
// along another. Who walks may turn as he likes.
type Turn struct {
	// From and To are the points next to At on the two aisles; empty means any.
	// From = To is turning round.
	From, At, To PointCode
	Allowed      bool
	Origin       finding.Origin
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
	From PointCode
	// OnFoot is true where the handler walks, with a cart or without: Speed is then
	// his pace, aisles for people are open to him and those for vehicles are not.
	OnFoot bool
	// Parking is the point where it stands outside its shifts; empty is the market.
	Parking PointCode
	Origin  finding.Origin
}
