package api

import (
	"context"
	"maps"
	"net/http"
	"slices"
	"time"

	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/ticks"
)

// daysKept is how many days' rounds stay in memory.
const daysKept = 8

// dayKey names a day of a plan.
type dayKey struct {
	plan int64
	day  string
}

// roundPlan says which plan the floor of a plant works to, and since when: the
// published one, and the latest until one is published. Nothing else decides it.
func (s *server) roundPlan(ctx context.Context, plant string) (plan int64, since time.Time, err error) {
	p, err := s.store.Plant(ctx, plant)
	if err != nil {
		return 0, since, err
	}
	published, err := s.store.Publications(ctx, plant, 0, 1)
	switch {
	case err != nil:
		return 0, since, err
	case len(published) > 0:
		return published[0].Plan, published[0].Created, nil
	case p.LatestPlan == 0:
		return 0, since, problem(http.StatusNotFound, "The plant "+quote(plant)+" has no plan yet, and so no rounds.")
	}
	v, err := s.planOf(ctx, p.LatestPlan)
	if err != nil {
		return 0, since, err
	}
	return p.LatestPlan, v.header.Created, nil
}

// floorDay is one day of one plan as the floor works it.
type floorDay struct {
	view   *view
	day    time.Time
	rounds []planner.DayRound
	sheets map[string]*planner.RoundSheet
}

// floorDayOf returns a day of a plan; its rounds never change.
func (s *server) floorDayOf(ctx context.Context, plan int64, day time.Time) (*floorDay, error) {
	v, f, err := s.planAndFacts(ctx, plan)
	if err != nil {
		return nil, err
	}
	sheets, err := s.sheets.get(ctx, plan, func(context.Context, int64) (map[string]*planner.RoundSheet, error) {
		return planner.RoundSheets(f.plant, v.plan), nil
	})
	if err != nil {
		return nil, err
	}
	rounds, err := s.days.get(ctx, dayKey{plan, day.Format(time.DateOnly)}, func(context.Context, dayKey) ([]planner.DayRound, error) {
		return planner.DayRounds(f.plant, v.plan, day), nil
	})
	return &floorDay{v, day, rounds, sheets}, err
}

// with puts the ticks to the rounds.
func (d *floorDay) with(rounds []planner.DayRound, list []ticks.Tick) ([]ticks.Round, []ticks.Tick) {
	return ticks.Rounds(d.view.header.ID, d.day, rounds, d.sheets, list)
}

func (d *floorDay) zone() string { return planner.Zone(d.view.plan).String() }

// Day is a day in a query.
type Day struct {
	Day string `query:"day" format:"date" required:"true" doc:"such as 2026-10-19; rounds of shifts that begin on it"`
}

func (d Day) date() (time.Time, error) {
	day, err := time.Parse(time.DateOnly, d.Day)
	if err != nil {
		return day, missing("day", d.Day)
	}
	return day, nil
}

type dayRoundsInput struct {
	Plant string `query:"plant" required:"true" minLength:"1" maxLength:"100" doc:"name of the plant"`
	Day
	Shift string `query:"shift" maxLength:"200" doc:"only of this shift"`
	Route string `query:"route" maxLength:"200" doc:"only of this route"`
	PageInput
}

// listDayRounds answers with the rounds of a day of the plan that the floor works to.
func (s *server) listDayRounds(ctx context.Context, in *dayRoundsInput) (*output[wire.DayRounds], error) {
	d, list, _, err := s.tickedDay(ctx, in.Plant, in.Day)
	if err != nil {
		return nil, err
	}
	out := wire.DayRounds{
		Plant: in.Plant, Plan: d.view.header.ID, Day: in.Day.Day, Zone: d.zone(),
		Shifts: d.each(func(r planner.DayRound) string { return string(r.Shift) }),
		Routes: d.each(func(r planner.DayRound) string { return r.Route.Route }),
	}
	wanted := filter(d.rounds, func(r planner.DayRound) bool { return is(in.Shift, string(r.Shift)) && is(in.Route, r.Route.Route) })
	page, err := cut(wanted, in.PageInput)
	if err != nil {
		return nil, err
	}
	rounds, _ := d.with(page.Items, list)
	out.Items, out.Total, out.Next = make([]wire.DayRound, len(rounds)), page.Total, page.Next
	for i, r := range rounds {
		out.Items[i] = wire.NewDayRound(r)
	}
	return current(out), nil
}

