package importers

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"lanewright/importers/column"
	"lanewright/importers/sheet"
	"lanewright/importers/value"
	"lanewright/planner/finding"
	"lanewright/planner/units"
)

// Codes of findings about single values.
const (
	CodeMissingValue   = "rows.missing-value"
	CodeBadValue       = "rows.bad-value"
	CodeOutOfRange     = "rows.out-of-range"
	CodeIgnoredValue   = "rows.ignored-value"
	CodeHalf           = "rows.half-given"
	CodeDateAsCode     = "codes.date"
	CodePercentOrShare = "rows.percent-or-share"
)

// need says what a value is to its row.
type need int

const (
	// must: without it, or with a bad one, the row is left out.
	must need = iota
	// may: blank is a default, a bad one leaves the row out, for it would
	// change the plan.
	may
	// info: a bad one is left away with a warning and the row is used.
	info
)

// slot is the place of one value: a column of a row, or a setting.
type slot struct {
	row    *row
	field  string
	need   need
	column int
	cell   sheet.Cell
	// unit is the heading's, base the one that holds where neither heading
	// nor cell names one; empty base means the plant's own.
	unit, base string
	blank      bool
	// bad says why nothing can be read from the cell, before any value is.
	bad error
	// told says that another value of the same cell was reported for it.
	told bool
}

func (r *row) must(field string) slot { return r.slot(field, must) }
func (r *row) may(field string) slot  { return r.slot(field, may) }
func (r *row) info(field string) slot { return r.slot(field, info) }

func (r *row) slot(field string, n need) slot {
	s := slot{row: r, field: field, need: n, column: -1, blank: true, unit: r.t.match.Unit[field], base: r.t.base[field]}
	if at, ok := r.t.match.At[field]; ok {
		s.column = at
		if cells := r.cells(); at < len(cells) {
			s.cell = cells[at]
			s.blank = blank(s.cell)
		}
		return s
	}
	s.ofMeasures()
	s.ofSheet()
	return s
}

// blank reports whether a cell gives no value; characters that show nothing
// are none.
func blank(c sheet.Cell) bool {
	return value.Blank(c) || (!c.Number && !c.Error && !c.NoValue && trim(c.Text) == "")
}

// given reports whether the row has a value in the column.
func (r *row) given(field string) bool { return !r.slot(field, may).blank }

// origin of the row; findings narrow it to a column.
func (r *row) origin() finding.Origin { return r.t.sheet.Origin(r.Number, -1) }

func (s slot) origin() finding.Origin { return s.row.t.sheet.Origin(s.row.Number, s.column) }

// read parses the value of s and checks that it lies within its range;
// whatever is wrong is reported and the zero value returned.
func read[T any](s slot, parse func() (T, error), within func(T) bool, expected string) (v T) {
	if s.told {
		return v
	}
	if s.blank {
		if s.need == must {
			s.missing()
		}
		return v
	}
	x, err := parse()
	if err = cmp.Or(s.bad, err); err != nil {
		s.unreadable(err)
		return v
	}
	if !within(x) {
		s.report(CodeOutOfRange, fmt.Sprintf("%s is %q, outside its range", s.field, s.found()), "Expected "+expected+".", "Correct the value, and check its unit and its decimal mark.")
		return v
	}
	return x
}

func anything[T any](T) bool { return true }

// found is the value as the sheet shows it.
func (s slot) found() string {
	if s.cell.NoValue {
		return "a formula without a saved result"
	}
	return s.cell.Text
}

func (s slot) missing() {
	remedy := "Fill in the cell, or delete the row if it is not needed."
	if column.HoldsOf(s.field) == column.Key {
		remedy = "Fill in the cell (if the value above was meant, copy it down: a blank does not stand for it), or delete the row if it is not needed."
	}
	s.report(CodeMissingValue, fmt.Sprintf("%s is blank", s.field), fmt.Sprintf("Every row of %s needs it.", s.row.t.what()), remedy)
}

func (s slot) unreadable(err error) {
	var p value.Problem
	if !errors.As(err, &p) {
		p = value.Problem{Expected: err.Error(), Remedy: "Correct the value."}
	}
	s.report(CodeBadValue, fmt.Sprintf("%s is %q", s.field, s.found()), "Expected "+strings.TrimPrefix(p.Expected, "expected ")+".", p.Remedy)
}

