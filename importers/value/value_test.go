package value_test

import (
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/importers/sheet"
	"lanewright/importers/value"
	"lanewright/planner/units"
)

func text(s string) sheet.Cell { return sheet.Cell{Text: s} }

func number(raw string) sheet.Cell { return sheet.Cell{Text: raw, Raw: raw, Number: true} }

// shown is a spreadsheet's number whose format shows it as text.
func shown(raw, text string) sheet.Cell { return sheet.Cell{Text: text, Raw: raw, Number: true} }

func date(raw, text string) sheet.Cell {
	return sheet.Cell{Text: text, Raw: raw, Number: true, Date: true}
}

var (
	noMarks = value.Marks{}
	comma   = value.Marks{Decimal: ','}
	point   = value.Marks{Decimal: '.'}
)

// readsAs checks a value, or, where want is empty, that there is a Problem
// that says what to do.
func readsAs[T any](t *testing.T, want string, got T, err error, show func(T) string) {
	t.Helper()
	if want != "" {
		require.NoError(t, err)
		assert.Equal(t, want, show(got))
		return
	}
	var p value.Problem
	require.ErrorAs(t, err, &p, "read as %v", got)
	assert.NotEmpty(t, p.Expected)
	assert.NotEmpty(t, p.Remedy)
}

func TestRatio(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		cell  sheet.Cell
		marks value.Marks
		want  string // empty: a Problem
	}{
		{"whole", text("12"), noMarks, "12"},
		{"decimal point", text("1.5"), noMarks, "1.5"},
		{"decimal comma", text("1,5"), noMarks, "1.5"},
		{"three decimals behind zero", text("0,125"), noMarks, "0.125"},
		{"comma before three digits has two readings", text("1,234"), noMarks, ""},
		{"point before three digits has two readings", text("1.234"), noMarks, ""},
		{"both readings are one", text("0"), noMarks, "0"},
		{"comma known as decimal", text("1,234"), comma, "1.234"},
		{"comma known as grouping", text("1,234"), point, "1234"},
		{"point known as grouping", text("1.234"), comma, "1234"},
		{"point known as decimal", text("1.234"), point, "1.234"},
		{"four digits before a mark can be no group", text("1234,567"), noMarks, "1234.567"},
		{"german thousands", text("1.234,5"), noMarks, "1234.5"},
		{"english thousands", text("1,234.5"), noMarks, "1234.5"},
		{"millions", text("1,234,567"), noMarks, "1234567"},
		{"millions with points", text("1.234.567"), noMarks, "1234567"},
		{"swiss thousands", text("1'234.567"), noMarks, "1234.567"},
		{"thin space thousands", text("12 345,6"), noMarks, "12345.6"},
		{"groups of two", text("12,34,567"), noMarks, ""},
		{"group beside a wrong mark", text("1.5"), comma, ""},
		{"two decimal marks", text("1,2,3"), noMarks, ""},
		{"leading point", text(".5"), noMarks, "0.5"},
		{"trailing point", text("12."), noMarks, ""},
		{"negative", text("-3,5"), noMarks, "-3.5"},
		{"true minus sign", text("−3"), noMarks, "-3"},
		{"plus", text("+3"), noMarks, "3"},
		{"mixed fraction", text("15 1/4"), noMarks, "15.25"},
		{"mixed fraction with hyphen", text("15-1/4"), noMarks, "15.25"},
		{"negative mixed fraction", text("-2 1/2"), noMarks, "-2.5"},
		{"fraction", text("3/8"), noMarks, "0.375"},
		{"third", text("1/3"), noMarks, "1/3"},
		{"one-character fraction", text("15½"), noMarks, "15.5"},
		{"one-character fraction after a space", text("15 ⅜"), noMarks, "15.375"},
		{"fraction of zero", text("1/0"), noMarks, ""},
		{"improper mixed fraction", text("3 9/8"), noMarks, ""},
		{"exponent", text("1e3"), noMarks, "1000"},
		{"exponent with sign", text("2.5E-2"), noMarks, "0.025"},
		{"huge exponent", text("1e300"), noMarks, ""},
		{"many digits", text("1234567890123456789012345678901234567890123456789"), noMarks, ""},
		{"full-width digits", text("１２"), noMarks, "12"},
		{"outer spaces", text("\u00a0 12 \t"), noMarks, "12"},
		{"pieces", text("24 pcs"), noMarks, "24"},
		{"Stück", text("24 Stück"), noMarks, "24"},
		{"percent sign", text("5 %"), noMarks, ""},
		{"unit", text("5 kg"), noMarks, ""},
		{"word", text("five"), noMarks, ""},
		{"NaN", text("NaN"), noMarks, ""},
		{"Inf", text("+Inf"), noMarks, ""},
		{"hex", text("0x10"), noMarks, ""},
		{"underscore", text("1_000"), noMarks, ""},
		{"two numbers", text("12 13"), noMarks, ""},
		{"date in text", text("1/2/2024"), noMarks, ""},
		{"blank", text(""), noMarks, ""},
		{"to be done", text("TBD"), noMarks, ""},
		{"stored number is never ambiguous", number("1.234"), comma, "1.234"},
		{"stored percentage", shown("0.05", "5%"), noMarks, "0.05"},
		{"stored with words", shown("12", "12 boxes"), noMarks, "12"},
		{"stored huge", number("1E+300"), noMarks, ""},
		{"stored date", date("45356", "2024-03-05"), noMarks, ""},
		{"truth value", text("TRUE"), noMarks, ""},
		{"error", sheet.Cell{Text: "#REF!", Error: true}, noMarks, ""},
		{"formula without result", sheet.Cell{NoValue: true}, noMarks, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			got, err := value.Ratio(c.cell, c.marks)
			readsAs(t, c.want, got, err, units.Ratio.String)
		})
	}
}

