package wire

import (
	"strings"
	"time"

	"lanewright/planner/plant"
	"lanewright/planner/ticks"
)

// TickRequest is one thing that a handler did or saw.
type TickRequest struct {
	ID         string    `json:"id" format:"uuid" maxLength:"36" doc:"made by the device; the same event has the same id however often it is sent"`
	At         time.Time `json:"at" doc:"the device's time; what is finer than a millisecond is cut off"`
	Kind       string    `json:"kind" maxLength:"20" doc:"started, ended, took (a part from the market), brought, short (a lane), empties (a stop), skipped (a lane, or what is left of a stop), undone (an earlier event)"`
	Stop       int       `json:"stop,omitempty" maximum:"1000000" doc:"from 1: for brought, short, empties and skipped"`
	Level      int       `json:"level,omitempty" maximum:"1000000" doc:"with lane: for brought and short, and for skipped where one lane is skipped"`
	Lane       int       `json:"lane,omitempty" maximum:"1000000"`
	Part       string    `json:"part,omitempty" maxLength:"200" doc:"what was taken; at a lane it must be the lane's where it is given"`
	Containers int       `json:"containers,omitempty" maximum:"1000000" doc:"for took, brought and empties 0 to 1000, for short 1 to 1000"`
	Reason     string    `json:"reason,omitempty" maxLength:"40" doc:"for skipped: rack_blocked, wrong_part, lane_full, damaged, other"`
	Text       string    `json:"text,omitempty" maxLength:"300" doc:"with a reason; other needs one"`
	Who        string    `json:"who,omitempty" maxLength:"80" doc:"who did it, in their own words"`
	Undoes     string    `json:"undoes,omitempty" format:"uuid" maxLength:"36" doc:"for undone: id of the event that is taken back"`
}

// Tick converts an event on a round; who is the person who did it.
func (r TickRequest) Tick(round ticks.RoundID, who string) ticks.Tick {
	return ticks.Tick{
		ID: strings.ToLower(r.ID), Round: round, At: r.At.UTC().Truncate(time.Millisecond), Kind: ticks.Kind(r.Kind),
		Stop: r.Stop, Level: r.Level, Lane: r.Lane, Part: plant.PartCode(r.Part), Containers: r.Containers,
		Reason: ticks.Reason(r.Reason), Text: r.Text, Who: who, Undoes: strings.ToLower(r.Undoes),
	}
}

// TicksAnswer says what became of each event, in the order in which they were sent, and
// how far the round is now.
type TicksAnswer struct {
	Events []TickAnswer `json:"events"`
	Round  DayRound     `json:"round"`
}

// TickAnswer says what became of one event.
type TickAnswer struct {
	ID      string `json:"id"`
	Outcome string `json:"outcome" enum:"accepted,known,refused" doc:"known: it was kept before; refused: it is not kept, and sending it again would not help"`
	Reason  string `json:"reason" doc:"why it was refused"`
}

// Ticks are what was ticked on a round.
type Ticks struct {
	Round string `json:"round"`
	Ticks []Tick `json:"ticks" doc:"by the device's time, then id"`
}

// Tick is one thing that a handler did or saw.
type Tick struct {
	ID         string `json:"id"`
	At         string `json:"at" doc:"by the device, in UTC"`
	Received   string `json:"received" doc:"by the server, in UTC"`
	Kind       string `json:"kind" enum:"started,ended,took,brought,short,empties,skipped,undone"`
	Stop       int    `json:"stop" doc:"from 1; 0 is none"`
	Level      int    `json:"level" doc:"0 is none"`
	Lane       int    `json:"lane" doc:"0 is none"`
	Part       string `json:"part"`
	Containers int    `json:"containers"`
	Reason     string `json:"reason"`
	Text       string `json:"text"`
	Who        string `json:"who"`
	Undoes     string `json:"undoes" doc:"id of the event that is taken back"`
	Undone     bool   `json:"undone" doc:"it was taken back and does not count"`
}

// NewTicks converts the ticks of a round.
func NewTicks(r ticks.Round, list []ticks.Tick) Ticks {
	return Ticks{r.ID.String(), convert(list, func(t ticks.Tick) Tick {
		return Tick{
			ID: t.ID, At: t.At.Format(time.RFC3339Nano), Received: t.Received.UTC().Format(time.RFC3339Nano), Kind: string(t.Kind),
			Stop: t.Stop, Level: t.Level, Lane: t.Lane, Part: string(t.Part), Containers: t.Containers,
			Reason: string(t.Reason), Text: t.Text, Who: t.Who, Undoes: t.Undoes, Undone: t.Kind != ticks.Undone && r.Undone[t.ID],
		}
	})}
}
