package api

import (
	"context"
	"fmt"
	"net/http"
	"time"

	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/ticks"
)

// How many batches of ticks are taken: as many as handlers come back into the network
// at one moment in a large plant, and then one for each of them every few seconds.
const (
	batchesPerSecond = 100
	batchesAtOnce    = 400
)

// TickStore keeps what was ticked on rounds.
type TickStore interface {
	// SaveTicks keeps ticks of one round and tells what became of each; where one
	// clashes nothing is kept.
	SaveTicks(ctx context.Context, round ticks.RoundID, list []ticks.Tick) ([]ticks.Outcome, error)
	// Ticks lists the ticks of a round by the device's time, then id.
	Ticks(ctx context.Context, round ticks.RoundID) ([]ticks.Tick, error)
	// TicksOn lists the ticks on the rounds of a plant's day, whatever plan they are of.
	TicksOn(ctx context.Context, plant string, day time.Time) ([]ticks.Tick, error)
}

// whoAsks says who does what a request tells of. Nobody signs in, so it is whoever the
// request says; nothing else decides it.
func whoAsks(_ context.Context, said string) string { return said }

func (s *server) listTicks(ctx context.Context, in *RoundInput) (*output[wire.Ticks], error) {
	_, r, list, err := s.roundOf(ctx, in.Round)
	if err != nil {
		return nil, err
	}
	return current(wire.NewTicks(r, list)), nil
}

type ticksInput struct {
	RoundInput
	Body TicksRequest
}

// TicksRequest hands in what was ticked on a round.
type TicksRequest struct {
	Events []wire.TickRequest `json:"events" minItems:"1" maxItems:"200" doc:"in any order; an event that was sent before may be among them"`
}

// addTicks keeps what was ticked, and answers event by event.
func (s *server) addTicks(ctx context.Context, in *ticksInput) (*output[wire.TicksAnswer], error) {
	if !s.ticking.AllowN(s.clock(), 1) {
		return nil, problem(http.StatusTooManyRequests, sentences[http.StatusTooManyRequests])
	}
	d, id, err := s.oneDay(ctx, in.Round)
	if err != nil {
		return nil, err
	}
	out := wire.TicksAnswer{Events: make([]wire.TickAnswer, len(in.Body.Events))}
	var list []ticks.Tick
	var place []int // of each of list among the events
	for i, e := range in.Body.Events {
		out.Events[i] = wire.TickAnswer{ID: e.ID, Outcome: "refused"}
		t := e.Tick(id, whoAsks(ctx, e.Who))
		if out.Events[i].Reason = s.unfit(t, d.sheets[id.Route]); out.Events[i].Reason == "" {
			list, place = append(list, t), append(place, i)
		}
	}
	became, err := s.store.SaveTicks(ctx, id, list)
	if err != nil {
		return nil, err
	}
	if err := answerTicks(out.Events, place, became); err != nil {
		return nil, err
	}
	_, r, _, err := s.roundOf(ctx, in.Round)
	if err != nil {
		return nil, err
	}
	out.Round = wire.NewDayRound(r)
	return current(out), nil
}

// unfit says why a tick can't be taken; empty is that it can.
func (s *server) unfit(t ticks.Tick, sheet *planner.RoundSheet) string {
	if reason := t.Check(sheet); reason != "" {
		return reason
	}
	return t.CheckTime(s.clock())
}

// answerTicks writes what became of ticks to their events, or says which of them clash.
func answerTicks(events []wire.TickAnswer, place []int, became []ticks.Outcome) error {
	clash := problem(http.StatusConflict, "An event has the id of another one that says something else; nothing was kept. Errors lists which: "+
		"send the others without them, and these anew with ids of their own.")
	for i, o := range became {
		e := &events[place[i]]
		switch o {
		case ticks.Accepted, ticks.Known:
			e.Outcome = string(o)
		case ticks.Beyond:
			e.Reason = fmt.Sprintf("the round has %d events, the most that are kept", ticks.MostPerRound)
		case ticks.Clashes:
			clash.Errors = append(clash.Errors, wire.BadField{Message: "this id is that of another event", Location: fmt.Sprintf("body.events[%d].id", place[i])})
		}
	}
	if len(clash.Errors) > 0 {
		return clash
	}
	return nil
}
