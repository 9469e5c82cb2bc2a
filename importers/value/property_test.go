package value_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/importers/sheet"
	"lanewright/importers/value"
	"lanewright/planner/units"
)

// written is a decimal number as a person may write it.
type written struct {
	text  string
	marks value.Marks
	value units.Ratio
}

// drawWritten draws a number with a decimal mark, with or without groups.
func drawWritten(t *rapid.T) written {
	decimal := rapid.SampledFrom([]rune{'.', ','}).Draw(t, "decimal")
	whole := rapid.Int64Range(0, 1e12).Draw(t, "whole")
	places := rapid.IntRange(0, 6).Draw(t, "places")
	digits := fmt.Sprintf("%06d", rapid.IntRange(0, 999_999).Draw(t, "decimals"))[:places]
	plain := fmt.Sprint(whole)
	body := plain
	if grouping := rapid.SampledFrom([]string{"", "mark", " ", "'", "\u202f"}).Draw(t, "grouping"); grouping != "" {
		if grouping == "mark" {
			grouping = string(map[rune]rune{'.': ',', ',': '.'}[decimal])
		}
		body = grouped(plain, grouping)
	}
	if places > 0 {
		plain, body = plain+"."+digits, body+string(decimal)+digits
	}
	if rapid.Bool().Draw(t, "negative") {
		plain, body = "-"+plain, "-"+body
	}
	return written{text: body, marks: value.Marks{Decimal: decimal}, value: units.MustRatio(plain)}
}

func grouped(digits, mark string) string {
	if len(digits) <= 3 {
		return digits
	}
	return grouped(digits[:len(digits)-3], mark) + mark + digits[len(digits)-3:]
}

func TestWrittenNumbersReadBack(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		w := drawWritten(t)
		got, err := value.Ratio(text(w.text), w.marks)
		require.NoError(t, err)
		require.True(t, got.Equal(w.value), "%s read as %s", w.text, got)
	})
}

// With no mark known a number is read as meant or reported, never as another
// number.
func TestUnknownMarkNeverMisleads(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		w := drawWritten(t)
		got, err := value.Ratio(text(w.text), value.Marks{})
		if err != nil {
			require.ErrorContains(t, err, "can mean")
			return
		}
		require.True(t, got.Equal(w.value), "%s read as %s", w.text, got)
	})
}

func TestLengthsReadBackInEveryUnit(t *testing.T) {
	t.Parallel()
	factors := map[string]units.Length{"mm": units.Millimetre, "cm": units.Centimetre, "m": units.Metre, "in": units.Inch, "ft": units.Foot}
	rapid.Check(t, func(t *rapid.T) {
		want := units.Length(rapid.Int64Range(-1e15, 1e15).Draw(t, "nanometres"))
		unit := rapid.SampledFrom([]string{"mm", "cm", "m"}).Draw(t, "unit")
		shown := want.Ratio().Div(factors[unit].Ratio()).String()
		asText, err := value.Length(text(shown+" "+unit), "", "", point)
		require.NoError(t, err)
		require.Equal(t, want, asText)
		asNumber, err := value.Length(number(shown), unit, "", value.Marks{})
		require.NoError(t, err)
		require.Equal(t, want, asNumber)
	})
}

// Sixty-fourths of an inch are exact.
func TestInchFractionsAreExact(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		feet, inches := rapid.Int64Range(0, 40).Draw(t, "feet"), rapid.Int64Range(0, 11).Draw(t, "inches")
		num, den := rapid.Int64Range(0, 63).Draw(t, "num"), int64(64)
		for num%2 == 0 && den > 1 && num > 0 {
			num, den = num/2, den/2
		}
		s := fmt.Sprintf("%d ft %d %d/%d in", feet, inches, num, den)
		got, err := value.Length(text(s), "", "", value.Marks{})
		require.NoError(t, err, s)
		sixtyFourths := (feet*12+inches)*64 + num*64/den
		require.Equal(t, units.Length(sixtyFourths*int64(units.Inch)/64), got, s)
	})
}

// readers are all readers of one cell, for tests that hold for each.
func readers(c sheet.Cell, header string, m value.Marks) map[string]error {
	errs := map[string]error{}
	_, errs["Ratio"] = value.Ratio(c, m)
	_, errs["Percent"] = value.Percent(c, m)
	_, errs["Whole"] = value.Whole(c, m)
	_, errs["Length"] = value.Length(c, header, "mm", m)
	_, errs["Mass"] = value.Mass(c, header, "kg", m)
	_, errs["Duration"] = value.Duration(c, header, "min", m)
	_, errs["Speed"] = value.Speed(c, header, "m/s", m)
	_, errs["Money"] = value.Money(c, header, "", m)
	_, errs["YesNo"] = value.YesNo(c)
	_, errs["Clock"] = value.Clock(c)
	_, errs["Date"] = value.Date(c)
	_, errs["Days"] = value.Days(c)
	return errs
}

// checkTotal checks that every reader gives a value or a Problem that teaches.
func checkTotal(t require.TestingT, c sheet.Cell, header string, m value.Marks) {
	for name, err := range readers(c, header, m) {
		var p value.Problem
		if err == nil {
			continue
		}
		require.True(t, errors.As(err, &p), "%s(%q): %T", name, c.Text, err)
		require.NotEmpty(t, p.Expected, name)
		require.NotEmpty(t, p.Remedy, name)
		require.Equal(t, c.Text, p.Found, name)
	}
	value.UnitOf(c.Text)
	value.Blank(c)
}

func TestEveryTextIsReadOrReported(t *testing.T) {
	t.Parallel()
	pieces := []string{"1", "0", "12", "345", "6789", ".", ",", " ", "'", "\"", "/", "-", "+", "e", "E9", "mm", "in", "ft", "kg", "%", "½", ":", "AM", "h", "€", "Mon", "é", "\xff", "("}
	rapid.Check(t, func(t *rapid.T) {
		s := strings.Join(rapid.SliceOfN(rapid.SampledFrom(pieces), 0, 8).Draw(t, "pieces"), "")
		c := sheet.Cell{Text: s}
		if rapid.Bool().Draw(t, "number") {
			c.Raw, c.Number, c.Date = fmt.Sprint(rapid.Float64().Draw(t, "raw")), true, rapid.Bool().Draw(t, "date")
		}
		m := value.Marks{Decimal: rapid.SampledFrom([]rune{0, '.', ','}).Draw(t, "decimal")}
		checkTotal(t, c, rapid.SampledFrom([]string{"", "mm", "kg", "stone"}).Draw(t, "header"), m)
	})
}

func FuzzRead(f *testing.F) {
	for _, s := range []string{"12", "1.234,5", "15 1/4 in", "2' 3 1/2\"", "99,5 %", "6:00 AM", "Mon-Fri", "2024-03-05", "€ 12.50", "1e30", "½", "1:30:00"} {
		f.Add(s, s, false, false)
	}
	f.Fuzz(func(t *testing.T, s, raw string, isNumber, isDate bool) {
		c := sheet.Cell{Text: s}
		if isNumber {
			c.Raw, c.Number, c.Date = raw, true, isDate
		}
		for _, m := range []value.Marks{noMarks, comma, point} {
			checkTotal(t, c, "", m)
			checkTotal(t, c, "mm", m)
		}
	})
}
