// Package routing decides who refills which racks on which round: routes over
// the directed aisle network, their loads, times, timetable and handlers.
package routing

import (
	"time"

	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/search"
	"lanewright/planner/units"
)

// Demand is what one loop asks of the rounds that serve one rack.
type Demand struct {
	Loop demand.Key
	Rack plant.RackCode
	// Share of the loop's containers that lie on this rack, 0 < s <= 1.
	Share units.Ratio
	// Rate is containers per net minute at the whole loop; Variance the
	// variation part of the rule in containers² per net minute (sigma²/q²).
	Rate, Variance float64
	// Interval is the loop's own refill interval.
	Interval   time.Duration
	Gross      units.Mass
	Returnable bool
}

// Route is a fixed tour.
type Route struct {
	// Route is the route's name, "A", "B"... in the order of the list.
	Route   string
	Vehicle plant.VehicleCode
	// Handler is the handler's name in the plan, "H1"..., a post which each
	// shift fills with a person of its own. Rounds of one handler never overlap
	// within a shift, and all of them fit one after the other into the shortest of
	// their intervals; his routes have one vehicle type and market, and may differ
	// in interval and shifts.
	Handler  string
	Market   plant.PointCode
	Interval time.Duration
	// Round is the round's time at the planned load, loading at the market
	// included; Travel the metres of one round.
	Round  time.Duration
	Travel units.Length
	// LoadMean and LoadPlanned are containers per round: the mean, and mean +
	// z·sd at the plant's service level. MassPlanned is the same for mass.
	LoadMean, LoadPlanned float64
	MassPlanned           units.Mass
	Stops                 []Stop
	Timetable             []ShiftTimes
}

// Busy is the share of the interval that a round fills.
func (r Route) Busy() float64 { return float64(r.Round) / float64(r.Interval) }

// Stop is one rack on a route.
type Stop struct {
	Rack  plant.RackCode
	Point plant.PointCode
	// Loops are those of the rack that this route refills.
	Loops []demand.Key
	// Arrive is from departure to arrival: driving and earlier stops at their
	// mean load.
	Arrive time.Duration
	// Containers and Empties are the means per round.
	Containers, Empties float64
}

// ShiftTimes are the departures of a route in one shift.
type ShiftTimes struct {
	Shift plant.ShiftCode
	// Departures are wall-clock times of day since midnight of the shift's
	// day; past 24 h they are on the next day.
	Departures []time.Duration
}

// Bounds says what no set of routes can beat.
type Bounds struct {
	Routes, RoutesBound int
	// Travel is the sum over routes of the length of one round.
	Travel, TravelBound units.Length
	// Handlers is how many the plan needs; no plan needs fewer than
	// HandlersBound.
	Handlers, HandlersBound int
}

// Unserved is a rack (or loops of one) that no round can serve.
type Unserved struct {
	Rack   plant.RackCode
	Loops  []demand.Key
	Reason string
	Detail string
}

// Plan is the refill plan of a whole plant.
type Plan struct {
	// Routes are ordered by name.
	Routes   []Route
	Unserved []Unserved
	Bounds   Bounds
	Findings finding.List
	// Stopped says why the search ended.
	Stopped search.Stop
}
