package wire

import (
	"lanewright/planner"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/structure"
)

// ComparisonFormat names the shape of Comparison, as Format does that of Plan.
const ComparisonFormat = "lanewright.comparison/1"

// Comparison is what differs between two plans.
type Comparison struct {
	Format string            `json:"format" enum:"lanewright.comparison/1"`
	Before ComparedPlan      `json:"before"`
	After  ComparedPlan      `json:"after"`
	Totals []Total           `json:"totals" doc:"what both come to"`
	Floor  FloorChange       `json:"floor" doc:"what changes on the floor if the second takes the place of the first"`
	Loops  []LoopDifference  `json:"loops" doc:"that differ, by cell, station and part"`
	Cells  []CellDifference  `json:"cells" doc:"that differ"`
	Racks  []RackDifference  `json:"racks" doc:"that are new or gone, of another type, or on which a lane in use differs"`
	Routes []RouteDifference `json:"routes" doc:"that differ; paired by the racks that both stop at"`

	Findings []FindingDifference `json:"findings" doc:"that only one of them has, or both in other words, those of the second first"`
	Stay     FindingCounts       `json:"findings_stay" doc:"that both have"`
}

// FindingDifference is a finding that only one of two plans has, or both in other words.
type FindingDifference struct {
	Finding
	Cell string `json:"cell" doc:"that it is about; empty where it is about none"`
	Gone bool   `json:"gone" doc:"only the first plan has it; else the second"`
	Was  string `json:"was" doc:"summary of what the first plan finds of the same thing; empty where only one of them finds anything"`
}

// FindingCounts counts findings.
type FindingCounts struct {
	Errors   int `json:"errors"`
	Warnings int `json:"warnings"`
	Notes    int `json:"notes"`
}

// ComparedPlan says which plan is meant.
type ComparedPlan struct {
	ID       int64  `json:"id" doc:"0 of a plan that is not stored"`
	Plant    string `json:"plant"`
	Revision string `json:"revision" doc:"SHA-256 of the facts"`
	Seed     uint64 `json:"seed"`
	Version  string `json:"version"`
}

// Total is one number of both plans.
type Total struct {
	Name   string  `json:"name"`
	Unit   string  `json:"unit"`
	Before float64 `json:"before"`
	After  float64 `json:"after"`
	Known  bool    `json:"known" doc:"false where it is not known of both, as a cost without all prices"`
}

// LoopDifference is a loop that differs.
type LoopDifference struct {
	Part    string    `json:"part"`
	Cell    string    `json:"cell"`
	Station string    `json:"station"`
	Before  *LoopSide `json:"before" doc:"null where it is new"`
	After   *LoopSide `json:"after" doc:"null where it is gone"`
	Moved   bool      `json:"moved" doc:"its lanes differ"`
	Carried int       `json:"carried" doc:"containers that come to another rack or level"`
}

// LoopSide is a loop in one of the plans.
type LoopSide struct {
	Container   string  `json:"container"`
	Pack        int64   `json:"pack"`
	IntervalMin float64 `json:"interval_min"`
	Containers  int     `json:"containers"`
	Lanes       []Lane  `json:"lanes"`
}

// CellDifference counts a cell in both plans.
type CellDifference struct {
	Cell   string    `json:"cell"`
	Before CellCount `json:"before"`
	After  CellCount `json:"after"`
}

// CellCount counts a cell of a plan.
type CellCount struct {
	Loops      int     `json:"loops"`
	Containers int     `json:"containers"`
	Unplaced   int     `json:"containers_unplaced"`
	LanesUsed  int     `json:"lanes_used"`
	LanesFree  int     `json:"lanes_free"`
	Racks      int     `json:"racks"`
	Proposed   int     `json:"racks_proposed"`
	Effort     float64 `json:"effort" doc:"kg per net hour"`
	AddedCost  float64 `json:"added_cost" doc:"of the racks added; their frontage in mm where the plant gives no costs"`
}

// RackDifference is a rack that differs.
type RackDifference struct {
	Rack       string `json:"rack"`
	Cell       string `json:"cell"`
	TypeBefore string `json:"type_before" doc:"empty where the rack is new"`
	TypeAfter  string `json:"type_after" doc:"empty where the rack is gone"`
	UsedBefore int    `json:"lanes_used_before"`
	UsedAfter  int    `json:"lanes_used_after"`
	Changed    int    `json:"lanes_changed" doc:"lanes in use that differ"`
}

