package importers

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"lanewright/importers/column"
	"lanewright/importers/sheet"
	"lanewright/planner/finding"
)

// describe reports what is odd about the sheet and its headings.
func (t *table) describe() {
	if len(t.sheet.Rows) == 0 {
		return
	}
	if t.sheet.State != sheet.Visible && t.sheet.State != "" {
		t.rd.note(t, CodeSheetHidden, fmt.Sprintf("Sheet %q is hidden", t.sheet.Name),
			"Hidden sheets are treated like all others.", "Show it in the spreadsheet program to see what it holds, or take it out of the file.")
	}
	t.describeHidden()
	if t.kind.Name == "" {
		t.describeUnknown()
		return
	}
	t.describeMissing()
	t.describeColumns()
}

// describeHidden says which rows and columns nobody sees who looks at the
// sheet; they were read.
func (t *table) describeHidden() {
	if t.piece > 0 {
		return
	}
	if n := t.sheet.HiddenRows; n > 0 {
		why := ""
		if t.sheet.Filtered {
			why = " (a filter is set)"
		}
		t.rd.note(t, CodeRowsHidden, fmt.Sprintf("Sheet %q has %s%s", t.sheet.Name, count(n, "hidden row"), why),
			"Hidden rows are read like all others.", "Take the filter off, or delete the rows if they should not count.")
	}
	var letters []string
	for _, c := range t.sheet.HiddenWithin() {
		letters = append(letters, sheet.Letters(c))
	}
	if len(letters) > 0 {
		t.rd.note(t, CodeColumnsHidden, fmt.Sprintf("Sheet %q has %s: %.200s", t.sheet.Name, count(len(letters), "hidden column"), strings.Join(letters, ", ")),
			"Hidden columns are read like all others.", "Show them to see what they hold, or delete them if they should not count.")
	}
}

func (t *table) describeUnknown() {
	if t.keptOut {
		t.rd.note(t, CodeMappingUsed, fmt.Sprintf("Sheet %q is kept out by the mapping (%s)", t.sheet.Name, count(len(t.sheet.Rows), "row")),
			"Its rows are kept out of the plan.", "Nothing to do.")
		return
	}
	if slices.ContainsFunc(t.rd.found, func(f finding.Finding) bool {
		return f.Code == CodeSheetSecond && f.Origin == t.sheet.Origin(0, -1)
	}) {
		return
	}
	var names []string
	for _, k := range column.Sheets() {
		names = append(names, k.Name)
	}
	remedy := "Nothing to do if it is not for the plan; else give it the name and the headings of one of " + strings.Join(names, ", ") + "."
	if t.isTurned() {
		remedy = turn
	} else if near, ok := column.Nearest(t.sheet.Name, names); ok {
		remedy = fmt.Sprintf("Did you mean %s? ", near) + remedy
	}
	t.rd.note(t, CodeSheetUnknown, fmt.Sprintf("Sheet %q was not read: neither its name nor its headings are known (%s)", t.sheet.Name, count(len(t.sheet.Rows), "row")),
		"Its rows are kept out of the plan.", remedy)
}

// describeMissing reports the columns that t can not be read without; then
// none of its rows can be used.
func (t *table) describeMissing() {
	names := t.missing()
	if len(names) == 0 {
		return
	}
	headings := t.headings()
	found := make([]string, 0, len(headings))
	for _, h := range headings {
		if strings.TrimSpace(h) != "" {
			found = append(found, fmt.Sprintf("%q", strings.TrimSpace(h)))
		}
	}
	remedy := "Name the column as " + t.what() + " of the template has it, say in a mapping which one it is, or add it."
	detail := fmt.Sprintf("It was read as %s with the headings %s. Without the column none of its rows can be used.", t.what(), strings.Join(found, ", "))
	if span := t.periods(); span != "" {
		detail += fmt.Sprintf(" The columns %s look like weeks, months or days.", span)
		remedy = "Give the mean of such columns in one column Pieces per hour or Pieces per day; what was used day by day can stand in the sheet History. " + remedy
	}
	for _, h := range t.unknownHeadings() {
		for _, may := range t.candidates(h) {
			if slices.Contains(names, may) || slices.ContainsFunc(names, func(n string) bool { return strings.Contains(n, "(or ") && strings.Contains(n, may) }) {
				remedy = fmt.Sprintf("Did you mean %q to be %s? ", h, may) + remedy
			}
		}
	}
	t.rd.say(finding.Finding{
		Severity: finding.Error, Code: CodeColumnMissing, Origin: t.sheet.Origin(t.sheet.Rows[t.head.at].Number, -1),
		Summary: fmt.Sprintf("Sheet %q has no column %s", t.sheet.Name, strings.Join(names, ", ")),
		Detail:  detail,
		Remedy:  remedy,
	})
	for _, r := range t.rows {
		r.state = reported
	}
}

