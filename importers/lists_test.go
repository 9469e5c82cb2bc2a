package importers

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"lanewright/importers/value"
)

func TestListsOfNumbers(t *testing.T) {
	t.Parallel()
	cases := map[string]struct {
		list    string
		decimal rune
		want    []string
		ok      bool
	}{
		"as the template has them":            {"416, 416, 320", 0, []string{"416", "416", "320"}, true},
		"without spaces":                      {"416,416,320", 0, []string{"416", "416", "320"}, true},
		"points are decimal between commas":   {"307.975, 416", 0, []string{"307.975", "416"}, true},
		"a comma may be decimal":              {"416,5, 320", 0, nil, false},
		"it can not in a file with points":    {"416,5, 320", '.', []string{"416", "5", "320"}, true},
		"it is in a file with commas":         {"416,5, 320,25", ',', []string{"416,5", "320,25"}, true},
		"semicolons part them too":            {"7,5; 15", ',', []string{"7,5", "15"}, true},
		"alone it may be either":              {"416,320", ',', nil, false},
		"one number in a file with commas":    {"416", ',', []string{"416"}, true},
		"a width that is missing stays there": {"416,, 320", '.', []string{"416", "", "320"}, true},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			items, marks, ok := splitNumbers(c.list, value.Marks{Decimal: c.decimal})
			assert.Equal(t, c.ok, ok)
			assert.Equal(t, c.want, items)
			if ok && c.decimal == 0 {
				assert.Equal(t, '.', marks.Decimal)
			}
		})
	}
}

func TestListsOfCodes(t *testing.T) {
	t.Parallel()
	for list, want := range map[string][]string{
		`10, 20;30`:          {"10", "20", "30"},
		`"a,b", c`:           {"a,b", "c"},
		`"a ""b"" c" ; d`:    {`a "b" c`, "d"},
		`15", 16"`:           {`15"`, `16"`},
		`"a, b`:              {`"a`, "b"},
		`"a" b, c`:           {`"a" b`, "c"},
		" ,, 10 ,\n":         {"10"},
		`"10"`:               {"10"},
		"\"line\nbreak\", x": {"line\nbreak", "x"},
	} {
		var got []string
		for rest := list; rest != ""; {
			var item string
			if item, rest = cutItem(rest); trim(item) != "" {
				got = append(got, trim(item))
			}
		}
		assert.Equal(t, want, got, list)
	}
}
