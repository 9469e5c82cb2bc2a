package ticks

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"lanewright/planner"
)

// RoundID names one round of one day for good: a plan never changes, and so its rounds
// do not. Its times are in UTC, so that names can be compared.
type RoundID struct {
	Plan int64
	// Day is the day on which the shift begins; only its date counts.
	Day time.Time
	// Working is that of planner.DayRound.
	Working int
	Leaves  time.Time
	Route   string
}

// IDOf names a round of a plan.
func IDOf(plan int64, day time.Time, r planner.DayRound) RoundID {
	return RoundID{plan, day.UTC(), r.Working, r.Leaves.UTC(), r.Route.Route}
}

// leavesLayout is that of UTC: on the night on which clocks go back two departures may
// show the same time.
const leavesLayout = "20060102T150405.999999999Z"

// String returns the name, such as "12.2026-10-24.2.20261025T003000Z.A".
func (r RoundID) String() string {
	return fmt.Sprintf("%d.%s.%d.%s.%s", r.Plan, r.Day.Format(time.DateOnly), r.Working,
		strings.ReplaceAll(r.Leaves.Format(leavesLayout), ".", "_"), r.Route)
}

// ParseRoundID reads a name. Whether there is such a round only its plan can tell.
func ParseRoundID(text string) (r RoundID, ok bool) {
	fields := strings.SplitN(text, ".", 5)
	if len(fields) < 5 {
		return r, false
	}
	var errs [4]error
	r.Plan, errs[0] = strconv.ParseInt(fields[0], 10, 64)
	r.Day, errs[1] = time.Parse(time.DateOnly, fields[1])
	r.Working, errs[2] = strconv.Atoi(fields[2])
	r.Leaves, errs[3] = time.Parse(leavesLayout, strings.ReplaceAll(fields[3], "_", "."))
	r.Route = fields[4]
	for _, err := range errs {
		if err != nil {
			return RoundID{}, false
		}
	}
	// One name for one round: no leading zeros, no signs.
	return r, r.Plan > 0 && r.String() == text
}
