package wire

import (
	"time"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/simulation"
)

// Trace is what one loop lived through in one replication of a play.
type Trace struct {
	Part        string       `json:"part"`
	Cell        string       `json:"cell"`
	Station     string       `json:"station"`
	Replication int          `json:"replication" doc:"from 1"`
	Weeks       int          `json:"weeks" doc:"weeks that were traced, after the warm-up"`
	Pack        int64        `json:"pack" doc:"pieces per full container"`
	Containers  int          `json:"containers"`
	Zone        string       `json:"zone" doc:"IANA name of the time zone in which all times stand; UTC where an ordinary week was played"`
	Points      []TracePoint `json:"points" doc:"in order of time"`
	Shifts      []Working    `json:"shifts" doc:"the workings of the cell's shifts in the traced time"`
}

// TracePoint is the state of a loop right after an event.
type TracePoint struct {
	At       time.Time `json:"at"`
	Event    string    `json:"event" enum:"start,open,short,visit,deliver,end"`
	Round    string    `json:"round" doc:"route and departure of a visit or delivery; empty for other events"`
	OnHand   float64   `json:"on_hand" doc:"pieces in full and started containers"`
	Missing  float64   `json:"missing" doc:"pieces that were wanted and not there"`
	Full     int       `json:"full" doc:"full containers, the started one not among them"`
	Signals  int       `json:"signals" doc:"signals that wait to be collected"`
	UnderWay int       `json:"under_way" doc:"containers whose signal was collected and that are not yet there"`
	Taken    int       `json:"taken" doc:"signals a visit took along"`
	Left     int       `json:"left" doc:"signals a visit left waiting"`
	Brought  int       `json:"brought" doc:"containers a delivery brought"`
}

// Working is one working of a shift.
type Working struct {
	Shift string `json:"shift"`
	Work  []Span `json:"work" doc:"stretches that are worked, breaks between them"`
}

// Span is a stretch of time.
type Span struct {
	From time.Time `json:"from"`
	To   time.Time `json:"to"`
}

// NewTrace converts a trace of so many weeks; replication counts from 1.
func NewTrace(t simulation.Trace, replication, weeks int) Trace {
	return Trace{
		Part: string(t.Loop.Part), Cell: string(t.Loop.Cell), Station: string(t.Loop.Station),
		Replication: replication, Weeks: weeks, Pack: t.Pack, Containers: t.Containers, Zone: t.Zone,
		Points: convert(t.Points, newTracePoint),
		Shifts: convert(t.Shifts, newWorking),
	}
}

func newTracePoint(p simulation.Point) TracePoint {
	return TracePoint{
		At: p.At, Event: string(p.Event), Round: p.Round, OnHand: p.OnHand, Missing: p.Missing,
		Full: p.Full, Signals: p.Signals, UnderWay: p.UnderWay, Taken: p.Taken, Left: p.Left, Brought: p.Brought,
	}
}

func newWorking(o demand.Occurrence) Working {
	return Working{Shift: string(o.Shift), Work: convert(o.Work, func(s plant.Span) Span {
		return Span{From: o.Day.Add(s.Start), To: o.Day.Add(s.End)}
	})}
}
