package ergonomics

import (
	"fmt"
	"math"
	"time"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Codes of the findings of this stage.
const (
	CodeRefill  = "lifting.refill"
	CodePick    = "lifting.pick"
	CodeRound   = "lifting.round"
	CodeStation = "lifting.station"
	CodeDay     = "lifting.day"
	CodeLow     = "reach.low"
	CodeHigh    = "reach.high"
	CodeDeep    = "reach.deep"
	CodeHand    = "reach.hand"
)

// source stands beside every finding of this stage.
const source = "Waters, Putz-Anderson, Garg, Applications Manual for the Revised NIOSH Lifting Equation, DHHS (NIOSH) Pub. 94-110, 1994"

// lightest is the mass from which a lift is judged: below 3 kg repeated
// movement, not lifting, is the question (scope of ISO 11228-1:2021).
const lightest = 3 * units.Kilogram

// oneHand is the share of a two-handed limit that one hand may lift (EN 1005-2,
// 2003, one-handed operation factor 0.6; from memory).
const oneHand = 0.6

// Task is what people lift at one loop.
type Task struct {
	Subject   finding.Subject
	Origin    finding.Origin
	Container plant.Container
	Side      plant.FlowSide
	// Gross is one full container; Piece one piece.
	Gross, Piece units.Mass
	TwoHands     bool
	// PickSurface and LoadSurface are the heights of the lane surface at its
	// two edges; Clear is what the level leaves free above it, 0 where nobody
	// knows.
	PickSurface, LoadSurface, Clear units.Length
	// Rate is the loop's pieces per net minute, Pack pieces per container; Share
	// is the share of the loop's containers that lies on this level.
	Rate  float64
	Pack  int64
	Share float64
	// Route names the route that refills it, "" where none does. PerRound is the
	// containers of the whole round, Round its time and Interval the time between
	// two; all are 0 where no route refills it.
	Route           string
	PerRound        float64
	Round, Interval time.Duration
}

// Own is the containers that a round brings to this level.
func (t Task) Own() float64 {
	return t.Rate * t.Share / float64(max(t.Pack, 1)) * t.Interval.Minutes()
}

// Judge returns what is to be said of the lifts of 3 kg or more in t: an index over 1 is a note, over 2 a
// warning, over 3 an error (planning rules, section 7).
func Judge(t Task, s Settings) finding.List {
	var list finding.List
	if f, ok := t.verdict(CodeRefill, t.refill(s).Index(t.Gross), t.Gross, "Refilling a container"); ok {
		f.Remedy = "Place the loop on a level nearer to the deck's height, use a smaller container or pack, or lift with an aid."
		list = append(list, f)
	}
	index := t.pick(s).Index(t.held())
	if f, ok := t.verdict(CodePick, index, t.Piece, "Picking a piece"); ok {
		f.Remedy = "Place the loop nearer to 750 mm, share the work over more people, pick with both hands, or lift with an aid."
		list = append(list, f)
	}
	return list
}

// refill is the lift from the vehicle's deck to the load edge, where the
// container is set down with care. The hands are at half the container's
// height. The handler faces the lane, so the side along the lane points away
// from the body.
func (t Task) refill(s Settings) Lift {
	half := t.Container.Height / 2
	along, _ := t.Container.Along(t.Side)
	at := func(height units.Length) End { return End{Reach: Metric.ReachOf(along, height), Height: height} }
	l := Lift{
		Origin: at(s.Deck + half), Destination: at(t.LoadSurface + half), Control: true,
		Handles: t.Container.Handles, Duration: Long,
	}
	if t.Round > 0 {
		l.PerMinute = perMinute(t.PerRound, t.Round)
		l.Duration = DurationOf(Session{t.Round, t.Interval - t.Round})
	}
	return l
}

// pick is the lift of one piece out of the container at the pick edge to the
// work, all shift long. Nobody knows the handles of a piece: they count as fair.
func (t Task) pick(s Settings) Lift {
	return Lift{
		Origin:      End{Reach: s.PickReach, Height: t.PickSurface + t.Container.Height/2},
		Destination: End{Reach: s.PickReach, Height: s.Work}, Control: true,
		PerMinute: t.Rate, Duration: Long, Handles: plant.FairHandles,
	}
}

// held is the mass of a piece as the equation, which is for two hands, should
// see it.
func (t Task) held() units.Mass {
	if t.TwoHands {
		return t.Piece
	}
	return units.Mass(float64(t.Piece) / oneHand)
}

func (t Task) verdict(code string, index float64, mass units.Mass, doing string) (finding.Finding, bool) {
	f := finding.Finding{Code: code, Origin: t.Origin, Subject: t.Subject, Source: source}
	if mass < lightest || !grade(&f, index) {
		return f, false
	}
	where := fmt.Sprintf("%s of part %s on rack %s level %d lifts %.4g kg", doing, t.Subject.Part, t.Subject.Rack, t.Subject.Level, mass.KG())
	f.Summary = fmt.Sprintf("%s: lifting index %.2f; at most %.3g kg are recommended there", where, index, mass.KG()/index)
	if math.IsInf(index, 1) {
		f.Summary = where + ", where the equation recommends no lift at all"
		f.Measure = &finding.Measure{Value: mass.KG(), Limit: 0, Unit: "kg"}
	}
	f.Detail = "The lifting index is the mass over the recommended weight limit; over 1 some workers, over 3 many are at raised risk. The limit is 0 where the hands are above 1750 mm, reach farther than 630 mm or lift too often." + caution
	return f, true
}

// grade gives f the severity and measure of an index: over 1 a note, over 2 a
// warning, over 3 an error. It reports whether there is anything to say; an
// index of exactly 1 is kept within the limit (the manual says both, pp. 20, 74).
func grade(f *finding.Finding, index float64) bool {
	limit := 1.0
	switch {
	case index > 3:
		f.Severity, limit = finding.Error, 3
	case index > 2:
		f.Severity, limit = finding.Warning, 2
	case index > 1:
		f.Severity = finding.Note
	default:
		return false
	}
	f.Measure = &finding.Measure{Value: index, Limit: limit, Unit: "lifting index"}
	return true
}
