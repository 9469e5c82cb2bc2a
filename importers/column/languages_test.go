package column

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestEverythingIsKnownInFourLanguages: every sheet, column and setting has a
// name in each language, and no language names what there is not.
func TestEverythingIsKnownInFourLanguages(t *testing.T) {
	t.Parallel()
	for name, language := range map[string]map[string][]string{"German": german, "Spanish": spanish, "French": french} {
		used := map[string]bool{}
		has := func(sheet, field string) {
			key := sheet + "/" + field
			if _, own := language[key]; !own && sheet != "" {
				key = field
			}
			used[key] = true
			assert.NotEmpty(t, language[key], "%s has no name for %s/%s", name, sheet, field)
		}
		for _, s := range Sheets() {
			has("", s.Name)
		}
		for _, s := range append(Sheets(), FlatTable(), Settings()) {
			for _, c := range s.Columns {
				has(s.Name, c.Field)
			}
		}
		for key, names := range language {
			assert.True(t, used[key], "%s names %s, which there is not", name, key)
			for _, n := range names {
				assert.Equal(t, strings.TrimSpace(n), n)
				assert.NotEmpty(t, Fold(n), "%s: %q of %s", name, n, key)
			}
		}
	}
}

// TestEveryColumnHoldsSomething: what each column holds is said once, and of
// nothing that there is not.
func TestEveryColumnHoldsSomething(t *testing.T) {
	t.Parallel()
	known := map[string]bool{}
	for _, s := range append(Sheets(), FlatTable(), Settings()) {
		for _, c := range s.Columns {
			known[c.Field] = true
			assert.NotEmpty(t, HoldsOf(c.Field), "%s/%s", s.Name, c.Field)
			assert.True(t, c.Unit == "" || HoldsOf(c.Field).IsAmount() || HoldsOf(c.Field) == Times, "%s/%s has a unit but no amount", s.Name, c.Field)
		}
	}
	said := map[string]Holds{}
	for kind, fields := range holds {
		for field := range strings.SplitSeq(fields, ",") {
			field = strings.TrimSpace(field)
			assert.Empty(t, said[field], "%s is said to hold %s and %s", field, said[field], kind)
			assert.True(t, known[field], "there is no column %q", field)
			said[field] = kind
		}
	}
}
