package wire

import (
	"lanewright/planner"
	"lanewright/planner/ticks"
)

// RoundSheet is one round: what to take, and what to do at each stop.
type RoundSheet struct {
	Plant string `json:"plant"`
	Plan  int64  `json:"plan"`
	Day   string `json:"day"`
	Zone  string `json:"zone"`
	DayRound
	LoadMean    float64     `json:"load_mean" doc:"containers per round, mean"`
	LoadPlanned float64     `json:"load_planned" doc:"containers per round at the plant's service level"`
	Rule        string      `json:"expected_rule" doc:"what expected means, in words for a person"`
	Takes       []RoundTake `json:"takes" doc:"in picking order: by market address, then part"`
	Visits      []RoundStop `json:"visits" doc:"the stops, in their order"`
	Reasons     []string    `json:"reasons" doc:"for skipping"`
}

// RoundTake is a part to take from the market.
type RoundTake struct {
	Part        string  `json:"part"`
	Description string  `json:"description"`
	Container   string  `json:"container"`
	Pack        int64   `json:"pack" doc:"pieces per container"`
	Address     string  `json:"address" doc:"in the market; empty where the sheet gives none"`
	Containers  float64 `json:"containers" doc:"mean per round"`
	Expected    int     `json:"expected" doc:"whole containers; expected_rule says how"`
	Pieces      int64   `json:"pieces" doc:"in the expected containers"`
	Took        *int    `json:"took" doc:"containers; null while nobody said"`
}

// RoundStop is one rack on the round.
type RoundStop struct {
	Order      int         `json:"order" doc:"from 1"`
	Rack       string      `json:"rack"`
	AislePoint string      `json:"aisle_point"`
	Arrives    string      `json:"arrives" doc:"as planned"`
	Lanes      []RoundLane `json:"lanes" doc:"to fill, by level and lane"`
	Empties    float64     `json:"empties" doc:"to take back, mean per round"`
	Expected   int         `json:"expected_empties" doc:"the same to the nearest whole number"`
	TookBack   *int        `json:"took_back" doc:"empties; null while nobody said"`
	Ticked     bool        `json:"ticked" doc:"every lane was brought to, short or skipped"`
	Skipped    *Skip       `json:"skipped" doc:"what was left of the stop; null where it was not skipped"`
}

// RoundLane is one lane to fill.
type RoundLane struct {
	Address     string  `json:"address" doc:"rack, then level and lane: large enough on a screen to be read from 2 m"`
	Level       int     `json:"level"`
	Lane        int     `json:"lane"`
	Cell        string  `json:"cell"`
	Station     string  `json:"station"`
	Part        string  `json:"part"`
	Description string  `json:"description"`
	Container   string  `json:"container"`
	Pack        int64   `json:"pack" doc:"pieces per container"`
	Containers  float64 `json:"containers" doc:"mean per round"`
	Expected    int     `json:"expected" doc:"whole containers; expected_rule says how"`
	Pieces      int64   `json:"pieces" doc:"in the expected containers"`
	Brought     *int    `json:"brought" doc:"containers; null while nobody said"`
	Short       *int    `json:"short" doc:"containers asked for and not brought; null while nobody said"`
	Skipped     *Skip   `json:"skipped" doc:"null where it was not skipped"`
}

// Skip says why something was skipped.
type Skip struct {
	Reason string `json:"reason" enum:"rack_blocked,wrong_part,lane_full,damaged,other"`
	Text   string `json:"text"`
	Who    string `json:"who"`
	At     string `json:"at" doc:"by the device"`
}

// expectedRule says what expected means.
const expectedRule = "The signals say what a round really brings. Expected is the mean of a part on this round, rounded to the nearest whole container " +
	"and shared among its lanes; 0 means that the lane is filled on some rounds only."

// NewRoundSheet converts a round of a plan.
func NewRoundSheet(plant, zone string, r ticks.Round) *RoundSheet {
	w := &RoundSheet{
		Plant: plant, Plan: r.ID.Plan, Day: r.ID.Day.Format("2006-01-02"), Zone: zone, DayRound: NewDayRound(r),
		LoadMean: r.Route.LoadMean, LoadPlanned: r.Route.LoadPlanned, Rule: expectedRule,
		Takes: convert(r.Sheet.Takes, newRoundTake), Visits: make([]RoundStop, len(r.Sheet.Stops)), Reasons: texts(ticks.Reasons()),
	}
	for i, t := range w.Takes {
		if n, ok := r.Took[r.Sheet.Takes[i].Part]; ok {
			t.Took = &n
			w.Takes[i] = t
		}
	}
	for i, s := range r.Sheet.Stops {
		w.Visits[i] = newRoundStop(s, r.Stops()[i])
		w.Visits[i].Order = i + 1
		w.Visits[i].Arrives = clockTime(r.DayRound.Stops[i])
	}
	return w
}

func newRoundTake(t planner.SheetTake) RoundTake {
	return RoundTake{
		Part: string(t.Part), Description: t.Description, Container: string(t.Container), Pack: t.Pack, Address: t.Address,
		Containers: t.Containers, Expected: t.Expected, Pieces: int64(t.Expected) * t.Pack,
	}
}

func newRoundStop(s planner.SheetStop, p ticks.StopProgress) RoundStop {
	w := RoundStop{
		Rack: string(s.Rack), AislePoint: string(s.Point), Lanes: convert(s.Lanes, newRoundLane),
		Empties: s.Stop.Empties, Expected: s.Empties, TookBack: p.Empties, Ticked: p.Ticked(), Skipped: newSkip(p.Skipped),
	}
	for i, l := range p.Lanes {
		w.Lanes[i].Brought, w.Lanes[i].Short, w.Lanes[i].Skipped = l.Brought, l.Short, newSkip(l.Skipped)
	}
	return w
}

func newRoundLane(l planner.SheetLane) RoundLane {
	return RoundLane{
		Address: l.Address, Level: l.Level, Lane: l.Lane, Cell: string(l.Cell), Station: string(l.Station),
		Part: string(l.Part), Description: l.Description, Container: string(l.Container), Pack: l.Pack,
		Containers: l.Containers, Expected: l.Expected, Pieces: int64(l.Expected) * l.Pack,
	}
}

func newSkip(t *ticks.Tick) *Skip {
	if t == nil {
		return nil
	}
	return &Skip{string(t.Reason), t.Text, t.Who, clockTime(t.At)}
}