func TestAmbiguityNamesBothReadings(t *testing.T) {
	t.Parallel()
	_, err := value.Ratio(text("1,234"), noMarks)
	require.ErrorContains(t, err, "1.234 or 1234")
	require.ErrorContains(t, err, "decimal mark")
}

func TestPercent(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		cell sheet.Cell
		want string
	}{
		{"plain text", text("99.5"), "0.995"},
		{"with sign", text("99,5 %"), "0.995"},
		{"sign without space", text("5%"), "0.05"},
		{"stored share with percent format", shown("0.995", "99.5%"), "0.995"},
		{"stored percentage without format", number("99.5"), "0.995"},
		{"other unit", text("5 kg"), ""},
		{"two readings", text("1,234 %"), ""},
		{"error", sheet.Cell{Text: "#N/A", Error: true}, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			got, err := value.Percent(c.cell, noMarks)
			readsAs(t, c.want, got, err, units.Ratio.String)
		})
	}
}

func TestWhole(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		cell sheet.Cell
		want string
	}{
		{"plain", text("24"), "24"},
		{"only the grouped reading is whole", text("1,234"), "1234"},
		{"both readings are whole", text("1,000"), ""},
		{"decimal zeros", text("24.0"), "24"},
		{"decimals", text("2.5"), ""},
		{"stored", number("100000"), "100000"},
		{"stored decimals", number("2.5"), ""},
		{"pieces", text("24 pcs."), "24"},
		{"beyond int64", text("99999999999999999999"), ""},
		{"negative", text("-3"), "-3"},
		{"date", date("45356", "2024-03-05"), ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			got, err := value.Whole(c.cell, noMarks)
			readsAs(t, c.want, got, err, func(n int64) string { return units.Int(n).String() })
		})
	}
}

func TestLength(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name            string
		cell            sheet.Cell
		header, missing string
		want            string
	}{
		{"heading's unit", text("416"), "mm", "in", "416 mm"},
		{"default unit", number("41.6"), "", "cm", "416 mm"},
		{"cell's unit", text("41,6 cm"), "", "mm", "416 mm"},
		{"cell's unit is the heading's", text("416mm"), "mm", "", "416 mm"},
		{"cell's unit is not the heading's", text("15 in"), "mm", "", ""},
		{"same unit by another name", text("15 in."), "inch", "", "381 mm"},
		{"inches and a fraction", text(`15 1/4"`), "", "mm", "387.35 mm"},
		{"fraction with heading's unit", text("15 1/4"), "in", "", "387.35 mm"},
		{"feet and inches", text(`2' 3 1/2"`), "", "", "698.5 mm"},
		{"feet and inches without space", text(`2'3"`), "", "", "685.8 mm"},
		{"feet, hyphen, inches", text(`2'-3"`), "", "", "685.8 mm"},
		{"feet and inches in words", text("2 ft 3 1/2 in"), "", "", "698.5 mm"},
		{"feet and inches under inches", text("2 ft 3 in"), "in", "", "685.8 mm"},
		{"negative feet and inches", text("-2 ft 3 in"), "", "", "-685.8 mm"},
		{"typographic marks", text("2′ 3″"), "", "", "685.8 mm"},
		{"metres and centimetres", text("1 m 20 cm"), "", "", "1200 mm"},
		{"units the wrong way round", text("3 in 2 ft"), "", "", ""},
		{"Zoll", text("10 Zoll"), "", "", "254 mm"},
		{"unit in the number format", shown("1.5", "1.5 m"), "", "mm", "1500 mm"},
		{"unit in the number format against the heading", shown("1.5", "1.5 m"), "mm", "", ""},
		{"words in the number format", shown("12", "12 wide"), "", "mm", "12 mm"},
		{"no unit anywhere", text("12"), "", "", ""},
		{"unknown unit", text("12 furlong"), "", "mm", ""},
		{"unknown unit of the heading", text("12"), "stone", "mm", ""},
		{"unit of another kind", text("12 kg"), "", "mm", ""},
		{"capital unit", text("12 MM"), "", "", "12 mm"},
		{"out of range", text("1e20 km"), "", "", ""},
		{"two readings", text("1,234 mm"), "", "", ""},
		{"range of values", text("12-13 mm"), "", "", ""},
		{"product of measures", text("12 x 13 mm"), "", "", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			got, err := value.Length(c.cell, c.header, c.missing, noMarks)
			readsAs(t, c.want, got, err, units.Length.String)
		})
	}
}