// period is a heading that names a week, a month or a day.
var period = regexp.MustCompile(`(?i)^(?:(?:week|wk|w|kw|cw|sem|semana|semaine|s)[ .-]*[0-9]{1,2}(?:[ ./-]*[0-9]{2,4})?|(?:jan|feb|fev|mar|mär|apr|abr|avr|may|mai|jun|juin|jul|juil|aug|ago|aou|sep|oct|okt|nov|dec|dez|dic)[a-zé]*[ .-]*[0-9]{0,4}|[0-9]{4}-[0-9]{2}(?:-[0-9]{2})?|[0-9]{1,2}[./][0-9]{1,2}[./][0-9]{2,4})$`)

// periods names the first and the last of the unknown columns that look like weeks,
// months or days, where there are three or more.
func (t *table) periods() string {
	var list []string
	for _, i := range t.match.Unknown {
		if h := trim(t.names[i]); period.MatchString(h) {
			list = append(list, h)
		}
	}
	if len(list) < 3 {
		return ""
	}
	return fmt.Sprintf("%q to %q", list[0], list[len(list)-1])
}

// candidates are the columns that an unknown heading may mean, of those that
// t does not have.
func (t *table) candidates(heading string) []string {
	return column.LexiconOf(t.kind).Candidates(column.NewHeading(heading, splitHeading), func(field string) bool {
		_, taken := t.match.At[field]
		return !taken
	})
}

func (t *table) unknownHeadings() []string {
	headings := t.headings()
	var names []string
	for _, i := range t.match.Unknown {
		name, _ := splitHeading(headings[i])
		names = append(names, name)
	}
	return names
}

// describeColumns reports headings that mean nothing here, or what another
// column means already, and columns with values but no heading.
func (t *table) describeColumns() {
	headings := t.headings()
	var free []string
	for _, c := range t.kind.Columns {
		if _, ok := t.match.At[c.Field]; !ok {
			free = append(free, c.Field)
		}
	}
	for _, i := range t.match.Unknown {
		if may := t.candidates(headings[i]); len(may) > 0 {
			t.heading(finding.Warning, CodeColumnNear, i, fmt.Sprintf("Column %q is not known; did you mean %s?", headings[i], strings.Join(may, " or ")),
				"Its values are kept out of the plan.", "Correct the heading, say in a mapping what it means, or leave it if it is something else.")
			continue
		}
		remedy := "Nothing to do: every column of the sheet is there."
		if len(free) > 0 {
			remedy = "Nothing to do, unless it should be one of: " + strings.Join(free, ", ") + "."
		}
		t.heading(finding.Note, CodeColumnUnknown, i, fmt.Sprintf("Column %q is not known in %s", headings[i], t.what()),
			"Its values are kept out of the plan.", remedy)
	}
	for i := range headings {
		if f, ok := t.match.Repeated[i]; ok {
			t.heading(finding.Warning, CodeColumnRepeated, i, fmt.Sprintf("Columns %q and %q both mean %s; the first was read", headings[t.match.At[f]], headings[i], f),
				"Which of the two holds the right values can not be known.", "Take one of the columns out or rename it.")
		}
	}
	t.describeWords(headings)
	t.describeUnits(headings)
	t.describeNameless(headings)
}

// describeWords reports columns that are known by the words of their heading
// only.
func (t *table) describeWords(headings []string) {
	for _, c := range t.kind.Columns {
		if at, ok := t.match.At[c.Field]; ok && t.match.By[c.Field] == column.Words {
			t.heading(finding.Note, CodeColumnWords, at, fmt.Sprintf("Column %q was read as %s, by its words", headings[at], c.Field),
				"The heading is none that is known as a whole; taken word by word it is.", "Nothing to do, unless it means something else: then rename it, or say so in a mapping.")
		}
	}
}

// describeNameless reports columns that hold values under no heading.
func (t *table) describeNameless(headings []string) {
	told := map[int]bool{}
	for _, r := range t.rows {
		for i, c := range r.cells() {
			if c.IsEmpty() || told[i] || (i < len(headings) && column.Fold(headings[i]) != "") {
				continue
			}
			told[i] = true
			t.heading(finding.Note, CodeColumnNoHeading, i, fmt.Sprintf("Column %s of sheet %q has values but no heading (first in row %d)", sheet.Letters(i), t.sheet.Name, r.Number),
				"Its values are kept out of the plan.", "Give the column a heading if the plan needs it.")
		}
	}
}

func (t *table) heading(s finding.Severity, code string, i int, summary, detail, remedy string) {
	t.rd.say(finding.Finding{
		Severity: s, Code: code, Origin: t.sheet.Origin(t.sheet.Rows[t.head.at].Number, i),
		Summary: summary, Detail: detail, Remedy: remedy,
	})
}
