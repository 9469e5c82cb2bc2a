package main

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"lanewright/planner/finding"
)

func TestNearestCode(t *testing.T) {
	t.Parallel()
	all := []finding.Page{{Code: "parts.unknown-container"}, {Code: "parts.no-usage"}, {Code: "racks.duplicate"}}
	cases := map[string]string{
		"parts.unkown-container":  "parts.unknown-container",
		"PARTS.NO-USAGE":          "parts.no-usage",
		"part.no-usages":          "parts.no-usage",
		"unknown-container":       "parts.unknown-container",
		"duplicates":              "racks.duplicate",
		"something else entirely": "",
		"x":                       "",
	}
	for typed, want := range cases {
		t.Run(typed, func(t *testing.T) {
			t.Parallel()
			assert.Equal(t, want, nearest(all, typed))
		})
	}
	assert.Empty(t, nearest(nil, "parts.no-usage"))
}

// A page that is missing, or says nothing, leaves somebody with a code only.
func TestPagesAreWhole(t *testing.T) {
	t.Parallel()
	all := pages()
	seen := map[string]bool{}
	for _, page := range all {
		assert.NotEmpty(t, page.Title, page.Code)
		assert.NotEmpty(t, page.Text, page.Code)
		assert.NotContains(t, page.Title, "\n", page.Code)
		assert.Contains(t, page.Code, ".", "a code is sheet-or-stage.what")
		assert.Equal(t, strings.ToLower(page.Code), page.Code)
		assert.False(t, seen[page.Code], "two pages of %s", page.Code)
		seen[page.Code] = true
	}
	assert.NotEmpty(t, all)
}
