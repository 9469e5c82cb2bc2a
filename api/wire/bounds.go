package wire

import (
	"lanewright/planner/placement"
	"lanewright/planner/routing"
)

// Bounds says how far the plan is from what no plan can beat.
type Bounds struct {
	Cells  []CellBound `json:"cells"`
	Routes RouteBound  `json:"routes"`
}

// CellBound is what was proved about one cell.
type CellBound struct {
	Cell           string  `json:"cell"`
	Unplaced       int     `json:"unplaced" doc:"containers without a lane"`
	UnplacedBound  int     `json:"unplaced_bound"`
	AddedCost      float64 `json:"added_cost" doc:"cost of the racks added; their frontage in mm where the plant gives no costs"`
	AddedCostBound float64 `json:"added_cost_bound"`
	Effort         float64 `json:"effort" doc:"kg per net hour"`
	EffortBound    float64 `json:"effort_bound"`
	Optimal        bool    `json:"optimal" doc:"all three gaps are zero"`
	StoppedBy      string  `json:"stopped_by" doc:"proved, limit, exhausted, cancelled or, where somebody changed the cell after the search, by-hand"`
}

// RouteBound compares the routes with what no set of routes can beat.
type RouteBound struct {
	Routes        int     `json:"routes"`
	RoutesBound   int     `json:"routes_bound"`
	TravelM       float64 `json:"travel_m" doc:"sum over routes of metres per round"`
	TravelBoundM  float64 `json:"travel_bound_m"`
	Handlers      int     `json:"handlers"`
	HandlersBound int     `json:"handlers_bound"`
}

// Balance counts the lanes of one width class in a cell.
type Balance struct {
	Cell    string  `json:"cell"`
	WidthMM float64 `json:"width_mm" doc:"lane width of the class"`
	Needed  int     `json:"needed" doc:"lanes its loops need, placed or not"`
	Placed  int     `json:"placed" doc:"lanes they got"`
	Room    int     `json:"room" doc:"further lanes of the class that would fit"`
}

func newCellBound(b placement.Bound) CellBound {
	return CellBound{
		Cell: string(b.Cell), Unplaced: b.Unplaced, UnplacedBound: b.UnplacedBound,
		AddedCost: b.AddedCost, AddedCostBound: b.AddedCostBound,
		Effort: b.Effort, EffortBound: b.EffortBound,
		Optimal: b.Optimal, StoppedBy: string(b.Stopped),
	}
}

func newRouteBound(b routing.Bounds) RouteBound {
	return RouteBound{
		Routes: b.Routes, RoutesBound: b.RoutesBound,
		TravelM: b.Travel.Metres(), TravelBoundM: b.TravelBound.Metres(),
		Handlers: b.Handlers, HandlersBound: b.HandlersBound,
	}
}

func newBalance(b placement.Balance) Balance {
	return Balance{Cell: string(b.Cell), WidthMM: b.Width.MM(), Needed: b.Needed, Placed: b.Placed, Room: b.Room}
}
