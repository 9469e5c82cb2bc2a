// Package ticks knows what handlers tick off on their rounds, and what state a round is
// in by that. Ticks are made on devices that may be without a network for hours: they
// come late, in any order and more than once, and the state depends on none of it.
package ticks

import (
	"cmp"
	"slices"
	"strings"
	"time"
	"unicode"

	"lanewright/planner"
	"lanewright/planner/plant"
)

// Kind says what a tick is about.
type Kind string

// Kinds of ticks, with what each carries beside the time.
const (
	// Started and Ended: the round.
	Started Kind = "started"
	Ended   Kind = "ended"
	// Took: so many containers of a part from the market.
	Took Kind = "took"
	// Brought: so many full containers into a lane, 0 where none was asked for.
	Brought Kind = "brought"
	// Short: so many containers that a lane asked for and did not get.
	Short Kind = "short"
	// Empties: so many empties taken back from a stop.
	Empties Kind = "empties"
	// Skipped: a lane, or what is left of a stop, with a reason.
	Skipped Kind = "skipped"
	// Undone: takes back an earlier tick of the round. It is itself never taken
	// back: tick anew instead.
	Undone Kind = "undone"
)

// Reason says why something was skipped.
type Reason string

// Reasons that are known. Other carries a text.
const (
	RackBlocked Reason = "rack_blocked"
	WrongPart   Reason = "wrong_part"
	LaneFull    Reason = "lane_full"
	Damaged     Reason = "damaged"
	Other       Reason = "other"
)

// Kinds and Reasons list them all.
func Kinds() []Kind { return []Kind{Started, Ended, Took, Brought, Short, Empties, Skipped, Undone} }

// Reasons lists the reasons for skipping.
func Reasons() []Reason { return []Reason{RackBlocked, WrongPart, LaneFull, Damaged, Other} }

// Tick is one thing that a handler did or saw on a round. Ticks are never changed.
type Tick struct {
	// ID is made by the device: a UUID in lower case.
	ID    string
	Round RoundID
	// At is the device's time, to the millisecond, in UTC.
	At   time.Time
	Kind Kind
	// Stop is its number on the route, from 1; Level and Lane name a lane there.
	// 0 is none.
	Stop, Level, Lane int
	// Part is what was taken; at a lane it may stand or be left out.
	Part       plant.PartCode
	Containers int
	Reason     Reason
	// Text belongs to the reason Other and may be with any other one.
	Text string
	// Who did it, in their own words.
	Who string
	// Undoes is the id of the tick that is taken back.
	Undoes string
	// Received is the server's time.
	Received time.Time
}

// Same reports whether two ticks say the same, whenever they were received.
func (t Tick) Same(o Tick) bool {
	t.Received = o.Received
	return t == o
}

// Sort orders ticks by the time of the device, then id.
func Sort(list []Tick) {
	slices.SortFunc(list, func(a, b Tick) int { return cmp.Or(a.At.Compare(b.At), cmp.Compare(a.ID, b.ID)) })
}

// mostContainers bounds what one tick may count: far more than a vehicle holds.
const mostContainers = 1000

// Check says in a sentence why t can't be a tick of a round with such a sheet; empty is
// that it can.
func (t Tick) Check(sheet *planner.RoundSheet) string {
	takes, known := needs[t.Kind]
	switch {
	case !known:
		return "there is no tick of this kind"
	case t.Containers < 0 || t.Containers > mostContainers:
		return "containers must be from 0 to 1000"
	case !takes.count && t.Containers != 0:
		return "this kind of tick counts no containers"
	case t.Kind == Short && t.Containers == 0:
		return "a lane is short of 1 container or more"
	case !takes.reason && (t.Reason != "" || t.Text != ""):
		return "only a skip has a reason"
	case takes.reason && !slices.Contains(Reasons(), t.Reason):
		return "a skip needs one of the known reasons"
	case t.Reason == Other && t.Text == "":
		return "the reason other needs a text"
	case strings.ContainsFunc(t.Text+t.Who, unreadable):
		return "a text holds characters that nobody can read"
	case (t.Kind == Undone) != (t.Undoes != ""):
		return "undoes belongs to a tick of the kind undone, and to no other"
	}
	return t.checkPlace(sheet, takes)
}

func unreadable(r rune) bool { return r == unicode.ReplacementChar || unicode.IsControl(r) }

// need says what a kind of tick must carry, and what it may not.
type need struct{ stop, lane, laneOrNone, part, count, reason bool }

var needs = map[Kind]need{
	Started: {},
	Ended:   {},
	Took:    {part: true, count: true},
	Brought: {stop: true, lane: true, count: true},
	Short:   {stop: true, lane: true, count: true},
	Empties: {stop: true, count: true},
	Skipped: {stop: true, laneOrNone: true, reason: true},
	Undone:  {},
}

// checkPlace checks stop, lane and part against the sheet.
func (t Tick) checkPlace(sheet *planner.RoundSheet, takes need) string {
	atLane := t.Level != 0 || t.Lane != 0
	switch {
	case takes.stop && (t.Stop < 1 || t.Stop > len(sheet.Stops)):
		return "the round has no such stop"
	case !takes.stop && t.Stop != 0:
		return "this kind of tick has no stop"
	case atLane && !takes.lane && !takes.laneOrNone:
		return "this kind of tick has no level and lane"
	case takes.part:
		if !slices.ContainsFunc(sheet.Takes, func(p planner.SheetTake) bool { return p.Part == t.Part }) {
			return "the round takes no such part"
		}
		return ""
	case !atLane && takes.lane:
		return "level and lane are missing"
	case !atLane && t.Part != "":
		return "a part needs a level and lane here"
	case !atLane:
		return ""
	}
	i := laneAt(sheet, t)
	if i < 0 {
		return "the round fills no such lane at this stop"
	}
	if t.Part != "" && t.Part != sheet.Stops[t.Stop-1].Lanes[i].Part {
		return "the lane is another part's"
	}
	return ""
}

// laneAt finds the lane of a tick among those of its stop; -1 is none.
func laneAt(sheet *planner.RoundSheet, t Tick) int {
	if t.Stop < 1 || t.Stop > len(sheet.Stops) {
		return -1
	}
	return slices.IndexFunc(sheet.Stops[t.Stop-1].Lanes, func(l planner.SheetLane) bool { return l.Level == t.Level && l.Lane == t.Lane })
}

// How late, and how early, ticks are taken: a device may lie in a locker over the
// holidays, and its clock may be hours off. What lies beyond is a clock that was never
// set, or a mistake, and would outlast what was meant.
const (
	daysAfter  = 60
	daysBefore = 2
	ahead      = 24 * time.Hour
)

// CheckTime says in a sentence why t can't be taken at a moment; empty is that it can.
func (t Tick) CheckTime(now time.Time) string {
	first, last := t.Round.Day.AddDate(0, 0, -daysBefore), t.Round.Day.AddDate(0, 0, daysAfter)
	switch {
	case now.Before(first) || now.After(last):
		return "ticks are taken from two days before a round's day to 60 days after it"
	case t.At.Before(first) || t.At.After(now.Add(ahead)):
		return "the clock of the device is wrong: it says " + t.At.UTC().Format("2006-01-02 15:04 MST") + "; set it and tick again"
	}
	return ""
}
