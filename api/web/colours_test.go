package web

import (
	"math"
	"regexp"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestContrast holds the colours against WCAG 2.2: 4.5 for text (1.4.3), 3 for
// what marks a control or a state (1.4.11).
func TestContrast(t *testing.T) {
	t.Parallel()
	body, err := files.ReadFile("assets/app.css")
	require.NoError(t, err)
	colours := map[string][2]string{}
	for _, m := range regexp.MustCompile(`--([a-z-]+): light-dark\((#[0-9a-f]{6}), (#[0-9a-f]{6})\)`).FindAllStringSubmatch(string(body), -1) {
		colours[m[1]] = [2]string{m[2], m[3]}
	}
	for _, c := range []struct {
		over    string
		ratio   float64
		grounds []string
	}{
		{"ink", 4.5, []string{"ground", "sheet", "shade", "hole"}},
		{"quiet", 4.5, []string{"ground", "sheet", "shade", "hole"}},
		{"accent", 4.5, []string{"ground", "sheet", "shade"}},
		{"on-accent", 4.5, []string{"accent"}},
		{"bad", 4.5, []string{"bad-ground", "sheet"}},
		{"warn", 4.5, []string{"warn-ground", "sheet"}},
		{"good", 4.5, []string{"good-ground", "sheet"}},
		{"edge", 3, []string{"ground", "sheet", "hole"}},
		{"fill", 3, []string{"shade", "hole"}},
	} {
		for _, ground := range c.grounds {
			for i, theme := range []string{"light", "dark"} {
				require.NotEmpty(t, colours[c.over][i], c.over)
				require.NotEmpty(t, colours[ground][i], ground)
				assert.GreaterOrEqual(t, contrast(t, colours[c.over][i], colours[ground][i]), c.ratio, "%s on %s, %s", c.over, ground, theme)
			}
		}
	}
	assert.InDelta(t, 21, contrast(t, "#000000", "#ffffff"), 1e-9)
}

// contrast of two colours, by WCAG 2.2 (relative luminance, contrast ratio).
func contrast(t *testing.T, a, b string) float64 {
	t.Helper()
	x, y := luminance(t, a), luminance(t, b)
	return (math.Max(x, y) + 0.05) / (math.Min(x, y) + 0.05)
}

func luminance(t *testing.T, colour string) float64 {
	t.Helper()
	sum := 0.0
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		n, err := strconv.ParseUint(colour[1+2*i:3+2*i], 16, 8)
		require.NoError(t, err)
		c := float64(n) / 255
		if c <= 0.04045 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		sum += weight * c
	}
	return sum
}
