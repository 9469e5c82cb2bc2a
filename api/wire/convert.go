package wire

import (
	"fmt"
	"time"

	"lanewright/planner/units"
)

// convert maps a list element by element; the result is never nil.
func convert[A, B any](list []A, f func(A) B) []B {
	out := make([]B, len(list))
	for i, x := range list {
		out[i] = f(x)
	}
	return out
}

// texts turns codes into text.
func texts[S ~string](list []S) []string {
	return convert(list, func(s S) string { return string(s) })
}

// minutes is exact until its one rounding.
func minutes(d time.Duration) float64 { return units.Minutes(d).Float64() }

func percent(share units.Ratio) float64 { return share.Mul(units.Int(100)).Float64() }

func perHour(perMinute units.Ratio) float64 { return perMinute.Mul(units.Int(60)).Float64() }

// clock writes a time since midnight as "06:00", past 24 h as the next day's
// time; seconds are cut off.
func clock(d time.Duration) string {
	d %= 24 * time.Hour
	return fmt.Sprintf("%02d:%02d", d/time.Hour, d%time.Hour/time.Minute)
}

// clockSeconds writes "06:00:00".
func clockSeconds(d time.Duration) string {
	return fmt.Sprintf("%s:%02d", clock(d), d%time.Minute/time.Second)
}
