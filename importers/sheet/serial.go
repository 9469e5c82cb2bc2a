package sheet

import (
	"fmt"
	"math"
	"time"
)

const (
	secondsPerDay = 24 * 60 * 60
	// lastSerial is 9999-12-31 in the 1900 system, the last day of the format.
	lastSerial = 2_958_465
	// days1904 is the serial of 1904-01-01 in the 1900 system.
	days1904 = 1462
)

// moment is a serial date taken apart.
type moment struct {
	days    int // since the epoch of the date system
	seconds int // of the day, to the nearest second
}

func momentOf(serial float64) moment {
	total := math.Round(serial * secondsPerDay)
	days := math.Floor(total / secondsPerDay)
	return moment{days: int(days), seconds: int(total - days*secondsPerDay)}
}

// isoSerial returns the ISO text of a serial date or time as its format shows
// it, and whether it is one: spreadsheets have no dates before their epoch
// nor after 9999-12-31.
func isoSerial(serial float64, date1904 bool, f numberFormat) (string, bool) {
	if serial < 0 || serial >= lastSerial+1 {
		return "", false
	}
	m := momentOf(serial)
	clock := isoClock(m.seconds)
	switch {
	case f.elapsed:
		return isoElapsed(m), true
	case !f.hasDate, f.hasTime && m.days == 0:
		return clock, true
	}
	date, ok := isoDate(m.days, date1904)
	if !ok || !f.hasTime {
		return date, ok
	}
	return fmt.Sprintf("%sT%02d:%02d:%02d", date, m.seconds/3600, m.seconds/60%60, m.seconds%60), true
}

func isoClock(seconds int) string {
	if seconds%60 == 0 {
		return fmt.Sprintf("%02d:%02d", seconds/3600, seconds/60%60)
	}
	return fmt.Sprintf("%02d:%02d:%02d", seconds/3600, seconds/60%60, seconds%60)
}

func isoElapsed(m moment) string {
	hours := m.days*24 + m.seconds/3600
	if m.seconds%60 == 0 {
		return fmt.Sprintf("%02d:%02d", hours, m.seconds/60%60)
	}
	return fmt.Sprintf("%02d:%02d:%02d", hours, m.seconds/60%60, m.seconds%60)
}

// isoDate returns the date of a day number. The 1900 system counts a
// 29 February 1900 that never was (day 60), and its day 0 is no day.
func isoDate(days int, date1904 bool) (string, bool) {
	switch {
	case date1904:
		days += days1904
	case days == 0:
		return "", false
	case days == 60:
		return "1900-02-29", true
	case days < 60:
		days++
	}
	return time.Date(1899, time.December, 30+days, 0, 0, 0, 0, time.UTC).Format(time.DateOnly), true
}

// isoLayouts are the texts of date cells of the strict variant (type "d").
var isoLayouts = []struct {
	layout           string
	hasDate, hasTime bool
}{
	{time.DateOnly, true, false},
	{"2006-01-02T15:04:05.999999999Z07:00", true, true},
	{"2006-01-02T15:04:05.999999999", true, true},
	{"2006-01-02T15:04", true, true},
	{"15:04:05.999999999", false, true},
	{"15:04", false, true},
}

// parseISO returns the serial of an ISO text and what it states.
func parseISO(text string, date1904 bool) (serial float64, f numberFormat, ok bool) {
	for _, l := range isoLayouts {
		t, err := time.Parse(l.layout, text)
		if err != nil {
			continue
		}
		share := float64(t.Hour()*3600+t.Minute()*60+t.Second()) / secondsPerDay
		f = numberFormat{kind: formatDate, hasDate: l.hasDate, hasTime: l.hasTime}
		if !l.hasDate {
			return share, f, true
		}
		day := time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, time.UTC)
		days := int(day.Sub(time.Date(1899, time.December, 30, 0, 0, 0, 0, time.UTC)) / (24 * time.Hour))
		switch {
		case date1904:
			days -= days1904
		case days <= 60:
			days--
		}
		return float64(days) + share, f, true
	}
	return 0, f, false
}
