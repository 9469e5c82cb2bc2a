package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api/codes"
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
	all := codes.Pages()
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

// Codes are constants beside the check that raises them; here the source is
// read so that none is left without its page.
func TestEveryCodeHasAPage(t *testing.T) {
	t.Parallel()
	explained := map[string]bool{}
	for _, page := range codes.Pages() {
		explained[page.Code] = true
	}
	found := 0
	for _, top := range []string{"../../importers", "../../planner"} {
		require.NoError(t, filepath.WalkDir(top, func(path string, _ fs.DirEntry, err error) error {
			if err != nil || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return err
			}
			for name, code := range codesOf(t, path) {
				found++
				assert.True(t, explained[code], "%s (%s in %s) has no page", code, name, path)
			}
			return nil
		}))
	}
	assert.Greater(t, found, 100)
}

// codesOf returns the constants of a file whose names begin with Code.
func codesOf(t *testing.T, path string) map[string]string {
	t.Helper()
	file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
	require.NoError(t, err)
	found := map[string]string{}
	ast.Inspect(file, func(n ast.Node) bool {
		spec, ok := n.(*ast.ValueSpec)
		if !ok {
			return true
		}
		for i, name := range spec.Names {
			if !strings.HasPrefix(name.Name, "Code") || i >= len(spec.Values) {
				continue
			}
			if text, ok := spec.Values[i].(*ast.BasicLit); ok && text.Kind == token.STRING {
				found[name.Name], err = strconv.Unquote(text.Value)
				require.NoError(t, err)
			}
		}
		return true
	})
	return found
}