// report says what is wrong with the value. It costs the row, unless the value
// is for information only.
func (s slot) report(code, summary, detail, remedy string) {
	f := finding.Finding{
		Severity: finding.Error, Code: code, Origin: s.origin(), Subject: s.row.subject(),
		Summary: summary, Detail: detail, Remedy: remedy,
	}
	if s.need == info {
		f.Severity, f.Code = finding.Warning, CodeIgnoredValue
		f.Detail += " The value was left away and the row used without it."
	} else {
		s.row.state = reported
		f.Detail += " The row was left out."
	}
	s.row.t.rd.say(f)
}

// subject names what the row is about, as far as its codes say.
func (r *row) subject() finding.Subject {
	text := func(field string) string {
		if s := r.may(field); !s.blank {
			return trim(s.cell.Text)
		}
		return ""
	}
	s := finding.Subject{
		Part: text("Part"), Container: text("Container"), Product: text("Product"), Cell: text("Cell"),
		Station: text("Station"), RackType: text("Rack type"), Rack: text("Rack"), Vehicle: text("Vehicle type"), Point: text("Point"),
	}
	return s
}

// lengths are read in the plant's unit where nothing nearer names one.
func (s slot) length(low, high units.Length, expected string) units.Length {
	return read(s, func() (units.Length, error) {
		return value.Length(s.cell, s.unit, s.lengthBase(), s.row.t.marks)
	}, between(low, high), expected)
}

func (s slot) lengthBase() string {
	if s.base != "" {
		return s.base
	}
	return s.row.t.rd.plant.Settings.LengthUnit
}

// Limits far beyond any plant: they keep sums of any number of rows in range.
const (
	largestMeasure = 100 * units.Metre
	largestPlace   = 100_000 * units.Metre
	largestMass    = 1000 * units.Tonne
	largestPiece   = units.Tonne
	largestCount   = 1_000_000
	longestTime    = 7 * 24 * time.Hour
)

// measure is a length above 0.
func (s slot) measure() units.Length {
	return s.length(1, largestMeasure, "a length above 0 and at most 100 m")
}

// distance is a length above 0 on the plant map.
func (s slot) distance() units.Length {
	return s.length(1, largestPlace, "a distance above 0 and at most 100 km")
}

func (s slot) coordinate() units.Length {
	return s.length(-largestPlace, largestPlace, "a coordinate of at most 100 km")
}

// mass is 0 or more.
func (s slot) mass(high units.Mass) units.Mass {
	return read(s, func() (units.Mass, error) {
		return value.Mass(s.cell, s.unit, s.row.t.rd.plant.Settings.MassUnit, s.row.t.marks)
	}, between(0, high), "a mass from 0 to "+high.String())
}

// limit is a mass above 0; no limit is a blank cell.
func (s slot) limit() units.Mass {
	return read(s, func() (units.Mass, error) {
		return value.Mass(s.cell, s.unit, s.row.t.rd.plant.Settings.MassUnit, s.row.t.marks)
	}, between(1, largestMass), "a mass above 0, or a blank cell for no limit")
}

// time takes its unit from the column where nothing nearer names one.
func (s slot) time(low, high time.Duration, expected string) time.Duration {
	return s.timeWith(s.row.t.marks, low, high, expected)
}

func (s slot) timeWith(marks value.Marks, low, high time.Duration, expected string) time.Duration {
	return read(s, func() (time.Duration, error) {
		return value.Duration(s.cell, s.unit, s.base, marks)
	}, between(low, high), expected)
}

// interval is a time above 0, at most a week.
func (s slot) interval() time.Duration { return s.intervalWith(s.row.t.marks) }

func (s slot) intervalWith(marks value.Marks) time.Duration {
	return s.timeWith(marks, 1, longestTime, "a time above 0 and at most 7 days")
}

// work is a time of 0 or more, at most a day.
func (s slot) work() time.Duration {
	return s.time(0, 24*time.Hour, "a time from 0 to 24 hours")
}

func (s slot) speed() units.Speed {
	return read(s, func() (units.Speed, error) {
		return value.Speed(s.cell, s.unit, s.base, s.row.t.marks)
	}, between(1, 100*units.MetrePerSecond), "a speed above 0 and at most 100 m/s")
}

