// Package simulation plays shifts against a plan, event by event: containers are
// emptied at the stations, handlers leave by the timetable, collect the signals
// and bring what their vehicle holds. It takes the decisions of the plan and none
// of its formulas, so that what sizing and routing promise can fail here.
package simulation

import (
	"time"

	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/sizing"
	"lanewright/planner/structure"
)

// Input is the plan to be played. Nothing in it is changed.
type Input struct {
	Plant plant.Settings
	Index *plant.Index
	Loops []sizing.Loop
	// Racks, Lanes and Routes are those of the plan.
	Racks  []structure.Rack
	Lanes  []placement.Lane
	Routes []routing.Route
}

// Use says how pieces are used in the play.
type Use string

// Ways of use.
const (
	// UseModel: each loop by its own demand model, independent of the others.
	UseModel Use = "model"
	// UseRandom: each cell builds its products in random order, so many a day as
	// their demand varies; every unit takes its pieces.
	UseRandom Use = "random"
	// UseLevelled: the same with the products of a day spread as evenly as can be.
	UseLevelled Use = "levelled"
)

// Settings say what is played and how often.
type Settings struct {
	// Weeks are counted in each replication, 1 or more, after WarmUp weeks that
	// are not.
	Weeks, WarmUp int
	// Replications are independent plays, 1 or more.
	Replications int
	Use          Use
	// From is the day on which the play begins, its warm-up included; zero is an
	// ordinary Monday with no change of clocks ahead.
	From time.Time
}

// DefaultSettings returns the settings of a play that asks for nothing else: a
// run-in week and four that count, ten times.
func DefaultSettings() Settings {
	return Settings{Weeks: 4, WarmUp: 1, Replications: 10, Use: UseModel}
}

// Verdict says what the play proved about a loop.
type Verdict string

// Verdicts on a loop.
const (
	// Proved: its measured shortage rate is consistent with its service level.
	Proved Verdict = "proved"
	// Short: it ran short in more cycles than its service level allows.
	Short Verdict = "short"
	// NotPlayed: it has no lane, or no round serves it.
	NotPlayed Verdict = "not-played"
)

// Cause is the reason of most of a loop's shortages.
type Cause string

// Causes of a shortage, looked for in this order in the history of the
// container that was waited for.
const (
	NoCause Cause = ""
	// CauseCapacity: it was left behind by a round that was full.
	CauseCapacity Cause = "vehicle-full"
	// CauseLate: the round that should have collected or brought it came late.
	CauseLate Cause = "round-late"
	// CauseGap: between two rounds there was more than the loop's interval, as
	// at the end of a shift.
	CauseGap Cause = "gap-between-rounds"
	// CauseContainers: the loop has fewer containers in lanes than its rule asks.
	CauseContainers Cause = "too-few-containers"
	// CauseUse: more was used than the loop covers.
	CauseUse Cause = "use-above-cover"
)

// Words says the cause as people do; empty for NoCause.
func (c Cause) Words() string {
	switch c {
	case CauseCapacity:
		return "left behind by a full round"
	case CauseLate:
		return "the round came late"
	case CauseGap:
		return "more than its interval between two rounds"
	case CauseContainers:
		return "fewer containers in lanes than the rule asks"
	case CauseUse:
		return "more used than it covers"
	default:
		return ""
	}
}

// Result is what was measured.
type Result struct {
	Settings Settings
	Seed     uint64
	// Loops are ordered as those of the plan, Routes by name, Racks by code.
	Loops  []LoopResult
	Routes []RouteResult
	Racks  []RackResult
	// Played is the net time that counted, over all replications, of the cell that
	// works longest.
	Played time.Duration
	// Events counts containers opened, signals collected, containers delivered,
	// rounds and stops, those of the warm-up included; Pieces the pieces used.
	Events, Pieces int64
	Findings       finding.List
}

