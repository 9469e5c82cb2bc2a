package wire

import (
	"time"

	"lanewright/planner"
	"lanewright/planner/routing"
)

// ToldFormat names the shape of Told, as Format does that of Plan.
const ToldFormat = "lanewright.told/1"

// Told tells of a route or a rack in plain sentences.
type Told struct {
	Format   string    `json:"format" enum:"lanewright.told/1"`
	Title    string    `json:"title"`
	Sections []Section `json:"sections"`
}

// NewTold converts what is told.
func NewTold(t planner.Told) *Told {
	return &Told{Format: ToldFormat, Title: t.Title, Sections: convert(t.Sections, func(s planner.Section) Section {
		return Section{s.Title, convert(s.Sentences, newSentence)}
	})}
}

// Pick is one part that a round takes from the market.
type Pick struct {
	Part       string  `json:"part"`
	Container  string  `json:"container"`
	Address    string  `json:"address" doc:"in the market; empty where the sheet gives none"`
	Containers float64 `json:"containers" doc:"mean per round"`
	Drops      []Drop  `json:"drops" doc:"where they go, in the order of the stops"`
}

// Drop is a lane that a round fills.
type Drop struct {
	Stop       int     `json:"stop" doc:"from 1"`
	Rack       string  `json:"rack"`
	Level      int     `json:"level"`
	Lane       int     `json:"lane"`
	Cell       string  `json:"cell"`
	Station    string  `json:"station"`
	Containers float64 `json:"containers" doc:"mean per round"`
}

// Take is what a round of a route takes from the market.
type Take struct {
	Route string `json:"route"`
	Picks []Pick `json:"picks" doc:"in picking order: by market address, then part"`
}

// NewTake converts what a round takes.
func NewTake(route string, picks []planner.Pick) *Take {
	return &Take{route, convert(picks, func(p planner.Pick) Pick {
		return Pick{string(p.Part), string(p.Container), p.Address, p.Containers, convert(p.Drops, func(d planner.Drop) Drop {
			return Drop{d.Stop, string(d.Rack), d.Level, d.Lane, string(d.Cell), string(d.Station), d.Containers}
		})}
	})}
}

// Rounds are the rounds of a route by the clock.
type Rounds struct {
	Route  string  `json:"route"`
	Rounds []Round `json:"rounds"`
}

// Round is one of them.
type Round struct {
	Shift  string   `json:"shift"`
	Loads  string   `json:"loads" doc:"when loading begins; times carry the offset of the plant's zone"`
	Leaves string   `json:"leaves"`
	Stops  []string `json:"stops" doc:"arrivals, in the order of the stops"`
	Back   string   `json:"back" doc:"at the planned load"`
}

// NewRounds converts rounds.
func NewRounds(route string, rounds []routing.Round) *Rounds {
	at := func(t time.Time) string { return t.Format(time.RFC3339) }
	return &Rounds{route, convert(rounds, func(r routing.Round) Round {
		return Round{string(r.Shift), at(r.Loads), at(r.Leaves), convert(r.Stops, at), at(r.Back)}
	})}
}
