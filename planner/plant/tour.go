package plant

import (
	"time"

	"lanewright/planner/finding"
)

// TourCode names a route as the plant drives it today.
type TourCode string

// CurrentStop is one rack on one of today's routes.
type CurrentStop struct {
	Route TourCode
	// Order puts the stops of a route one after another, from 1.
	Order int
	Rack  RackCode
	// Vehicle and Interval of the route: empty and 0 where its row gives none. One
	// row that gives them is enough for the whole route.
	Vehicle  VehicleCode
	Interval time.Duration
	Origin   finding.Origin
}

// RuleKind says what a rule about routes asks for.
type RuleKind string

// Rules about routes.
const (
	// RulePin: Rack is served by the route of today that Route names.
	RulePin RuleKind = "pin"
	// RuleApart: Rack and Other are never on one route.
	RuleApart RuleKind = "apart"
	// RuleBefore: where Rack and Other are on one route, Rack comes first.
	RuleBefore RuleKind = "before"
	// RuleClosed: nobody uses the aisles between From and To, in either direction.
	RuleClosed RuleKind = "closed"
)

// RouteRule is something that the routes of a plan must keep.
type RouteRule struct {
	Kind        RuleKind
	Rack, Other RackCode
	Route       TourCode
	From, To    PointCode
	// Reason is for people.
	Reason string
	Origin finding.Origin
}
