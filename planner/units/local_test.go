package units

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestLocal: 1 in is 25.4 mm and 1 lb 0.45359237 kg, both exactly (international yard
// and pound agreement of 1959, from memory).
func TestLocal(t *testing.T) {
	t.Parallel()
	names := slices.Values([]string{"", "25", "designed 1830 mm wide"})
	imperial, metric := NewSpeech("in", "lb", names), NewSpeech("mm", "kg", names)
	for _, c := range []struct{ text, want string }{
		{"Container B24 (609.6 mm x 381 mm x 279.4 mm) fits", "Container B24 (24 in x 15 in x 11 in) fits"},
		{"carries 45.359237 kg, its limit is 100 kg.", "carries 100 lb, its limit is 220.46 lb."},
		{`Length is "609.6 mm", outside`, `Length is "609.6 mm", outside`},
		{"12.5 kg/h of effort", "12.5 kg/h of effort"},
		{"the kit generic steel tube 30 x 30 x 2.5 mm lacks", "the kit generic steel tube 30 x 30 x 2.5 mm lacks"},
		{"lengths from 1 to 100 mm", "lengths from 1 to 100 mm"},
		{"a length from 1 mm to 100 m", "a length from 0.04 in to 100 m"},
		{"loaded with 8.6 kg (18.9 lb)", "loaded with 8.6 kg (18.9 lb)"},
		{"rack type designed 1830 mm wide holds 254 mm", "rack type designed 1830 mm wide holds 10 in"},
		{"an open \" quote of 25.4 mm", "an open \" quote of 1 in"},
		{"", ""},
	} {
		assert.Equal(t, c.want, imperial.Local(c.text))
		assert.Equal(t, c.text, metric.Local(c.text))
	}
	assert.Equal(t, "1 in and 5 kg", NewSpeech("ft", "kg", names).Local("25.4 mm and 5 kg"))
}