// stress is above 0.
func (s slot) stress() units.Stress {
	return read(s, func() (units.Stress, error) {
		return value.Stress(s.cell, s.unit, s.base, s.row.t.marks)
	}, between(1, 10_000*units.Gigapascal), "a stress above 0")
}

func (s slot) money() units.Money {
	return read(s, func() (units.Money, error) {
		return value.Money(s.cell, s.unit, "", s.row.t.marks)
	}, between(0, 1_000_000_000*units.Unit), "an amount of 0 or more")
}

// whole is a whole number.
func (s slot) whole(low, high int64) int64 {
	return read(s, func() (int64, error) { return value.Whole(s.cell, s.row.t.marks) }, between(low, high),
		fmt.Sprintf("a whole number from %d to %d", low, high))
}

// number is an exact number from 0 to high.
func (s slot) number(high int64) units.Ratio {
	return read(s, func() (units.Ratio, error) { return value.Ratio(s.cell, s.row.t.marks) }, func(v units.Ratio) bool {
		return v.Sign() >= 0 && v.Cmp(units.Int(high)) <= 0
	}, fmt.Sprintf("a number from 0 to %d", high))
}

// above0 is an exact number above 0, at most high.
func (s slot) above0(high int64) units.Ratio {
	return read(s, func() (units.Ratio, error) { return value.Ratio(s.cell, s.row.t.marks) }, func(v units.Ratio) bool {
		return v.Sign() > 0 && v.Cmp(units.Int(high)) <= 0
	}, fmt.Sprintf("a number above 0 and at most %d", high))
}

// years is a number of years above 0, at most 1000; a heading in another unit
// is no number of years.
func (s slot) years() units.Ratio {
	if s.unit != "" && !slices.Contains([]string{"years", "year", "yrs", "yr", "a"}, column.Fold(s.unit)) {
		s.unreadable(value.Problem{Expected: "a number of years; here the setting names " + s.unit, Remedy: "Give it in years.", Found: s.found()})
		return units.Ratio{}
	}
	return s.above0(1000)
}

// percent is a share, read from percents.
func (s slot) percent(within func(units.Ratio) bool, expected string) units.Ratio {
	return read(s, func() (units.Ratio, error) { return value.Percent(s.cell, s.row.t.marks) }, within, expected)
}

// chance is a share above 0 and below 1.
func (s slot) chance() units.Ratio {
	v := s.percent(func(v units.Ratio) bool { return v.Sign() > 0 && v.Cmp(units.Int(1)) < 0 }, "a percentage above 0 and below 100")
	s.doubt(v)
	return v
}

// share is above 0 and at most 1.
func (s slot) share() units.Ratio {
	v := s.percent(func(v units.Ratio) bool { return v.Sign() > 0 && v.Cmp(units.Int(1)) <= 0 }, "a percentage above 0 and at most 100")
	s.doubt(v)
	return v
}

// doubt asks about a percentage of at most one that stands without its sign:
// 0.995 in a column of percents is less than one percent.
func (s slot) doubt(v units.Ratio) {
	if v.Sign() > 0 && v.Cmp(units.R(1, 100)) <= 0 && !strings.Contains(s.cell.Text, "%") {
		s.row.t.rd.say(finding.Finding{
			Severity: finding.Warning, Code: CodePercentOrShare, Origin: s.origin(), Subject: s.row.subject(),
			Summary: fmt.Sprintf("%s is %q, that is %s %%", s.field, s.found(), v.Mul(units.Int(100))),
			Detail:  "The column is in percent. It was used as it stands.",
			Remedy:  fmt.Sprintf("If %s %% was meant, write it so.", v.Mul(units.Int(10000))),
		})
	}
}

// fraction reads a number, or a percentage where heading or cell says so.
func (s slot) fraction() (units.Ratio, error) {
	if s.unit == "%" || strings.Contains(s.cell.Text, "%") {
		return value.Percent(s.cell, s.row.t.marks)
	}
	return value.Ratio(s.cell, s.row.t.marks)
}

