package wire

import (
	"time"

	"lanewright/planner/ticks"
)

// DayRounds are rounds of one day.
type DayRounds struct {
	Plant  string     `json:"plant"`
	Plan   int64      `json:"plan" doc:"the plan that the floor works to"`
	Day    string     `json:"day" doc:"rounds of shifts that begin on it"`
	Zone   string     `json:"zone" doc:"the plant's time zone"`
	Shifts []string   `json:"shifts" doc:"that have rounds on the day, whatever was asked for"`
	Routes []string   `json:"routes" doc:"that have rounds on the day, whatever was asked for"`
	Items  []DayRound `json:"items" doc:"by departure, then route"`
	Total  int        `json:"total"`
	Next   string     `json:"next,omitempty" doc:"cursor of the next page"`
}

// DayRound is one of them with how far it is.
type DayRound struct {
	Round       string `json:"round" doc:"names the round for good"`
	Route       string `json:"route"`
	Shift       string `json:"shift"`
	Handler     string `json:"handler"`
	VehicleType string `json:"vehicle_type"`
	Market      string `json:"market" doc:"aisle point where the round starts and ends"`
	Loads       string `json:"loads" doc:"when loading begins; times carry the offset of the plant's zone"`
	Leaves      string `json:"leaves"`
	Back        string `json:"back" doc:"at the planned load"`
	State       string `json:"state" enum:"to_come,under_way,done"`
	Started     string `json:"started" doc:"by the device; empty while nothing says so"`
	Ended       string `json:"ended" doc:"by the device; empty while nothing says so"`
	Stops       int    `json:"stops"`
	StopsTicked int    `json:"stops_ticked" doc:"stops of which every lane was brought to, short or skipped"`
	Short       int    `json:"short" doc:"containers that lanes asked for and did not get"`
	Skipped     int    `json:"skipped" doc:"lanes that were skipped"`
}

// NewDayRound converts a round.
func NewDayRound(r ticks.Round) DayRound {
	w := DayRound{
		Round: r.ID.String(), Route: r.Route.Route, Shift: string(r.Shift), Handler: r.Route.Handler,
		VehicleType: string(r.Route.Vehicle), Market: string(r.Route.Market),
		Loads: clockTime(r.Loads), Leaves: clockTime(r.Leaves), Back: clockTime(r.Back),
		State: string(r.State), Started: clockTime(r.Started.In(r.Leaves.Location())), Ended: clockTime(r.Ended.In(r.Leaves.Location())),
		Stops: len(r.Stops()), StopsTicked: r.StopsTicked(),
	}
	for _, m := range r.Misses() {
		w.Short += m.Short
		if m.Skipped != nil {
			w.Skipped++
		}
	}
	return w
}

// clockTime writes a moment by the clock of its zone; that of nothing is empty.
func clockTime(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format(time.RFC3339)
}
