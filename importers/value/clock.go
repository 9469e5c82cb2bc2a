package value

import (
	"strings"
	"time"

	"lanewright/importers/sheet"
	"lanewright/planner/units"
)

const (
	clockWanted = "a time of day such as 06:00 or 2:30 PM"
	clockRemedy = "Write hours and minutes with a colon, such as 06:00."
	day         = 24 * time.Hour
)

// Clock reads a time of day as the time since midnight, up to 24:00: "06:00",
// "6:00 AM", "6 PM", "6h30", "14.30 Uhr", or a spreadsheet's time or fraction
// of a day. A number that is no fraction of a day is a Problem.
func Clock(c sheet.Cell) (time.Duration, error) {
	switch {
	case unusable(c):
		return 0, problem(c, clockWanted, "")
	case c.Number:
		return storedClock(c)
	}
	d, ok := parseClock(fold(c.Text))
	if !ok {
		return 0, problem(c, clockWanted, clockRemedy)
	}
	return d, nil
}

// storedClock reads a spreadsheet's time; of a date with a time, the time.
func storedClock(c sheet.Cell) (time.Duration, error) {
	days, err := units.ParseRatio(c.Raw)
	if err != nil || days.Sign() < 0 {
		return 0, problem(c, clockWanted, clockRemedy)
	}
	if c.Date && strings.Contains(c.Text, "T") {
		days = days.Sub(units.Int(days.Floor()))
	}
	d := toSecond(days)
	if d > day || c.Date && strings.Contains(c.Text, "-") && !strings.Contains(c.Text, "T") {
		return 0, problem(c, clockWanted, clockRemedy)
	}
	return d, nil
}

// parseClock reads a folded text.
func parseClock(s string) (time.Duration, bool) {
	s, half := cutHalf(s)
	s, uhr := strings.CutSuffix(s, "uhr")
	s = strings.TrimSpace(s)
	mark := ":"
	if uhr && !strings.Contains(s, ":") {
		mark = "."
	}
	if half == "" && !uhr && strings.Contains(s, "h") {
		s = strings.TrimSuffix(strings.ReplaceAll(strings.ReplaceAll(s, " ", ""), "h", ":"), ":")
		half = "24"
	}
	fields := strings.Split(s, mark)
	whole := half != "" || uhr
	if len(fields) > 3 || len(fields) == 1 && !whole {
		return 0, false
	}
	return clockOf(fields, half)
}

// cutHalf cuts am or pm from the end.
func cutHalf(s string) (rest, half string) {
	for _, h := range []string{"am", "pm", "a.m.", "p.m."} {
		if rest, ok := strings.CutSuffix(s, h); ok {
			return strings.TrimSpace(rest), h[:1]
		}
	}
	return s, ""
}

// clockOf puts hours, minutes and seconds together.
func clockOf(fields []string, half string) (time.Duration, bool) {
	var n [3]int
	for i, f := range fields {
		v, ok := digits(f)
		if !ok || len(f) > 2 || i > 0 && (len(f) != 2 || v > 59) {
			return 0, false
		}
		n[i] = v
	}
	if half == "a" || half == "p" {
		if n[0] < 1 || n[0] > 12 {
			return 0, false
		}
		n[0] %= 12
		if half == "p" {
			n[0] += 12
		}
	}
	d := time.Duration(n[0]*3600+n[1]*60+n[2]) * time.Second
	return d, d <= day
}
