package value

import (
	"testing"

	"lanewright/importers/sheet"
)

// FuzzNumber: a text is one number, two or none, and the decimal mark decides
// between the two.
func FuzzNumber(f *testing.F) {
	for _, s := range []string{"1,234", "1.234,5", "15 1/4", "-½", "1e5", "1'000", "１２", "0,5 %", "--1", "1/0"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		c := sheet.Cell{Text: s}
		point, errPoint := Ratio(c, Marks{Decimal: '.'})
		comma, errComma := Ratio(c, Marks{Decimal: ','})
		v, err := Ratio(c, Marks{})
		switch {
		case err == nil && Doubtful(c):
			t.Fatalf("%q is doubtful and read as %s", s, v)
		case err == nil && errPoint != nil && errComma != nil:
			t.Fatalf("%q is %s by no mark", s, v)
		case err == nil && errPoint == nil && errComma == nil && !v.Equal(point) && !v.Equal(comma):
			t.Fatalf("%q is %s, %s or %s", s, v, point, comma)
		}
	})
}

// FuzzUnit: a length with the heading's unit is the same with its own.
func FuzzUnit(f *testing.F) {
	for _, s := range []string{"416", "15 1/4 in", "2' 3 1/2\"", "1,5 m", "4 furlongs", "mm", "- 3 cm"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		c := sheet.Cell{Text: s}
		own, err := Length(c, "", "", Marks{Decimal: '.'})
		if err != nil {
			return
		}
		if other, err := Length(c, "", "km", Marks{Decimal: '.'}); err != nil || other != own {
			t.Fatalf("%q is %s alone and %s beside another unit (%v)", s, own, other, err)
		}
		_, _ = Mass(c, "", "kg", Marks{})
		_, _ = Duration(c, "", "min", Marks{})
		UnitOf(s)
	})
}

// FuzzDate: a day that is read is one day, and its ISO text the same one.
func FuzzDate(f *testing.F) {
	for _, s := range []string{"2026-03-02", "2.3.2026", "3/13/2026", "3/4/2026", "2 March 2026", "20260302", "0000-00-00"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		day, err := Date(sheet.Cell{Text: s})
		if err != nil {
			return
		}
		again, err := Date(sheet.Cell{Text: day.Format("2006-01-02")})
		if err != nil && day.Year() > 999 && day.Year() < 10000 || err == nil && !again.Equal(day) {
			t.Fatalf("%q is %s, read again %s (%v)", s, day, again, err)
		}
	})
}
