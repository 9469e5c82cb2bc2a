package value

import (
	"strings"
	"time"

	"lanewright/importers/sheet"
)

// YesNo reads a truth value in English, German, Spanish or French, a tick box
// (x), 1 or 0, or a spreadsheet's TRUE or FALSE.
func YesNo(c sheet.Cell) (bool, error) {
	const wanted, remedy = "yes or no", "Type yes or no."
	if unusable(c) || c.Date {
		return false, problem(c, wanted, remedy)
	}
	text := fold(c.Text)
	if c.Number {
		text = c.Raw
	}
	switch text {
	case "yes", "y", "true", "1", "x", "✓", "✔", "j", "ja", "wahr", "si", "sí", "s", "verdadero", "oui", "o", "vrai":
		return true, nil
	case "no", "n", "false", "0", "nein", "falsch", "falso", "non", "faux", "✗", "✘":
		return false, nil
	}
	return false, problem(c, wanted, remedy)
}

// dayNames gives the weekday of a folded name. Abbreviations that mean
// different days in different languages (do, di) are left out.
var dayNames = map[string]time.Weekday{
	"mo": time.Monday, "mon": time.Monday, "monday": time.Monday, "mondays": time.Monday, "montag": time.Monday, "lunes": time.Monday, "lundi": time.Monday,
	"tu": time.Tuesday, "tue": time.Tuesday, "tues": time.Tuesday, "tuesday": time.Tuesday, "tuesdays": time.Tuesday, "dienstag": time.Tuesday, "martes": time.Tuesday, "mardi": time.Tuesday,
	"we": time.Wednesday, "wed": time.Wednesday, "wednesday": time.Wednesday, "wednesdays": time.Wednesday, "mi": time.Wednesday, "mittwoch": time.Wednesday, "miércoles": time.Wednesday, "miercoles": time.Wednesday, "mercredi": time.Wednesday,
	"th": time.Thursday, "thu": time.Thursday, "thur": time.Thursday, "thurs": time.Thursday, "thursday": time.Thursday, "thursdays": time.Thursday, "donnerstag": time.Thursday, "jueves": time.Thursday, "jeudi": time.Thursday,
	"fr": time.Friday, "fri": time.Friday, "friday": time.Friday, "fridays": time.Friday, "freitag": time.Friday, "viernes": time.Friday, "vendredi": time.Friday,
	"sa": time.Saturday, "sat": time.Saturday, "saturday": time.Saturday, "saturdays": time.Saturday, "samstag": time.Saturday, "sonnabend": time.Saturday, "sábado": time.Saturday, "sabado": time.Saturday, "samedi": time.Saturday,
	"su": time.Sunday, "sun": time.Sunday, "sunday": time.Sunday, "sundays": time.Sunday, "so": time.Sunday, "sonntag": time.Sunday, "domingo": time.Sunday, "dimanche": time.Sunday,
}

// Days reads days of the week: "Mon-Fri", "Mon,Wed", "Sat-Mon", "daily". The
// result counts from Sunday, as time.Weekday does.
func Days(c sheet.Cell) ([7]bool, error) {
	const wanted, remedy = "days such as Mon-Fri or Mon,Wed", "Write the days by their English names or their first three letters, a hyphen for from-to and commas between."
	var days [7]bool
	if unusable(c) || c.Number {
		return days, problem(c, wanted, remedy)
	}
	text := fold(c.Text)
	switch text {
	case "daily", "every day", "all days", "all":
		return [7]bool{true, true, true, true, true, true, true}, nil
	case "weekdays":
		text = "mon-fri"
	}
	text = strings.NewReplacer(" to ", "-", " through ", "-", " bis ", "-", " and ", ",", " und ", ",", ";", ",", "/", ",", "+", ",", "&", ",", ".", "").Replace(text)
	text = strings.NewReplacer(" - ", "-", " -", "-", "- ", "-").Replace(text)
	for piece := range strings.FieldsFuncSeq(text, func(r rune) bool { return r == ',' || r == ' ' }) {
		if !addDays(&days, piece) {
			return [7]bool{}, problem(c, wanted, remedy)
		}
	}
	if days == [7]bool{} {
		return days, problem(c, wanted, remedy)
	}
	return days, nil
}

// addDays adds one day or a range of days, which may pass the weekend.
func addDays(days *[7]bool, piece string) bool {
	from, to, ranged := strings.Cut(piece, "-")
	first, ok := dayNames[from]
	if !ok {
		return false
	}
	last := first
	if ranged {
		if last, ok = dayNames[to]; !ok {
			return false
		}
	}
	for d := first; ; d = (d + 1) % 7 {
		days[d] = true
		if d == last {
			return true
		}
	}
}