// variation is a coefficient of variation: standard deviation by mean.
func (s slot) variation() units.Ratio {
	return read(s, s.fraction, func(v units.Ratio) bool {
		return v.Sign() >= 0 && v.Cmp(units.Int(10)) <= 0
	}, "a coefficient of variation from 0 to 10 (0.2 for 20 %)")
}

// interest is a yearly share of a value, from 0 to 1.
func (s slot) interest() units.Ratio {
	v := s.percent(func(v units.Ratio) bool { return v.Sign() >= 0 && v.Cmp(units.Int(1)) <= 0 }, "a percentage from 0 to 100")
	s.doubt(v)
	return v
}

// surplus is a share of 0 or more that may pass 1.
func (s slot) surplus() units.Ratio {
	return s.percent(func(v units.Ratio) bool { return v.Sign() >= 0 && v.Cmp(units.Int(10)) <= 0 }, "a percentage from 0 to 1000")
}

func (s slot) yes(blank bool) bool {
	if s.blank {
		return blank
	}
	return read(s, func() (bool, error) { return value.YesNo(s.cell) }, anything[bool], "")
}

// choice reads one of a few words; the first name of each choice is canonical.
func choice[T ~string](s slot, blank T, choices ...[]string) T {
	if s.blank && s.need != must {
		return blank
	}
	var names []string
	for _, c := range choices {
		names = append(names, c[0])
	}
	return read(s, func() (T, error) {
		for _, c := range choices {
			for _, name := range c {
				if column.Fold(name) == column.Fold(s.cell.Text) {
					return T(c[0]), nil
				}
			}
		}
		remedy := "Use one of these words."
		if near, ok := column.Nearest(s.cell.Text, names); ok {
			remedy = fmt.Sprintf("Did you mean %q? ", near) + remedy
		}
		return blank, value.Problem{Expected: "one of " + strings.Join(names, ", "), Remedy: remedy, Found: s.cell.Text}
	}, anything[T], "")
}

// text is free text.
func (s slot) text() string {
	if s.blank {
		return ""
	}
	return read(s, func() (string, error) { return plainText(s.cell, 2000) }, anything[string], "")
}

// code is the text of a code exactly as the sheet shows it; joining folds
// case and outer space.
func (s slot) code() string {
	return read(s, func() (string, error) {
		_, err := plainText(s.cell, 200)
		switch {
		case err != nil:
		case s.cell.Date:
			s.dateAsCode()
		case s.cell.Number:
			s.row.t.countNumber(s)
		}
		return s.cell.Text, err
	}, anything[string], "")
}

// dateAsCode asks about a code that the spreadsheet took for a date: 3-4 and
// 1/2 are often turned into one when they are typed.
func (s slot) dateAsCode() {
	s.row.t.rd.say(finding.Finding{
		Severity: finding.Warning, Code: CodeDateAsCode, Origin: s.origin(), Subject: s.row.subject(),
		Summary: fmt.Sprintf("%s is a date in the sheet and was read as %q", s.field, s.cell.Text),
		Detail:  "Spreadsheet programs turn codes such as 3-4 or 1/2 into dates when they are typed; what was typed is lost.",
		Remedy:  "Give the column the format Text and type the code again.",
	})
}

// plainText refuses error values, formulas with no result, and texts that no
// person can have meant.
func plainText(c sheet.Cell, limit int) (string, error) {
	text := trim(c.Text)
	control := strings.ContainsFunc(text, func(r rune) bool { return r < ' ' && r != '\n' && r != '\t' && r != '\r' })
	switch {
	case c.Error:
		return "", value.Problem{Expected: "a text, not an error value", Remedy: "Repair the formula in the sheet.", Found: c.Text}
	case c.NoValue:
		return "", value.Problem{Expected: "a text; the formula was saved without its result", Remedy: "Open the file in a spreadsheet program, let it calculate and save it again.", Found: c.Text}
	case len(text) > limit:
		return "", value.Problem{Expected: fmt.Sprintf("a text of at most %d bytes", limit), Remedy: "Shorten it.", Found: c.Text}
	case control:
		return "", value.Problem{Expected: "a text without control characters", Remedy: "Type the value anew.", Found: c.Text}
	}
	return text, nil
}

// between checks a closed range.
func between[T ~int64](low, high T) func(T) bool {
	return func(v T) bool { return low <= v && v <= high }
}