func TestMass(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name            string
		cell            sheet.Cell
		header, missing string
		want            string
	}{
		{"kilograms with a comma", text("1,5 kg"), "", "", "1.5 kg"},
		{"grams by heading", number("350"), "g", "kg", "0.35 kg"},
		{"pounds are exact", text("10 lbs"), "", "", "4.5359237 kg"},
		{"pounds and ounces", text("2 lb 8 oz"), "", "", "1.133980925 kg"},
		{"tonnes", text("1.2 t"), "", "", "1200 kg"},
		{"tons have no one meaning", text("1 ton"), "", "", ""},
		{"a length", text("1 mm"), "", "", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			got, err := value.Mass(c.cell, c.header, c.missing, noMarks)
			readsAs(t, c.want, got, err, units.Mass.String)
		})
	}
}

func TestDuration(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name            string
		cell            sheet.Cell
		header, missing string
		want            string
	}{
		{"default minutes", text("30"), "", "min", "30m0s"},
		{"heading's seconds", number("90"), "s", "min", "1m30s"},
		{"cell's unit", text("1,5 h"), "", "min", "1h30m0s"},
		{"hours and minutes", text("1 h 30 min"), "", "", "1h30m0s"},
		{"hours, minutes, seconds", text("0:30:15"), "", "", "30m15s"},
		{"two fields have two readings", text("1:30"), "", "min", ""},
		{"spreadsheet's time", date("0.0208333333333333", "00:30"), "s", "min", "30m0s"},
		{"spreadsheet's elapsed time", date("1.25", "30:00"), "", "", "30h0m0s"},
		{"spreadsheet's date", date("45356", "2024-03-05"), "", "min", ""},
		{"m is no minute", text("5 m"), "", "min", ""},
		{"out of range", text("1e12 h"), "", "", ""},
		{"minutes out of range", text("1:75:00"), "", "", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			got, err := value.Duration(c.cell, c.header, c.missing, noMarks)
			readsAs(t, c.want, got, err, time.Duration.String)
		})
	}
}

func TestStress(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		cell, unit string
		want       units.Stress
	}{
		{"235", "MPa", 235 * units.Megapascal},
		{"200 GPa", "MPa", 200 * units.Gigapascal},
		{"235 N/mm²", "", 235 * units.Megapascal},
		{"32", "ksi", 220_632_233},
		{"1 psi", "", 6895},
	} {
		got, err := value.Stress(text(c.cell), "", c.unit, noMarks)
		require.NoError(t, err, c.cell)
		assert.Equal(t, c.want, got, c.cell)
	}
	for _, cell := range []string{"235", "235 kg", "strong"} {
		_, err := value.Stress(text(cell), "", "", noMarks)
		assert.Error(t, err, cell)
	}
	assert.True(t, value.KnownStress("N/mm²"))
}

func TestSpeed(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		cell sheet.Cell
		unit string
		want float64 // 0: a Problem
	}{
		{"default", number("1.2"), "m/s", 1.2},
		{"kilometres per hour", text("7,2 km/h"), "", 2},
		{"feet per minute", text("300 ft/min"), "", 1.524},
		{"metres per minute", text("60 m/min"), "", 1},
		{"a length", text("60 m"), "", 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			got, err := value.Speed(c.cell, "", c.unit, noMarks)
			if c.want == 0 {
				require.Error(t, err)
				return
			}
			require.NoError(t, err)
			assert.InDelta(t, c.want, got.MPS(), 1e-9)
		})
	}
}

