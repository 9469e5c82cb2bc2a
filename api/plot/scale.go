package plot

import (
	"math"
	"strconv"
	"time"
)

// scale turns values from low to high into pixels from first to last.
type scale struct{ low, high, first, last float64 }

func (s scale) at(v float64) float64 {
	if s.high == s.low {
		return s.first
	}
	return s.first + (v-s.low)/(s.high-s.low)*(s.last-s.first)
}

// step returns the round number, 1, 2 or 5 times a power of ten, that parts span
// into at most so many steps.
func step(span float64, most int) float64 {
	if span <= 0 || math.IsInf(span, 0) || math.IsNaN(span) {
		return 1
	}
	raw := span / float64(max(1, most))
	power := math.Pow(10, math.Floor(math.Log10(raw)))
	for _, m := range []float64{1, 2, 5} {
		if raw <= m*power*(1+1e-9) {
			return m * power
		}
	}
	return 10 * power
}

// whole are steps of numbers that have no parts: 1 or more.
func whole(span float64, most int) float64 { return max(1, step(span, most)) }

// ticks returns the multiples of by from low to high.
func ticks(low, high, by float64) []float64 {
	var list []float64
	for i := math.Ceil(low/by - 1e-9); i*by <= high+by*1e-9; i++ {
		list = append(list, i*by+0) // never a 0 below 0
	}
	return list
}

// number writes a tick or a count with thin spaces between thousands.
func number(f float64) string {
	s := strconv.FormatFloat(f, 'f', -1, 64)
	whole, rest := s, ""
	for i := range s {
		if s[i] == '.' {
			whole, rest = s[:i], s[i:]
			break
		}
	}
	for i := len(whole) - 3; i > 0 && whole[i-1] != '-'; i -= 3 {
		whole = whole[:i] + "\u2009" + whole[i:]
	}
	return whole + rest
}

// clockSteps are the distances of clock ticks in minutes.
func clockSteps() []int { return []int{5, 10, 15, 30, 60, 120, 180, 360, 720, 1440} }

// clockTicks returns times on the clock of zone between from and to, at least so
// many pixels apart, and how many minutes lie between two.
func clockTicks(from, to time.Time, zone *time.Location, pixels, apart float64) ([]time.Time, int) {
	minutes := 0
	for _, minutes = range clockSteps() {
		if pixels*float64(minutes)/max(1, to.Sub(from).Minutes()) >= apart {
			break
		}
	}
	var list []time.Time
	year, month, day := from.In(zone).Date()
	for d := 0; ; d++ {
		for m := 0; m < 24*60; m += minutes {
			t := time.Date(year, month, day+d, 0, m, 0, 0, zone)
			if t.After(to) {
				return list, minutes
			}
			// A time that the clock skips is shown by the one after it.
			if !t.Before(from) && (len(list) == 0 || t.After(list[len(list)-1])) {
				list = append(list, t)
			}
		}
	}
}
