package sheet

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func TestNumberFormats(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		code, raw, want string // want empty: the number itself
	}{
		{"General", "123", ""},
		{`General" pcs"`, "12", "12 pcs"},
		{"00000", "123", "00123"},
		{"00000", "0", "00000"},
		{"00000;-00000", "-12", "-00012"},
		{"0", "12.75", ""},
		{"#", "0", ""},
		{"0.00", "1", "1.00"},
		{"0.0#", "1.25", "1.25"},
		{"#,##0", "1234567", ""},
		{"#,##0.0", "1234567", "1234567.0"},
		{"0,", "5000", ""},
		{"0%", "0.005", "0.5%"},
		{"0.00%", "12", "1200%"},
		{"0%", "-0.5", "-50%"},
		{`0.0" kg"`, "1.5", "1.5 kg"},
		{`0\ \m`, "3", "3 m"},
		{"0 mm", "3", "3 mm"},
		{"[Red]000", "7", "007"},
		{"[>100]000;0", "7", ""},
		{"[$€-407] 0.00", "5", "€ 5.00"},
		{"0.00 [$€-407]", "5", "5.00 €"},
		{"000-00-0000", "123456789", "123-45-6789"},
		{"(000) 000", "123456", "(123) 456"},
		{"##-##", "5", "-5"},
		{`"0"0"#"0`, "12", "01#2"},
		{"000-000", "1.5", ""},
		{"0.0E+0", "150000", "1.5E+5"},
		{"0E-0", "0.5", "5E-1"},
		{"##0.0E+0", "150000", ""},
		{"# ?/?", "1.5", ""},
		{"# 0/16", "1.5", ""},
		{"@", "12", ""},
		{";;;", "12", ""},
		{"", "12", ""},
		{`"unclosed`, "12", ""},
		{"[unclosed", "12", ""},
		{"0.0.0", "12", ""},
		{`\`, "12", ""},
		{"00", "1E+300", ""},
	} {
		f := parseFormat(c.code)
		got, ok := f.appendShown(nil, []byte(c.raw))
		assert.Equal(t, c.want != "", ok, "%s on %s", c.code, c.raw)
		assert.Equal(t, c.want, string(got), "%s on %s", c.code, c.raw)
	}
}

func TestDateFormats(t *testing.T) {
	t.Parallel()
	for code, want := range map[string]string{
		"yyyy-mm-dd": "date", "dd.mm.yy": "date", "d/m": "date", "mmm": "date", "[$-409]mmmm d, yyyy": "date", "yyyy\"年\"m\"月\"": "date",
		"hh:mm": "time", "h:mm AM/PM": "time", "mm:ss.0": "time", "[h]:mm": "elapsed", "[mm]:ss": "elapsed",
		"yyyy-mm-dd hh:mm": "both", "m/d/yy h:mm": "both",
		"0.00": "", "General": "", `0.0" mm"`: "", "#,##0.00 [$EUR]": "", "[Red]0": "", `0" d"`: "",
	} {
		f := parseFormat(code)
		got := ""
		switch {
		case f.kind != formatDate:
		case f.elapsed:
			got = "elapsed"
		case f.hasDate && f.hasTime:
			got = "both"
		case f.hasDate:
			got = "date"
		case f.hasTime:
			got = "time"
		}
		assert.Equal(t, want, got, code)
	}
}

// No format code whatever loses a digit of a code or panics.
func TestNoFormatLosesDigits(t *testing.T) {
	t.Parallel()
	pieces := []string{"0", "#", "?", ".", ",", "%", "E+", "/", "\"x\"", "\\", "_", "*", "[", "]", "$", "-", ";", "y", "m", "h", "@", "General", " "}
	rapid.Check(t, func(t *rapid.T) {
		code := ""
		for _, p := range rapid.SliceOfN(rapid.SampledFrom(pieces), 0, 10).Draw(t, "code") {
			code += p
		}
		f := parseFormat(code)
		if f.kind == formatDate {
			return
		}
		one, other := rapid.Uint32().Draw(t, "one"), rapid.Uint32().Draw(t, "other")
		if one == other {
			return
		}
		first, ok1 := f.appendShown(nil, appendFloat(nil, float64(one)))
		second, ok2 := f.appendShown(nil, appendFloat(nil, float64(other)))
		if ok1 && ok2 {
			assert.NotEqual(t, string(first), string(second), code)
		}
	})
}

func FuzzNumberFormat(f *testing.F) {
	for _, s := range []string{"00000", "0.00", "[h]:mm", `0.0" kg"`, "000-000", "0.00E+00", "[$€-407] 0"} {
		f.Add(s, 123.25)
	}
	f.Fuzz(func(t *testing.T, code string, value float64) {
		format := parseFormat(code)
		raw, ok := appendDecimal(nil, appendFloat(nil, value))
		if ok {
			format.appendShown(nil, raw)
			isoSerial(value, false, format)
			isoSerial(value, true, format)
		}
	})
}