func TestMoney(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, header string
		cell         sheet.Cell
		want         string
	}{
		{"plain", "", text("12,50"), "12.5"},
		{"sign before", "", text("$12.50"), "12.5"},
		{"sign behind", "", text("12,50 €"), "12.5"},
		{"code behind", "EUR", text("12,50 €"), "12.5"},
		{"negative with sign", "", text("-$3"), "-3"},
		{"heading's currency is another one", "EUR", text("$12.50"), ""},
		{"currency of the number format", "", shown("12.5", "€12.50"), "12.5"},
		{"two currencies", "", text("$12.50 EUR"), ""},
		{"no currency", "", text("12.50 kg"), ""},
		{"out of range", "", text("1e25"), ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			got, err := value.Money(c.cell, c.header, "", noMarks)
			readsAs(t, c.want, got, err, units.Money.String)
		})
	}
}

func TestYesNo(t *testing.T) {
	t.Parallel()
	for word, want := range map[string]bool{
		"yes": true, "Y": true, "TRUE": true, "1": true, "x": true, "Ja": true, "sí": true, "si": true, "Oui": true,
		"no": false, "N": false, "false": false, "0": false, "Nein": false, "non": false,
	} {
		got, err := value.YesNo(text(word))
		require.NoError(t, err, word)
		assert.Equal(t, want, got, word)
	}
	got, err := value.YesNo(text(" yes "))
	require.NoError(t, err)
	assert.True(t, got)
	got, err = value.YesNo(shown("1", "01"))
	require.NoError(t, err)
	assert.True(t, got)
	for _, c := range []sheet.Cell{text("maybe"), text(""), number("2"), {Text: "#REF!", Error: true}} {
		_, err := value.YesNo(c)
		require.Error(t, err, c.Text)
	}
}

func TestClock(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		cell sheet.Cell
		want string
	}{
		{"24 hour clock", text("06:00"), "6h0m0s"},
		{"one digit", text("6:05"), "6h5m0s"},
		{"seconds", text("06:00:30"), "6h0m30s"},
		{"am", text("6:00 AM"), "6h0m0s"},
		{"pm without minutes", text("6 pm"), "18h0m0s"},
		{"midnight", text("12:00 a.m."), "0s"},
		{"noon", text("12 PM"), "12h0m0s"},
		{"end of the day", text("24:00"), "24h0m0s"},
		{"Uhr", text("14.30 Uhr"), "14h30m0s"},
		{"Uhr alone", text("14 Uhr"), "14h0m0s"},
		{"French", text("6h30"), "6h30m0s"},
		{"French hour", text("6 h"), "6h0m0s"},
		{"spreadsheet's time", date("0.29166666666666669", "07:00"), "7h0m0s"},
		{"time of a spreadsheet's date", date("45356.25", "2024-03-05T06:00:00"), "6h0m0s"},
		{"fraction of a day without a format", number("0.25"), "6h0m0s"},
		{"spreadsheet's date", date("45356", "2024-03-05"), ""},
		{"spreadsheet's number", number("6"), ""},
		{"bare number", text("6"), ""},
		{"no such hour", text("25:00"), ""},
		{"no such minute", text("6:75"), ""},
		{"after the end", text("24:01"), ""},
		{"13 pm", text("13 pm"), ""},
		{"words", text("noon"), ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			got, err := value.Clock(c.cell)
			readsAs(t, c.want, got, err, time.Duration.String)
		})
	}
}

func TestDate(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		cell sheet.Cell
		want string
	}{
		{"ISO", text("2024-03-05"), "2024-03-05"},
		{"spreadsheet's date", date("45356", "2024-03-05"), "2024-03-05"},
		{"spreadsheet's date with time", date("45356.5", "2024-03-05T12:00:00"), "2024-03-05"},
		{"points", text("5.3.2024"), "2024-03-05"},
		{"month by name", text("5 March 2024"), "2024-03-05"},
		{"American by name", text("Mar 5, 2024"), "2024-03-05"},
		{"slashes with two readings", text("3/5/2024"), ""},
		{"slashes with one reading", text("12/31/2024"), "2024-12-31"},
		{"slashes with the other reading", text("31/12/2024"), "2024-12-31"},
		{"slashes where both agree", text("5/5/2024"), "2024-05-05"},
		{"two-digit year", text("5.3.24"), ""},
		{"no such day", text("2024-02-30"), ""},
		{"serial without a date format", number("45356"), ""},
		{"day that never was", date("60", "1900-02-29"), ""},
		{"time", date("0.5", "12:00"), ""},
		{"blank", text("-"), ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			got, err := value.Date(c.cell)
			readsAs(t, c.want, got, err, func(d time.Time) string { return d.Format(time.DateOnly) })
		})
	}
}

