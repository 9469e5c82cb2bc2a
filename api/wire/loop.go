package wire

import (
	"lanewright/planner"
	"lanewright/planner/demand"
)

// Loop is the replenishment loop of one part at one station.
type Loop struct {
	Part          string  `json:"part"`
	Cell          string  `json:"cell"`
	Station       string  `json:"station"`
	Container     string  `json:"container"`
	Pack          int64   `json:"pack" doc:"pieces per full container"`
	PiecesPerHour float64 `json:"pieces_per_hour" doc:"pieces per net hour"`
	IntervalMin   float64 `json:"interval_min" doc:"refill interval R, net minutes"`
	ResponseMin   float64 `json:"response_min" doc:"response time L, net minutes"`
	WaitMin       float64 `json:"wait_min" doc:"longest wait for a round that the loop was sized for, net minutes: the interval, or more where the plan covers the ends of shifts"`
	ServiceLevel  float64 `json:"service_level" doc:"percent; where the plant allows so many shortages a year, what that leaves for one cycle"`
	Measure       string  `json:"service_measure" enum:"cycle,fill" doc:"what the service level promises: a refill cycle with no shortage, or the share of pieces that are there when wanted"`
	DemandModel   string  `json:"demand_model" enum:"steady,normal,poisson,negative-binomial,empirical,fixed"`
	MeanPieces    float64 `json:"mean_pieces" doc:"mean use over R + L"`
	CoveredPieces float64 `json:"covered_pieces" doc:"pieces covered over R + L; of a fixed loop, as if it were not fixed"`
	Containers    int     `json:"containers"`
	LaneCapacity  int     `json:"lane_capacity" doc:"containers in its first lane; 0 without a lane"`
	Lanes         int     `json:"lanes" doc:"all its lanes"`
	FlowSide      string  `json:"flow_side" doc:"length or width; empty without a lane"`
	Route         string  `json:"route" doc:"route that refills it; empty where none does"`

	Safety         float64 `json:"safety" doc:"safety share of a steady loop, percent"`
	Cards          int     `json:"cards" doc:"the textbook number of kanban, before the container in use"`
	RuleContainers int     `json:"rule_containers" doc:"containers by the rule; differs only where the sheet fixes them"`
	GrossKG        float64 `json:"gross_kg" doc:"one full container"`
	Origin         Origin  `json:"origin" doc:"first row of its use"`
}

// LoopKey names a loop.
type LoopKey struct {
	Part    string `json:"part"`
	Cell    string `json:"cell"`
	Station string `json:"station"`
}

func newLoop(l planner.Loop) Loop {
	return Loop{
		Part: string(l.Part), Cell: string(l.Cell), Station: string(l.Station),
		Container: string(l.Container), Pack: l.Pack,
		PiecesPerHour: perHour(l.Rate),
		IntervalMin:   minutes(l.Interval), ResponseMin: minutes(l.Response), WaitMin: minutes(max(l.Interval, l.Wait)),
		ServiceLevel: percent(l.ServiceLevel), Measure: string(l.Measure), DemandModel: string(l.Sized),
		MeanPieces: l.Mean.Float64(), CoveredPieces: l.Covered.Float64(),
		Containers: l.Containers, LaneCapacity: l.Capacity, Lanes: l.Lanes,
		FlowSide: string(l.Side), Route: l.Route,
		Safety: percent(l.Safety), Cards: l.Cards, RuleContainers: l.Rule,
		GrossKG: l.Gross.KG(), Origin: newOrigin(l.Origin),
	}
}

func newLoopKey(k demand.Key) LoopKey {
	return LoopKey{Part: string(k.Part), Cell: string(k.Cell), Station: string(k.Station)}
}
