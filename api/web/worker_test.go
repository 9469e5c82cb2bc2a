package web

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestWorkerKeepsWhatPagesLoad: all that the pages of the rounds import is there, and another
// byte in any of it is another version.
func TestWorkerKeepsWhatPagesLoad(t *testing.T) {
	t.Parallel()
	kept := map[string][]byte{}
	for _, p := range pages {
		if _, ok := offline[p.address]; ok {
			p.needs(kept)
		}
	}
	for _, want := range []string{"/assets/queue.js", "/assets/rounds/stop.js", "/assets/table.js", "/assets/app.css", "/assets/rounds/rounds.css", "/assets/words/es.js"} {
		assert.Contains(t, kept, want)
	}
	anywhere := regexp.MustCompile(`(?:from|import) "([^"]+)"`)
	for name, body := range kept {
		if !strings.HasSuffix(name, ".js") {
			continue
		}
		for _, m := range anywhere.FindAllSubmatch(body, -1) {
			file := string(m[1])
			assert.Contains(t, kept, "/assets/"+strings.TrimPrefix(joined(name, file), "/assets/"), "%s imports %s", name, file)
		}
	}
	version := regexp.MustCompile(`"lanewright-rounds-[0-9a-f]{16}"`)
	words := english()
	before := version.FindString(string(worker(words)))
	require.NotEmpty(t, before)
	assert.Equal(t, before, version.FindString(string(worker(words))))
	words["shell.menu"] = forms{"other": "Another word"}
	assert.NotEqual(t, before, version.FindString(string(worker(words))))
}

// joined is the address of what a module imports.
func joined(module, file string) string {
	folder := module[:strings.LastIndex(module, "/")]
	for strings.HasPrefix(file, "../") {
		folder, file = folder[:strings.LastIndex(folder, "/")], strings.TrimPrefix(file, "../")
	}
	return folder + "/" + strings.TrimPrefix(file, "./")
}
