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
	CodeRefill = "lifting.refill"
	CodePick   = "lifting.pick"
)

// source stands beside every finding of this stage.
const source = "Waters, Putz-Anderson, Garg, Applications Manual for the Revised NIOSH Lifting Equation, DHHS (NIOSH) Pub. 94-110, 1994"

// caution stands in the detail of every finding of this stage.
const caution = " The equation does not cover one-handed lifts, lifts over 8 h, sitting or kneeling, tight space, unstable loads, carrying, pushing, or heat and cold. This is a screening only: a qualified person decides, and local rules come first."

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
	// two edges.
	PickSurface, LoadSurface units.Length
	// Rate is pieces per net minute.
	Rate float64
	// PerRound is the containers of the whole round, Round its time and
	// Interval the time between two; Round is 0 where no route refills it.
	PerRound        float64
	Round, Interval time.Duration
}

// Judge returns what is to be said of the lifts of 3 kg or more in t: an index over 1 is a note, over 2 a
// warning, over 3 an error (planning rules, section 7).
func Judge(t Task, s Settings) finding.List {
	var list finding.List
	if f, ok := t.verdict(CodeRefill, t.refill(s).Index(t.Gross), t.Gross, "Refilling a container"); ok {
		f.Remedy = "Place the loop on a level nearer to the deck's height, use a smaller container or pack, or lift with an aid."
		list = append(list, f)
	}
	index := t.pick(s).Index(t.Piece)
	if !t.TwoHands {
		index /= oneHand
	}
	if f, ok := t.verdict(CodePick, index, t.Piece, "Picking a piece"); ok {
		f.Remedy = "Place the loop nearer to 750 mm, share the work over more people, pick with both hands, or lift with an aid."
		list = append(list, f)
	}
	return list
}

// refill is the lift from the vehicle's deck to the load edge. The hands are
// at half the container's height. The handler faces the lane, so the side
// along the lane points away from the body.
func (t Task) refill(s Settings) Lift {
	half := t.Container.Height / 2
	along, _ := t.Container.Along(t.Side)
	l := Lift{Origin: s.Deck + half, Destination: t.LoadSurface + half, Handles: t.Container.Handles, Duration: Long}
	l.Reach = max(ReachOf(along, l.Origin), ReachOf(along, l.Destination))
	if t.Round > 0 {
		// Lifts a minute are averaged over 15 minutes at least (p. 16).
		l.PerMinute = t.PerRound / max(t.Round, 15*time.Minute).Minutes()
		l.Duration = DurationOf(t.Round, t.Interval-t.Round)
	}
	return l
}

// pick is the lift of one piece out of the container at the pick edge, all
// shift long.
func (t Task) pick(s Settings) Lift {
	hands := t.PickSurface + t.Container.Height/2
	return Lift{
		Origin: hands, Destination: hands, Reach: s.PickReach,
		PerMinute: t.Rate, Duration: Long, Handles: plant.FairHandles,
	}
}

func (t Task) verdict(code string, index float64, mass units.Mass, doing string) (finding.Finding, bool) {
	f := finding.Finding{Code: code, Origin: t.Origin, Subject: t.Subject, Source: source}
	limit := 1.0
	if mass < lightest {
		return f, false
	}
	switch {
	case index > 3:
		f.Severity, limit = finding.Error, 3
	case index > 2:
		f.Severity, limit = finding.Warning, 2
	case index > 1:
		f.Severity = finding.Note
	default:
		return f, false
	}
	where := fmt.Sprintf("%s of part %s on rack %s level %d lifts %.4g kg", doing, t.Subject.Part, t.Subject.Rack, t.Subject.Level, mass.KG())
	f.Summary = fmt.Sprintf("%s: lifting index %.2f", where, index)
	f.Measure = &finding.Measure{Value: index, Limit: limit, Unit: "lifting index"}
	if math.IsInf(index, 1) {
		f.Summary = where + ", where the equation recommends no lift at all"
		f.Measure = &finding.Measure{Value: mass.KG(), Limit: 0, Unit: "kg"}
	}
	f.Detail = "The lifting index is the mass over the recommended weight limit; over 1 some workers, over 3 many are at raised risk. The limit is 0 where the hands are above 1750 mm, reach farther than 630 mm or lift too often." + caution
	return f, true
}