// LoopResult is what was measured of one loop.
type LoopResult struct {
	Loop    demand.Key
	Verdict Verdict
	// Cause is NoCause where the loop never ran short.
	Cause Cause
	// Ideal says that no route serves it, so that rounds every interval of its own
	// were played; only where the plan has no routes at all.
	Ideal bool
	// Containers are those in lanes, all of which were played. Enough is the least
	// number, found by playing more of them, with which a loop that ran short is
	// proved; 0 where it did not, or where a few more do not help.
	Containers, Enough int
	// Cycles are the times between two rounds; ShortCycles those in which a piece
	// was wanted that was not there.
	Cycles, ShortCycles int64
	// Rate is the share of cycles with a shortage; Low and High bound it with 95 %
	// confidence. Allowed is what the service level leaves.
	Rate, Low, High, Allowed float64
	// Shortages are counted from the first piece missing to the next delivery;
	// ShortMean and ShortLongest are their length in net time.
	Shortages               int64
	ShortMean, ShortLongest time.Duration
	// FillRate is the share of pieces that were there when wanted.
	FillRate float64
	// OnHandMean is the mean number of pieces on hand over net time; OnHandMost
	// the most full containers that lay in the lanes, Room how many they hold.
	OnHandMean       float64
	OnHandMost, Room int
	// LeftBehind counts signals that a full round left waiting.
	LeftBehind int64
	// SignalWait is the mean net time from the signal to its collection.
	SignalWait time.Duration
}

// RouteResult is what was measured of one route.
type RouteResult struct {
	Route string
	// Rounds were driven; Late of them left after their time, by LateMean and at
	// most LateMost. Rounds that could not leave within their shift were Dropped.
	Rounds, Late, Dropped int64
	LateMean, LateMost    time.Duration
	// RoundMean, Round95 and RoundMost describe the time of a round at what it
	// really carried: the mean, what 95 % of the rounds do not pass, the longest.
	RoundMean, Round95, RoundMost time.Duration
	// GapMost is the longest net time between two stops of its rounds at a rack.
	GapMost time.Duration
	// LoadMean, Load95 and LoadMost are full containers taken along, against the
	// vehicle's Capacity.
	LoadMean         float64
	Load95, LoadMost int
	Capacity         int
	// FullRounds left signals behind, LeftBehind of them in all: those that waited on.
	FullRounds, LeftBehind int64
}

// RackResult is what was measured of the empties on a rack's return lanes.
type RackResult struct {
	Rack plant.RackCode
	// Visits are counted; at Overfull of them more empties waited than the return
	// lanes hold.
	Visits, Overfull int64
	// Most is the longest length of lane that waiting empties took; Room the
	// length of the return lanes.
	MostMM, RoomMM float64
}

// Trace is what one loop lived through in one replication.
type Trace struct {
	Loop        demand.Key
	Replication int
	// Pack and Containers are the loop's. All times stand in Zone: that of the plant,
	// or UTC where an ordinary week is played.
	Pack       int64
	Containers int
	Zone       string
	// Points are in order of time; those of the warm-up are left out.
	Points []Point
	// Shifts are the workings of the cell's shifts in the traced time.
	Shifts []demand.Occurrence
}

// Event is what happened to a loop at one moment.
type Event string

// Events of a trace.
const (
	EventOpen    Event = "open"    // a full container came to the pick edge, the emptied one became a signal
	EventShort   Event = "short"   // a piece is wanted and none is there
	EventVisit   Event = "visit"   // a round stopped at the rack; Taken signals of this loop went along, Left stayed
	EventDeliver Event = "deliver" // Brought full containers came
	EventStart   Event = "start"   // the counted time begins
	EventEnd     Event = "end"
)

// Point is the state of a loop right after an event.
type Point struct {
	At    time.Time
	Event Event
	// Round names the route and its departure ("B 08:30") of visits and
	// deliveries.
	Round string
	// OnHand is pieces in full and started containers, Missing pieces that were
	// wanted and not there.
	OnHand, Missing float64
	// Full are full containers, the started one not among them; Signals those
	// that wait to be collected; UnderWay those collected and not yet brought.
	Full, Signals, UnderWay int
	Taken, Left, Brought    int
}
