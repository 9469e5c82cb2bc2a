package wire

import (
	"time"

	"lanewright/planner/archive"
	"lanewright/planner/simulation"
)

// Play says what was played.
type Play struct {
	Weeks        int    `json:"weeks" doc:"weeks that count in each replication"`
	WarmUpWeeks  int    `json:"warm_up_weeks" doc:"weeks before them that do not"`
	Replications int    `json:"replications" doc:"independent plays"`
	Use          string `json:"use" enum:"model,random,levelled" doc:"how pieces are used: by each loop's demand model, or by products in random or levelled order"`
	From         string `json:"from" doc:"day on which the play begins; empty is an ordinary Monday"`
}

// Verdicts counts loops by what the play proved about them.
type Verdicts struct {
	Proved    int `json:"proved" doc:"loops whose shortage rate is consistent with their service level"`
	Short     int `json:"short" doc:"loops that ran short more often than their service level allows"`
	NotPlayed int `json:"not_played" doc:"loops without a lane or a round"`
}

// Simulation is a stored play of a plan without its lists.
type Simulation struct {
	ID        int64     `json:"id"`
	Plan      int64     `json:"plan" doc:"id of the plan that was played"`
	Proof     bool      `json:"proof" doc:"made with the plan and part of its document"`
	Created   time.Time `json:"created"`
	Seed      uint64    `json:"seed"`
	Settings  Play      `json:"settings"`
	Verdicts  Verdicts  `json:"verdicts"`
	PlayedMin float64   `json:"played_min" doc:"net minutes that counted, over all replications, of the cell that works longest"`
	Events    int64     `json:"events" doc:"containers opened, signals collected, containers delivered, rounds and stops"`
	Pieces    int64     `json:"pieces" doc:"pieces used"`
}

// Proof is what a play of a plan measured, as it stands in the plan document.
type Proof struct {
	Weeks        int              `json:"weeks" doc:"weeks that count in each replication"`
	WarmUpWeeks  int              `json:"warm_up_weeks" doc:"weeks before them that do not"`
	Replications int              `json:"replications" doc:"independent plays"`
	Use          string           `json:"use" enum:"model,random,levelled"`
	From         string           `json:"from" doc:"day on which the play begins; empty is an ordinary Monday"`
	Verdicts     Verdicts         `json:"verdicts"`
	Loops        []SimulatedLoop  `json:"loops"`
	Routes       []SimulatedRoute `json:"routes"`
	Racks        []SimulatedRack  `json:"racks"`
}

// SimulatedLoop is what was measured of one loop. A loop that was not played
// has zeros.
type SimulatedLoop struct {
	Part    string `json:"part"`
	Cell    string `json:"cell"`
	Station string `json:"station"`
	Verdict string `json:"verdict" enum:"proved,short,not-played"`
	Cause   string `json:"cause" doc:"of most of its shortages: vehicle-full, round-late, gap-between-rounds, too-few-containers or use-above-cover; empty where it never ran short"`
	Ideal   bool   `json:"ideal" doc:"no route serves it: rounds at its own interval were played"`

	Containers  int     `json:"containers" doc:"those in lanes, which were played"`
	Enough      int     `json:"enough" doc:"containers with which it was proved when a few more were played; 0 where it did not run short or a few more do not help"`
	Cycles      int64   `json:"cycles" doc:"times between two rounds"`
	ShortCycles int64   `json:"short_cycles" doc:"those in which a piece was missing"`
	Rate        float64 `json:"short_rate" doc:"percent of cycles with a shortage"`
	RateLow     float64 `json:"short_rate_low" doc:"percent; with short_rate_high it bounds the rate with 95 % confidence"`
	RateHigh    float64 `json:"short_rate_high" doc:"percent"`
	RateAllowed float64 `json:"short_rate_allowed" doc:"percent; what the service level leaves"`

	Shortages       int64   `json:"shortages" doc:"each from the first piece missing to the next delivery"`
	ShortMeanMin    float64 `json:"short_mean_min" doc:"mean length of a shortage, net minutes"`
	ShortLongestMin float64 `json:"short_longest_min" doc:"the longest, net minutes"`
	FillRate        float64 `json:"fill_rate" doc:"percent of pieces that were there when wanted"`
	OnHandMean      float64 `json:"on_hand_mean" doc:"pieces on hand, mean over net time"`
	OnHandMost      int     `json:"on_hand_most" doc:"the most full containers in its lanes"`
	Room            int     `json:"room" doc:"containers its lanes hold"`
	LeftBehind      int64   `json:"left_behind" doc:"signals that a full round left waiting"`
	SignalWaitMin   float64 `json:"signal_wait_min" doc:"from the signal to its collection, mean, net minutes"`
}

