package wire

import (
	"cmp"
	"slices"
	"time"

	"lanewright/planner/ticks"
)

// RoundsSummary is a day's rounds for a supervisor.
type RoundsSummary struct {
	Plant    string       `json:"plant"`
	Plan     int64        `json:"plan" doc:"the plan that the floor works to"`
	Day      string       `json:"day"`
	Zone     string       `json:"zone"`
	Rounds   int          `json:"rounds"`
	ToCome   int          `json:"to_come" doc:"on which nothing was ticked"`
	Earlier  int          `json:"earlier" doc:"of those to come, rounds that left before the floor worked to this plan; they are not late"`
	UnderWay int          `json:"under_way"`
	Done     int          `json:"done" doc:"whose end was ticked"`
	Late     int          `json:"late" doc:"rounds in late_rounds, and those that did not fit in it"`
	Missed   int          `json:"missed" doc:"rounds on which nothing was ticked and whose return is past by more than late_min; they are late too"`
	Short    int          `json:"short" doc:"containers that lanes asked for and did not get"`
	Skipped  int          `json:"skipped" doc:"lanes that were skipped"`
	LateMin  int          `json:"late_min" doc:"a round is late by more than so many minutes"`
	Reasons  []SkipCount  `json:"reasons" doc:"of the skipped lanes, the most frequent first"`
	LateList []LateRound  `json:"late_rounds" doc:"the latest first, at most limit of them"`
	Misses   []Miss       `json:"misses" doc:"lanes that were short or skipped, by departure, at most limit of them; misses_total counts all"`
	MissesIn int          `json:"misses_total"`
	Strays   []StrayRound `json:"strays" doc:"rounds of other plans on which was ticked on the day; they are not counted above"`
}

// SkipCount says how often a reason was given.
type SkipCount struct {
	Reason string `json:"reason" enum:"rack_blocked,wrong_part,lane_full,damaged,other"`
	Lanes  int    `json:"lanes"`
}

// LateRound is a round that began or came back late, or has not yet.
type LateRound struct {
	DayRound
	StartLateMin float64 `json:"start_late_min" doc:"after its departure; until now where it has not begun"`
	BackLateMin  float64 `json:"back_late_min" doc:"after its planned return; until now where it has not ended"`
}

// Miss is a lane that was short or skipped on a round.
type Miss struct {
	Round   string `json:"round"`
	Route   string `json:"route"`
	Handler string `json:"handler"`
	Leaves  string `json:"leaves"`
	Stop    int    `json:"stop"`
	Rack    string `json:"rack"`
	Address string `json:"address"`
	Cell    string `json:"cell"`
	Station string `json:"station"`
	Part    string `json:"part"`
	Short   int    `json:"short" doc:"containers"`
	Skipped *Skip  `json:"skipped" doc:"null where it was not skipped"`
}

// StrayRound is a round of another plan.
type StrayRound struct {
	Round string `json:"round"`
	Ticks int    `json:"ticks"`
}

// NewRoundsSummary sums up the rounds of a day at a moment, where the floor has worked
// to their plan since another; lists have at most limit items.
func NewRoundsSummary(rounds []ticks.Round, strays []ticks.Tick, since, now time.Time, lateMin, limit int) *RoundsSummary {
	w := &RoundsSummary{Rounds: len(rounds), LateMin: lateMin, Misses: []Miss{}, Strays: newStrays(strays)}
	reasons := map[string]int{}
	var late []int // places of rounds
	behind := make([]ticks.Late, len(rounds))
	for i, r := range rounds {
		if r.State == ticks.ToCome && r.Leaves.Before(since) {
			w.Earlier++
			w.ToCome++
			continue
		}
		behind[i] = r.Late(now)
		if w.count(r, behind[i]) {
			late = append(late, i)
		}
		for _, m := range r.Misses() {
			if w.MissesIn++; w.MissesIn <= limit {
				w.Misses = append(w.Misses, newMiss(r, m))
			}
			w.Short += m.Short
			if m.Skipped != nil {
				w.Skipped++
				reasons[string(m.Skipped.Reason)]++
			}
		}
	}
	slices.SortStableFunc(late, func(a, b int) int {
		return cmp.Compare(max(behind[b].Start, behind[b].Back), max(behind[a].Start, behind[a].Back))
	})
	w.Reasons, w.Late = skipCounts(reasons), len(late)
	w.LateList = convert(late[:min(limit, len(late))], func(i int) LateRound {
		return LateRound{NewDayRound(rounds[i]), minutes(behind[i].Start), minutes(behind[i].Back)}
	})
	return w
}

// count counts a round by its state and reports whether it is late.
func (w *RoundsSummary) count(r ticks.Round, late ticks.Late) bool {
	allowed := time.Duration(w.LateMin) * time.Minute
	switch r.State {
	case ticks.ToCome:
		w.ToCome++
		if late.Back > allowed {
			w.Missed++
		}
	case ticks.UnderWay:
		w.UnderWay++
	case ticks.Done:
		w.Done++
	}
	return late.Start > allowed || late.Back > allowed
}

func newMiss(r ticks.Round, m ticks.Miss) Miss {
	w := Miss{
		Round: r.ID.String(), Route: r.Route.Route, Handler: r.Route.Handler, Leaves: clockTime(r.Leaves),
		Stop: m.Stop, Rack: string(r.Sheet.Stops[m.Stop-1].Rack), Short: m.Short, Skipped: newSkip(m.Skipped),
	}
	if l := m.Lane; l != nil {
		w.Address, w.Cell, w.Station, w.Part = l.Address, string(l.Cell), string(l.Station), string(l.Part)
	}
	return w
}

func skipCounts(reasons map[string]int) []SkipCount {
	list := []SkipCount{}
	for _, r := range ticks.Reasons() {
		if n := reasons[string(r)]; n > 0 {
			list = append(list, SkipCount{string(r), n})
		}
	}
	slices.SortStableFunc(list, func(a, b SkipCount) int { return b.Lanes - a.Lanes })
	return list
}

func newStrays(list []ticks.Tick) []StrayRound {
	strays, at := []StrayRound{}, map[ticks.RoundID]int{}
	for _, t := range list {
		i, there := at[t.Round]
		if !there {
			i = len(strays)
			at[t.Round], strays = i, append(strays, StrayRound{Round: t.Round.String()})
		}
		strays[i].Ticks++
	}
	slices.SortFunc(strays, func(a, b StrayRound) int { return cmp.Compare(a.Round, b.Round) })
	return strays
}
