package planner_test

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// stages stand in a fixed order and import only stages before them.
var stages = []string{
	"units", "finding", "search", "plant", "demand", "floor", "ergonomics", "sizing",
	"structure", "placement", "tours", "routing", "simulation", "buildlist", "costing",
}

// house says which packages of the module each package may import. A package
// that is not covered fails the test: it must be given its place here.
var house = []struct {
	pkg     string
	imports []string
}{
	{"cmd/lanewright", []string{"api", "importers", "storage", "planner", "testdata", "migrations", "cmd"}},
	{"cmd/lanebench", []string{"importers", "planner", "storage", "cmd/lanebench", "testdata"}},
	{"api", []string{"api", "importers", "planner"}},
	{"storage", []string{"storage", "migrations", "planner"}},
	{"migrations", nil},
	{"importers/export", []string{"importers", "planner"}},
	{"importers", []string{"importers", "planner/units", "planner/finding", "planner/plant"}},
	{"testdata", nil},
	{"planner/archive", []string{"planner"}},
	{"planner/ticks", []string{"planner"}},
	{"planner/internal/solvertest", nil},
	{"planner/internal/patterns", nil},
	{"planner/internal/packing", []string{"planner/internal/patterns", "planner/search"}},
	{"planner/internal/cutting", []string{"planner/internal/patterns", "planner/internal/packing", "planner/search"}},
	{"planner", []string{"planner"}},
}

// outside are the imports that would let the world into the planner.
var outside = []string{"os", "io/fs", "net", "database", "log", "encoding/json"}

type source struct {
	pkg, file string
	test      bool
	imports   []string
	text      string
}

func sources(t *testing.T) []source {
	t.Helper()
	root, err := filepath.Abs("..")
	require.NoError(t, err)
	var list []source
	err = filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && strings.HasPrefix(d.Name(), ".") && path != root {
			return filepath.SkipDir
		}
		if !strings.HasSuffix(path, ".go") {
			return nil
		}
		rel, _ := filepath.Rel(root, path)
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		parsed, err := parser.ParseFile(token.NewFileSet(), path, text, parser.ImportsOnly)
		if err != nil {
			return err
		}
		s := source{pkg: filepath.ToSlash(filepath.Dir(rel)), file: rel, test: strings.HasSuffix(rel, "_test.go"), text: string(text)}
		for _, i := range parsed.Imports {
			name, _ := strconv.Unquote(i.Path.Value)
			s.imports = append(s.imports, name)
		}
		list = append(list, s)
		return nil
	})
	require.NoError(t, err)
	require.NotEmpty(t, list)
	return list
}

func within(pkg, prefix string) bool { return pkg == prefix || strings.HasPrefix(pkg, prefix+"/") }

// TestImportOrder holds the order in which packages may import each other.
func TestImportOrder(t *testing.T) {
	t.Parallel()
	for _, s := range sources(t) {
		at := slices.IndexFunc(house, func(h struct {
			pkg     string
			imports []string
		}) bool {
			return within(s.pkg, h.pkg)
		})
		if !assert.GreaterOrEqual(t, at, 0, "%s: package %s has no place in the house", s.file, s.pkg) || s.test {
			continue
		}
		for _, name := range s.imports {
			inside, ok := strings.CutPrefix(name, "lanewright/")
			if !ok {
				continue
			}
			allowed := slices.ContainsFunc(house[at].imports, func(p string) bool { return within(inside, p) })
			assert.True(t, allowed, "%s imports %s", s.file, name)
		}
	}
}

// TestStagesImportLeftwards: a stage imports only stages before it, and only
// the recipe, what is kept of plans and what is ticked off may import the recipe.
func TestStagesImportLeftwards(t *testing.T) {
	t.Parallel()
	for _, s := range sources(t) {
		name, ok := strings.CutPrefix(s.pkg, "planner/")
		if !ok || s.test || name == "archive" || name == "ticks" || within(name, "internal") {
			continue
		}
		at := slices.Index(stages, name)
		if !assert.GreaterOrEqual(t, at, 0, "%s: %s is no stage", s.file, name) {
			continue
		}
		for _, i := range s.imports {
			assert.NotEqual(t, "lanewright/planner", i, "%s imports the recipe", s.file)
			if other, ok := strings.CutPrefix(i, "lanewright/planner/"); ok && !within(other, "internal") {
				assert.Less(t, slices.Index(stages, other), at, "%s imports %s", s.file, other)
			}
		}
	}
}

// judge is the one package under planner that starts a program; only tests use it.
const judge = "planner/internal/solvertest"

// TestPlannerIsPure: nothing under planner touches files, network, database,
// logs, JSON or the clock.
func TestPlannerIsPure(t *testing.T) {
	t.Parallel()
	for _, s := range sources(t) {
		if s.test || !within(s.pkg, "planner") || s.pkg == judge {
			continue
		}
		assert.NotContains(t, s.imports, "lanewright/"+judge, s.file)
		for _, i := range s.imports {
			for _, o := range outside {
				assert.False(t, within(i, o), "%s imports %s", s.file, i)
			}
		}
		assert.NotContains(t, s.text, "time.Now(", s.file)
		assert.NotContains(t, s.text, "time.Since(", s.file)
	}
}

// TestNoInit: no file of the program hides work in an init function.
func TestNoInit(t *testing.T) {
	t.Parallel()
	for _, s := range sources(t) {
		assert.NotContains(t, s.text, "\nfunc init"+"()", s.file)
	}
}
