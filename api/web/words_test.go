package web

import (
	"io/fs"
	"maps"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var languages = []string{"en", "de", "es"}

// modules reads all modules but the catalogues.
func modules(t *testing.T) map[string]string {
	t.Helper()
	list := map[string]string{}
	require.NoError(t, fs.WalkDir(files, "assets", func(file string, d fs.DirEntry, err error) error {
		if err != nil || path.Ext(file) != ".js" || path.Dir(file) == "assets/words" {
			return err
		}
		body, err := files.ReadFile(file)
		list[file] = string(body)
		return err
	}))
	return list
}

var placeholder = regexp.MustCompile(`\{\w+\}`)

// placeholders of a text, each once.
func placeholders(text string) []string {
	found := placeholder.FindAllString(text, -1)
	slices.Sort(found)
	return slices.Compact(found)
}

// TestLanguages: the catalogues have the same keys, and each text the same
// placeholders.
func TestLanguages(t *testing.T) {
	t.Parallel()
	words := english()
	for _, code := range languages {
		c, err := language(code)
		require.NoError(t, err)
		assert.ElementsMatch(t, slices.Collect(maps.Keys(words)), slices.Collect(maps.Keys(c)), code)
		for key, forms := range c {
			assert.Equal(t, len(words[key]) > 1, len(forms) > 1, "%s: %s has plural forms in one language only", code, key)
			assert.NotEmpty(t, forms["other"], "%s: %s", code, key)
			for category, text := range forms {
				assert.Contains(t, []string{"zero", "one", "two", "few", "many", "other"}, category, "%s: %s", code, key)
				want := placeholders(words[key]["other"])
				if category != "other" { // "the one cell" may leave its number out
					want = slices.DeleteFunc(want, func(p string) bool { return p == "{n}" && !strings.Contains(text, p) })
				}
				assert.ElementsMatch(t, want, placeholders(text), "%s: %s, %s", code, key, category)
			}
		}
	}
}

// TestKeys: each key that a page asks for has a text, and each text is asked
// for. A key that ends in "." and goes on in the code stands for all that begin
// with it.
func TestKeys(t *testing.T) {
	t.Parallel()
	used := map[string]bool{}
	use := func(file, key string, begins bool) {
		found := false
		for k := range english() {
			if k == key || begins && strings.HasPrefix(k, key) {
				used[k], found = true, true
			}
		}
		assert.True(t, found, "%s asks for %q", file, key)
	}
	for file, source := range modules(t) {
		for _, l := range literals(source) {
			if l.call == "t" && l.arg == 0 && !l.compared {
				use(file, l.text, l.joined)
			}
		}
	}
	template, err := files.ReadFile("page.html")
	require.NoError(t, err)
	for _, m := range regexp.MustCompile(`\{\{t "([^"]+)"`).FindAllStringSubmatch(string(template), -1) {
		use("page.html", m[1], false)
	}
	for _, p := range pages {
		use(p.address, p.title, false)
		if p.entry {
			use(p.address, "nav."+p.group, false)
		}
	}
	for key := range english() {
		assert.True(t, used[key], "no page asks for %q", key)
	}
}

// shown are the functions that show a text, with the first and the last argument
// that is one.
var shown = map[string][2]int{
	"el": {2, 99}, "word": {1, 1}, "section": {1, 99}, "titled": {0, 99}, "say": {0, 0}, "dialog": {0, 1}, "crumb": {1, 2}, "empty": {0, 99},
}

// named are attributes and fields that a person reads.
var named = []string{"aria-label", "title", "placeholder", "alt", "head"}

var letters = regexp.MustCompile(`\p{L}{2,}`)

// visible reports whether a literal is a text that a person would read.
func visible(l literal) bool {
	if l.compared || !letters.MatchString(l.text) || strings.HasPrefix(l.text, "lanewright ") {
		return false
	}
	args, ok := shown[l.call]
	return ok && l.arg >= args[0] && l.arg <= args[1] && l.field == "" || slices.Contains(named, l.field) && l.call != "t"
}

// TestTextsInCatalogue: modules hold no text of their own.
func TestTextsInCatalogue(t *testing.T) {
	t.Parallel()
	for file, source := range modules(t) {
		for _, l := range literals(source) {
			assert.False(t, visible(l), "%s: the text %q belongs into the catalogue", file, l.text)
		}
	}
	caught := literals("el(\"p\", {}, \"Left over\"); el(\"a\", { title: \"To it\" }, x === \"no\" ? t(\"key\") : `${n} parts`); // el(\"p\", {}, \"No\")")
	assert.Equal(t, []string{"Left over", "To it", " parts"}, texts(caught))
}

func texts(list []literal) (found []string) {
	for _, l := range list {
		if visible(l) {
			found = append(found, l.text)
		}
	}
	return found
}
