package ergonomics

import (
	"time"

	"lanewright/planner/units"
)

// Duration is a class of lifting duration of the equation.
type Duration int

// Duration classes (Applications Manual, pp. 13-14).
const (
	// Short: up to 1 h of lifting followed by at least as much recovery.
	Short Duration = iota
	// Moderate: up to 2 h followed by at least 0.3 times as much.
	Moderate
	// Long: up to 8 h.
	Long
)

// DurationOf returns the class of work followed by recovery.
func DurationOf(work, recovery time.Duration) Duration {
	switch {
	case work <= time.Hour && recovery >= work:
		return Short
	case work <= 2*time.Hour && float64(recovery) >= 0.3*float64(work):
		return Moderate
	default:
		return Long
	}
}

// frequencies are the rows of Table 5.
var frequencies = [...]float64{0.2, 0.5, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15}

// frequencyTable is Table 5 of the Applications Manual (p. 15): by duration
// class, V below 75 cm then V from 75 cm, a value for each of frequencies.
var frequencyTable = [3][2][17]float64{
	Short: {
		{1, .97, .94, .91, .88, .84, .80, .75, .70, .60, .52, .45, .41, .37, 0, 0, 0},
		{1, .97, .94, .91, .88, .84, .80, .75, .70, .60, .52, .45, .41, .37, .34, .31, .28},
	},
	Moderate: {
		{.95, .92, .88, .84, .79, .72, .60, .50, .42, .35, .30, .26, 0, 0, 0, 0, 0},
		{.95, .92, .88, .84, .79, .72, .60, .50, .42, .35, .30, .26, .23, .21, 0, 0, 0},
	},
	Long: {
		{.85, .81, .75, .65, .55, .45, .35, .27, .22, .18, 0, 0, 0, 0, 0, 0, 0},
		{.85, .81, .75, .65, .55, .45, .35, .27, .22, .18, .15, .13, 0, 0, 0, 0, 0},
	},
}

// FM is the frequency multiplier for perMinute lifts a minute with the hands
// at the origin's height: Table 5, linear between its rows (p. 7), 0 above its
// last nonzero row.
func FM(perMinute float64, d Duration, origin units.Length) float64 {
	column := &frequencyTable[d][0]
	if centimetres(origin) >= 75 {
		column = &frequencyTable[d][1]
	}
	if perMinute <= frequencies[0] {
		return column[0]
	}
	for i := 1; i < len(frequencies); i++ {
		lo, hi := frequencies[i-1], frequencies[i]
		if perMinute > hi {
			continue
		}
		if column[i] == 0 && perMinute > lo {
			return 0
		}
		return column[i-1] + (column[i]-column[i-1])*(perMinute-lo)/(hi-lo)
	}
	return 0
}