// RouteDifference is a route that differs.
type RouteDifference struct {
	Before *RouteSide `json:"before" doc:"null where it is new"`
	After  *RouteSide `json:"after" doc:"null where it is gone"`
	Came   []string   `json:"racks_came" doc:"racks that it stops at now and did not"`
	Gone   []string   `json:"racks_gone" doc:"racks that it stopped at and does not now"`
}

// RouteSide is a route in one of the plans.
type RouteSide struct {
	Route       string  `json:"route"`
	Handler     string  `json:"handler"`
	VehicleType string  `json:"vehicle_type"`
	IntervalMin float64 `json:"interval_min"`
	RoundMin    float64 `json:"round_min" doc:"at the planned load"`
	TravelM     float64 `json:"travel_m" doc:"metres of one round"`
	LoadMean    float64 `json:"load_mean" doc:"containers per round"`
	LoadPlanned float64 `json:"load_planned"`
	Stops       int     `json:"stops"`
}

// NewComparison converts what differs between two plans; ids are 0 of plans that are
// not stored.
func NewComparison(before, after *planner.Plan, ids [2]int64, c planner.Comparison) Comparison {
	return Comparison{
		Format: ComparisonFormat, Before: newComparedPlan(before, ids[0]), After: newComparedPlan(after, ids[1]),
		Totals: convert(c.Totals, func(t planner.Total) Total { return Total(t) }), Floor: NewFloorChange(c.Floor),
		Loops: convert(c.Loops, newLoopDifference), Cells: convert(c.Cells, func(d planner.CellDifference) CellDifference {
			return CellDifference{string(d.Cell), CellCount(d.Before), CellCount(d.After)}
		}),
		Racks: convert(c.Racks, newRackDifference), Routes: convert(c.Routes, newRouteDifference),
		Findings: findingDifferences(before, after, c),
		Stay:     FindingCounts{c.Stay.Count(finding.Error), c.Stay.Count(finding.Warning), c.Stay.Count(finding.Note)},
	}
}

func findingDifferences(before, after *planner.Plan, c planner.Comparison) []FindingDifference {
	was, is := RackCells(before), RackCells(after)
	list := convert(c.Came, func(f finding.Finding) FindingDifference {
		return FindingDifference{Finding: newFinding(f), Cell: FindingCell(f, is)}
	})
	for _, x := range c.Changed {
		list = append(list, FindingDifference{Finding: newFinding(x.After), Cell: FindingCell(x.After, is), Was: x.Before.Summary})
	}
	for _, f := range c.Gone {
		list = append(list, FindingDifference{Finding: newFinding(f), Cell: FindingCell(f, was), Gone: true})
	}
	return list
}

func newComparedPlan(p *planner.Plan, id int64) ComparedPlan {
	return ComparedPlan{ID: id, Plant: p.Plant, Revision: p.Revision, Seed: p.Settings.Plant.Seed, Version: p.Version}
}

func newLoopDifference(d planner.LoopDifference) LoopDifference {
	out := LoopDifference{Part: string(d.Loop.Part), Cell: string(d.Loop.Cell), Station: string(d.Loop.Station), Moved: d.Moved(), Carried: d.Carried}
	side := func(l *planner.Loop, n int) *LoopSide {
		if l == nil {
			return nil
		}
		return &LoopSide{
			Container: string(l.Container), Pack: l.Pack, IntervalMin: minutes(l.Interval), Containers: l.Containers, Lanes: convert(d.Lanes[n], newLane),
		}
	}
	out.Before, out.After = side(d.Before, 0), side(d.After, 1)
	return out
}

func newRackDifference(d planner.RackDifference) RackDifference {
	kind := func(r *structure.Rack) string {
		if r == nil || r.Type == nil {
			return ""
		}
		return string(r.Type.RackType)
	}
	return RackDifference{
		Rack: string(d.Rack), Cell: string(d.Cell), TypeBefore: kind(d.Before), TypeAfter: kind(d.After),
		UsedBefore: d.Used[0], UsedAfter: d.Used[1], Changed: d.Changed,
	}
}

func newRouteDifference(d planner.RouteDifference) RouteDifference {
	side := func(r *routing.Route) *RouteSide {
		if r == nil {
			return nil
		}
		return &RouteSide{
			Route: r.Route, Handler: r.Handler, VehicleType: string(r.Vehicle), IntervalMin: minutes(r.Interval), RoundMin: minutes(r.Round),
			TravelM: r.Travel.Metres(), LoadMean: r.LoadMean, LoadPlanned: r.LoadPlanned, Stops: len(r.Stops),
		}
	}
	return RouteDifference{Before: side(d.Before), After: side(d.After), Came: texts[plant.RackCode](d.Came), Gone: texts[plant.RackCode](d.Gone)}
}
