package wire

import (
	"slices"
	"time"

	"lanewright/planner/routing"
)

// Route is a fixed refill tour.
type Route struct {
	Route       string   `json:"route"`
	VehicleType string   `json:"vehicle_type"`
	Handler     string   `json:"handler" doc:"routes of one handler leave one after another"`
	Market      string   `json:"market" doc:"aisle point where rounds start and end"`
	IntervalMin float64  `json:"interval_min"`
	RoundMin    float64  `json:"round_min" doc:"one round at the planned load, loading at the market included"`
	TravelM     float64  `json:"travel_m" doc:"metres of one round"`
	Busy        float64  `json:"busy" doc:"round_min / interval_min"`
	LoadMean    float64  `json:"load_mean" doc:"containers per round, mean"`
	LoadPlanned float64  `json:"load_planned" doc:"containers per round at the plant's service level"`
	MassPlanned float64  `json:"mass_planned" doc:"kg per round at the plant's service level"`
	Departures  []string `json:"departures" doc:"clock times of a day on which every shift works"`
	Stops       []Stop   `json:"stops"`
	// Timetable keeps the seconds and says which shift a departure is in.
	Timetable []ShiftTimes `json:"timetable"`
}

// Stop is one rack on a route.
type Stop struct {
	Order      int       `json:"order" doc:"from 1"`
	Rack       string    `json:"rack"`
	AislePoint string    `json:"aisle_point"`
	ArriveMin  float64   `json:"arrive_min" doc:"from departure: driving and earlier stops"`
	Containers float64   `json:"containers" doc:"mean per round"`
	Empties    float64   `json:"empties" doc:"mean per round"`
	Loops      []LoopKey `json:"loops"`
}

// ShiftTimes are the departures within one shift.
type ShiftTimes struct {
	Shift      string   `json:"shift"`
	Departures []string `json:"departures" doc:"hours, minutes and seconds"`
}

// Unserved is a rack that no round can serve.
type Unserved struct {
	Rack   string    `json:"rack"`
	Loops  []LoopKey `json:"loops"`
	Reason string    `json:"reason" doc:"a code that stands in findings"`
	Detail string    `json:"detail"`
}

func newRoute(r routing.Route) Route {
	w := Route{
		Route: r.Route, VehicleType: string(r.Vehicle), Handler: r.Handler, Market: string(r.Market),
		IntervalMin: minutes(r.Interval), RoundMin: minutes(r.Round),
		TravelM: r.Travel.Metres(), Busy: r.Busy(),
		LoadMean: r.LoadMean, LoadPlanned: r.LoadPlanned, MassPlanned: r.MassPlanned.KG(),
		Departures: departures(r.Timetable), Stops: convert(r.Stops, newStop),
		Timetable: convert(r.Timetable, newShiftTimes),
	}
	for i := range w.Stops {
		w.Stops[i].Order = i + 1
	}
	return w
}

func newStop(s routing.Stop) Stop {
	return Stop{
		Rack: string(s.Rack), AislePoint: string(s.Point), ArriveMin: minutes(s.Arrive),
		Containers: s.Containers, Empties: s.Empties, Loops: convert(s.Loops, newLoopKey),
	}
}

func newShiftTimes(t routing.ShiftTimes) ShiftTimes {
	return ShiftTimes{Shift: string(t.Shift), Departures: convert(t.Departures, clockSeconds)}
}

// departures lists the clock times of all shifts in order, each once: two
// shifts that overlap, or that work on different days, may share a time.
func departures(table []routing.ShiftTimes) []string {
	var times []time.Duration
	for _, t := range table {
		times = append(times, t.Departures...)
	}
	out := make([]string, 0, len(times))
	for _, t := range times {
		if c := clock(t); !slices.Contains(out, c) {
			out = append(out, c)
		}
	}
	return out
}

func newUnserved(u routing.Unserved) Unserved {
	return Unserved{Rack: string(u.Rack), Loops: convert(u.Loops, newLoopKey), Reason: u.Reason, Detail: u.Detail}
}
