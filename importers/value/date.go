package value

import (
	"strings"
	"time"

	"lanewright/importers/sheet"
)

// dateLayouts are the texts that name one day without doubt. A point between
// numbers is read as day.month.year, as everywhere it is written.
var dateLayouts = []string{
	"2006-1-2", "2006/1/2", "2006.1.2", "20060102", "2.1.2006", "2 January 2006", "2 Jan 2006",
	"2-Jan-2006", "2. January 2006", "January 2 2006", "Jan 2 2006", "2006-01-02T15:04:05", "2006-01-02 15:04:05", "2006-01-02 15:04",
}

// Date reads a day, at midnight UTC: a spreadsheet's date, "2024-03-05",
// "5.3.2024", "5 March 2024". "3/5/2024" can mean two days and is a Problem
// unless one number is above 12; so is a year of two digits.
func Date(c sheet.Cell) (time.Time, error) {
	const wanted = "a date such as 2024-03-05"
	const remedy = "Write the date as year-month-day, or give the cell a date format."
	if unusable(c) || c.Number && !c.Date {
		return time.Time{}, problem(c, wanted, remedy)
	}
	text := strings.Join(strings.Fields(strings.ReplaceAll(clean(c.Text), ",", " ")), " ")
	for _, layout := range dateLayouts {
		if t, err := time.Parse(layout, text); err == nil {
			return midnight(t), nil
		}
	}
	first, err1 := time.Parse("2/1/2006", text)
	second, err2 := time.Parse("1/2/2006", text)
	switch {
	case err1 == nil && (err2 != nil || first.Equal(second)):
		return first, nil
	case err2 == nil && err1 != nil:
		return second, nil
	case err1 == nil:
		return time.Time{}, problem(c, wanted+"; this one can mean "+first.Format("2 January")+" or "+second.Format("2 January"), remedy)
	}
	return time.Time{}, problem(c, wanted, remedy)
}

func midnight(t time.Time) time.Time {
	return time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, time.UTC)
}