func TestDays(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ text, want string }{
		{"Mon-Fri", "-MTWTF-"},
		{"Mon – Fri", "-MTWTF-"},
		{"Mon,Wed", "-M-W---"},
		{"Monday, Wednesday and Friday", "-M-W-F-"},
		{"Sat-Mon", "SM----S"},
		{"Sun", "S------"},
		{"mon/tue", "-MT----"},
		{"Mo-Fr", "-MTWTF-"},
		{"Montag bis Freitag", "-MTWTF-"},
		{"daily", "SMTWTFS"},
		{"weekdays", "-MTWTF-"},
		{"Mon-Wed, Fri", "-MTW-F-"},
		{"Do", ""},
		{"Mon-", ""},
		{"1-5", ""},
		{",", ""},
		{"", ""},
	} {
		t.Run(c.text, func(t *testing.T) {
			t.Parallel()
			got, err := value.Days(text(c.text))
			readsAs(t, c.want, got, err, func(d [7]bool) string {
				s := []byte("SMTWTFS")
				for i := range s {
					if !d[i] {
						s[i] = '-'
					}
				}
				return string(s)
			})
		})
	}
}

func TestUnitOf(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ heading, name, unit string }{
		{"Length (mm)", "Length", "mm"},
		{"Length [in]", "Length", "in"},
		{"Length\n(mm)", "Length", "mm"},
		{"Length (outside) (mm)", "Length (outside)", "mm"},
		{"Length (mm) outside", "Length outside", "mm"},
		{"Piece mass, kg", "Piece mass", "kg"},
		{"Length / mm", "Length", "mm"},
		{"Length/mm", "Length", "mm"},
		{"Speed (m/s)", "Speed", "m/s"},
		{"Speed/m/s", "Speed", "m/s"},
		{"Service level (%)", "Service level", "%"},
		{"Unit cost (EUR)", "Unit cost", "EUR"},
		{"Piece mass (stone)", "Piece mass", "stone"},
		{"Walk limit m", "Walk limit m", ""},
		{"Pieces/h", "Pieces/h", ""},
		{"Qty/Box", "Qty/Box", ""},
		{"Part, description", "Part, description", ""},
		{"Part", "Part", ""},
		{"(mm)", "(mm)", ""},
		{"Length ()", "Length ()", ""},
		{"Length (mm", "Length (mm", ""},
		{"", "", ""},
	} {
		name, unit := value.UnitOf(c.heading)
		assert.Equal(t, c.name, name, c.heading)
		assert.Equal(t, c.unit, unit, c.heading)
	}
}

func TestKnown(t *testing.T) {
	t.Parallel()
	assert.True(t, value.KnownLength("MM"))
	assert.True(t, value.KnownLength("in."))
	assert.False(t, value.KnownLength("kg"))
	assert.False(t, value.KnownLength(""))
	assert.True(t, value.KnownMass("lbs"))
	assert.True(t, value.KnownDuration("hrs"))
	assert.True(t, value.KnownSpeed("m / s"))
	assert.True(t, value.Known("%"))
	assert.False(t, value.Known("stone"))
	assert.False(t, value.Known(""))
}

func TestBlank(t *testing.T) {
	t.Parallel()
	for _, s := range []string{"", " ", "-", "–", "n/a", "N/A", "TBD", "\u00a0", "?", "NULL", `\N`} {
		assert.True(t, value.Blank(text(s)), "%q", s)
	}
	for _, c := range []sheet.Cell{text("0"), text("none"), number("0"), {Text: "#N/A", Error: true}, {NoValue: true}} {
		assert.False(t, value.Blank(c), "%q", c.Text)
	}
}

func TestMarksOf(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		texts []string
		want  rune
	}{
		{"commas", []string{"1,5", "1,234", "12"}, ','},
		{"points", []string{"1.5", "1.234", "12"}, '.'},
		{"both marks in one number", []string{"1,234", "1.234,5"}, ','},
		{"grouped twice", []string{"1.234.567"}, ','},
		{"nothing clear", []string{"1,234", "7", "x"}, 0},
		{"they disagree", []string{"1,5", "1.5"}, 0},
		{"none", nil, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			var cells []sheet.Cell
			for _, s := range c.texts {
				cells = append(cells, text(s))
			}
			assert.Equal(t, c.want, value.MarksOf(slices.Values(cells)).Decimal)
		})
	}
}