// each lists what the rounds of a day have, each once, in order.
func (d *floorDay) each(of func(planner.DayRound) string) []string {
	set := map[string]bool{}
	for _, r := range d.rounds {
		set[of(r)] = true
	}
	return append([]string{}, slices.Sorted(maps.Keys(set))...)
}

// tickedDay returns a day of the plan that the floor works to, all that was ticked
// on it, and since when the floor works to the plan.
func (s *server) tickedDay(ctx context.Context, plant string, in Day) (*floorDay, []ticks.Tick, time.Time, error) {
	day, err := in.date()
	if err != nil {
		return nil, nil, time.Time{}, err
	}
	plan, since, err := s.roundPlan(ctx, plant)
	if err != nil {
		return nil, nil, since, err
	}
	d, err := s.floorDayOf(ctx, plan, day)
	if err != nil {
		return nil, nil, since, err
	}
	list, err := s.store.TicksOn(ctx, plant, day)
	return d, list, since, err
}

// RoundInput names a round in an address.
type RoundInput struct {
	Round string `path:"round" maxLength:"300" doc:"name of the round"`
}

// oneDay is the day of one round, with that round alone.
func (s *server) oneDay(ctx context.Context, name string) (*floorDay, ticks.RoundID, error) {
	none := problem(http.StatusNotFound, "There is no round "+quote(name)+".")
	id, ok := ticks.ParseRoundID(name)
	if !ok {
		return nil, id, none
	}
	d, err := s.floorDayOf(ctx, id.Plan, id.Day)
	if err != nil {
		return nil, id, err
	}
	i := slices.IndexFunc(d.rounds, func(r planner.DayRound) bool { return ticks.IDOf(id.Plan, id.Day, r) == id })
	if i < 0 {
		return nil, id, none
	}
	d.rounds = d.rounds[i : i+1]
	return d, id, nil
}

// roundOf returns one round as far as it is, and its ticks.
func (s *server) roundOf(ctx context.Context, name string) (d *floorDay, r ticks.Round, list []ticks.Tick, err error) {
	d, id, err := s.oneDay(ctx, name)
	if err != nil {
		return nil, r, nil, err
	}
	if list, err = s.store.Ticks(ctx, id); err != nil {
		return nil, r, nil, err
	}
	rounds, _ := d.with(d.rounds, list)
	return d, rounds[0], list, nil
}

// getRound answers with all that a handler needs on a round.
func (s *server) getRound(ctx context.Context, in *RoundInput) (*output[wire.RoundSheet], error) {
	d, r, _, err := s.roundOf(ctx, in.Round)
	if err != nil {
		return nil, err
	}
	return current(*wire.NewRoundSheet(d.view.header.Plant, d.zone(), r)), nil
}

type roundsSummaryInput struct {
	PlantInput
	Day
	LateMin int `query:"late_min" minimum:"0" maximum:"1440" default:"5" doc:"a round is late by more than so many minutes"`
	Limit   int `query:"limit" minimum:"1" maximum:"1000" default:"200" doc:"how many late rounds and misses at most"`
}

// roundsSummary answers with what a supervisor wants to know of a day's rounds.
func (s *server) roundsSummary(ctx context.Context, in *roundsSummaryInput) (*output[wire.RoundsSummary], error) {
	d, list, since, err := s.tickedDay(ctx, in.Plant, in.Day)
	if err != nil {
		return nil, err
	}
	rounds, strays := d.with(d.rounds, list)
	out := wire.NewRoundsSummary(rounds, strays, since, s.clock(), in.LateMin, in.Limit)
	out.Plant, out.Plan, out.Day, out.Zone = in.Plant, d.view.header.ID, in.Day.Day, d.zone()
	return current(*out), nil
}
