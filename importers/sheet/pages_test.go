package sheet

import (
	"go/ast"
	"go/parser"
	gotoken "go/token"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every code of this package has one page, and every page a code.
func TestEveryCodeHasAPage(t *testing.T) {
	t.Parallel()
	var paged []string
	for _, p := range Pages() {
		paged = append(paged, p.Code)
		assert.NotEmpty(t, p.Title, p.Code)
		assert.NotEmpty(t, p.Text, p.Code)
	}
	codes := declaredCodes(t)
	require.NotEmpty(t, codes)
	assert.ElementsMatch(t, codes, paged)
}

// declaredCodes reads the constants named Code... from the package's files.
func declaredCodes(t *testing.T) []string {
	t.Helper()
	files, err := os.ReadDir(".")
	require.NoError(t, err)
	var codes []string
	for _, f := range files {
		if !strings.HasSuffix(f.Name(), ".go") || strings.HasSuffix(f.Name(), "_test.go") {
			continue
		}
		tree, err := parser.ParseFile(gotoken.NewFileSet(), f.Name(), nil, 0)
		require.NoError(t, err)
		ast.Inspect(tree, func(n ast.Node) bool {
			if v, ok := n.(*ast.ValueSpec); ok && strings.HasPrefix(v.Names[0].Name, "Code") && len(v.Values) == 1 {
				code, err := strconv.Unquote(v.Values[0].(*ast.BasicLit).Value)
				require.NoError(t, err)
				assert.True(t, strings.HasPrefix(code, "sheet."), code)
				codes = append(codes, code)
			}
			return true
		})
	}
	slices.Sort(codes)
	assert.Equal(t, codes, slices.Compact(slices.Clone(codes)), "each code once")
	return codes
}