// SimulatedRoute is what was measured of one route.
type SimulatedRoute struct {
	Route        string  `json:"route"`
	Rounds       int64   `json:"rounds" doc:"rounds driven"`
	Late         int64   `json:"late" doc:"those that left after their time"`
	Dropped      int64   `json:"dropped" doc:"rounds that could not leave within their shift"`
	LateMeanMin  float64 `json:"late_mean_min" doc:"of the late ones"`
	LateMostMin  float64 `json:"late_most_min"`
	RoundMeanMin float64 `json:"round_mean_min" doc:"time of a round at what it really carried, mean"`
	Round95Min   float64 `json:"round_95_min" doc:"what 95 % of the rounds do not pass"`
	RoundMostMin float64 `json:"round_most_min" doc:"the longest"`
	GapMostMin   float64 `json:"gap_most_min" doc:"the longest net time between two of its stops at a rack"`
	LoadMean     float64 `json:"load_mean" doc:"full containers taken along, mean"`
	Load95       int     `json:"load_95" doc:"what 95 % of the rounds do not pass"`
	LoadMost     int     `json:"load_most"`
	Capacity     int     `json:"capacity" doc:"containers the vehicle carries"`
	LeftBehind   int64   `json:"left_behind" doc:"signals that full rounds left waiting"`
	FullRounds   int64   `json:"full_rounds" doc:"rounds that left something behind"`
}

// SimulatedRack is what was measured of the empties on a rack's return lanes.
type SimulatedRack struct {
	Rack     string  `json:"rack"`
	Visits   int64   `json:"visits"`
	Overfull int64   `json:"overfull" doc:"visits that found more empties than the return lanes hold"`
	MostMM   float64 `json:"most_mm" doc:"the longest stretch of lane that empties took"`
	RoomMM   float64 `json:"room_mm" doc:"length of its return lanes"`
}

// NewSimulation converts the header of a play.
func NewSimulation(s archive.Simulation) Simulation {
	return Simulation{
		ID: s.ID, Plan: s.Plan, Proof: s.Proof, Created: s.Created.UTC(), Seed: s.Seed,
		Settings: newPlay(s.Settings), Verdicts: Verdicts(s.Verdicts),
		PlayedMin: minutes(s.Played), Events: s.Events, Pieces: s.Pieces,
	}
}

func newPlay(s simulation.Settings) Play {
	p := Play{Weeks: s.Weeks, WarmUpWeeks: s.WarmUp, Replications: s.Replications, Use: string(s.Use)}
	if !s.From.IsZero() {
		p.From = s.From.Format(time.DateOnly)
	}
	return p
}

func newProof(r *simulation.Result) *Proof {
	if r == nil {
		return nil
	}
	p := newPlay(r.Settings)
	return &Proof{
		Weeks: p.Weeks, WarmUpWeeks: p.WarmUpWeeks, Replications: p.Replications, Use: p.Use, From: p.From,
		Verdicts: Verdicts(archive.CountVerdicts(r.Loops)),
		Loops:    NewSimulatedLoops(r.Loops), Routes: NewSimulatedRoutes(r.Routes), Racks: NewSimulatedRacks(r.Racks),
	}
}

// NewSimulatedLoops converts what was measured of loops.
func NewSimulatedLoops(list []simulation.LoopResult) []SimulatedLoop {
	return convert(list, newSimulatedLoop)
}

// NewSimulatedRoutes converts what was measured of routes.
func NewSimulatedRoutes(list []simulation.RouteResult) []SimulatedRoute {
	return convert(list, newSimulatedRoute)
}

// NewSimulatedRacks converts what was measured of racks.
func NewSimulatedRacks(list []simulation.RackResult) []SimulatedRack {
	return convert(list, newSimulatedRack)
}

func newSimulatedLoop(l simulation.LoopResult) SimulatedLoop {
	return SimulatedLoop{
		Part: string(l.Loop.Part), Cell: string(l.Loop.Cell), Station: string(l.Loop.Station),
		Verdict: string(l.Verdict), Cause: string(l.Cause), Ideal: l.Ideal,
		Containers: l.Containers, Enough: l.Enough, Cycles: l.Cycles, ShortCycles: l.ShortCycles,
		Rate: 100 * l.Rate, RateLow: 100 * l.Low, RateHigh: 100 * l.High, RateAllowed: 100 * l.Allowed,
		Shortages: l.Shortages, ShortMeanMin: minutes(l.ShortMean), ShortLongestMin: minutes(l.ShortLongest),
		FillRate: 100 * l.FillRate, OnHandMean: l.OnHandMean, OnHandMost: l.OnHandMost, Room: l.Room,
		LeftBehind: l.LeftBehind, SignalWaitMin: minutes(l.SignalWait),
	}
}

func newSimulatedRoute(r simulation.RouteResult) SimulatedRoute {
	return SimulatedRoute{
		Route: r.Route, Rounds: r.Rounds, Late: r.Late, Dropped: r.Dropped,
		LateMeanMin: minutes(r.LateMean), LateMostMin: minutes(r.LateMost),
		RoundMeanMin: minutes(r.RoundMean), Round95Min: minutes(r.Round95), RoundMostMin: minutes(r.RoundMost), GapMostMin: minutes(r.GapMost),
		LoadMean: r.LoadMean, Load95: r.Load95, LoadMost: r.LoadMost, Capacity: r.Capacity,
		LeftBehind: r.LeftBehind, FullRounds: r.FullRounds,
	}
}

func newSimulatedRack(r simulation.RackResult) SimulatedRack {
	return SimulatedRack{Rack: string(r.Rack), Visits: r.Visits, Overfull: r.Overfull, MostMM: r.MostMM, RoomMM: r.RoomMM}
}
