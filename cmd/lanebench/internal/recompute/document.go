package recompute

type document struct {
	Format   string
	Loops    []planLoop
	Racks    []planRack
	Lanes    []planLane
	Unplaced []planUnplaced
	Routes   []planRoute
	Unserved []planUnserved
	Moves    []planMove
	Findings []planFinding
	Bounds   struct {
		Cells  []planBound
		Routes struct {
			Routes       int
			RoutesBound  int     `json:"routes_bound"`
			TravelM      float64 `json:"travel_m"`
			TravelBoundM float64 `json:"travel_bound_m"`
		}
	}
	Summary struct {
		Loops         int
		LoopsPlaced   int `json:"loops_placed"`
		LanesUsed     int `json:"lanes_used"`
		LanesFree     int `json:"lanes_free"`
		Racks         int
		RacksProposed int `json:"racks_proposed"`
		Containers    int
		Routes        int
		Handlers      int
	}
}

type planLoop struct {
	Part, Cell, Station, Container string
	Pack                           int64
	PiecesPerHour                  float64 `json:"pieces_per_hour"`
	IntervalMin                    float64 `json:"interval_min"`
	ResponseMin                    float64 `json:"response_min"`
	ServiceLevel                   float64 `json:"service_level"`
	DemandModel                    string  `json:"demand_model"`
	MeanPieces                     float64 `json:"mean_pieces"`
	CoveredPieces                  float64 `json:"covered_pieces"`
	Containers                     int
	LaneCapacity                   int `json:"lane_capacity"`
	Lanes                          int
	FlowSide                       string `json:"flow_side"`
	Route                          string
}

func (l planLoop) key() key { return key{l.Part, l.Cell, l.Station} }

type planRack struct {
	Rack       string
	RackType   string `json:"rack_type"`
	Cell       string
	Stations   []string
	Proposed   bool
	X, Y       *float64
	AislePoint string `json:"aisle_point"`
}

type planLane struct {
	Rack                 string
	Level, Lane          int
	Kind                 string
	OffsetMM             float64 `json:"offset_mm"`
	WidthMM              float64 `json:"width_mm"`
	Part, Cell, Station  string
	FlowSide             string `json:"flow_side"`
	Capacity, Containers int
}

func (l planLane) key() key { return key{l.Part, l.Cell, l.Station} }

type planUnplaced struct {
	Part, Cell, Station string
	Containers          int
	Reason              string
}

type planRoute struct {
	Route       string
	VehicleType string `json:"vehicle_type"`
	Handler     string
	IntervalMin float64 `json:"interval_min"`
	RoundMin    float64 `json:"round_min"`
	TravelM     float64 `json:"travel_m"`
	Busy        float64
	LoadMean    float64 `json:"load_mean"`
	LoadPlanned float64 `json:"load_planned"`
	MassPlanned float64 `json:"mass_planned"`
	Departures  []string
	Stops       []planStop
}

type planStop struct {
	Order      int
	Rack       string
	AislePoint string  `json:"aisle_point"`
	ArriveMin  float64 `json:"arrive_min"`
	Containers float64
	Empties    float64
	Loops      []struct{ Part, Cell, Station string }
}

type planUnserved struct {
	Rack   string
	Loops  []struct{ Part, Cell, Station string }
	Reason string
}

type planFinding struct {
	Code, Remedy string
	Value, Limit float64
	Subject      struct{ Rack string }
}

type planMove struct {
	Part, Cell, Station string
	From, To            *struct {
		Rack  string
		Level int
	}
	Containers int
}

type planBound struct {
	Cell           string
	Unplaced       int
	UnplacedBound  int     `json:"unplaced_bound"`
	AddedCost      float64 `json:"added_cost"`
	AddedCostBound float64 `json:"added_cost_bound"`
	Effort         float64
	EffortBound    float64 `json:"effort_bound"`
	Optimal        bool
}
