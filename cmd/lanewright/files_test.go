package main

import (
	"bytes"
	"errors"
	"io"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestWriteFileReplacesAsAWhole(t *testing.T) {
	t.Parallel()
	p := &program{}
	name := filepath.Join(t.TempDir(), "plan.json")
	require.NoError(t, p.writeFile(name, text("one")))
	require.NoError(t, p.writeFile(name, text("two")))
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	assert.Equal(t, "two", string(data))
}

// What fails half way leaves the old file and nothing beside it.
func TestWriteFileKeepsTheOldOnFailure(t *testing.T) {
	t.Parallel()
	p := &program{}
	dir := t.TempDir()
	name := filepath.Join(dir, "plan.json")
	require.NoError(t, p.writeFile(name, text("old")))
	broken := errors.New("broken")
	err := p.writeFile(name, func(w io.Writer) error {
		require.NoError(t, text("half")(w))
		return broken
	})
	require.ErrorIs(t, err, broken)
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	assert.Equal(t, "old", string(data))
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, entries, 1)
}

func TestWriteFileFollowsALink(t *testing.T) {
	t.Parallel()
	p := &program{}
	dir := t.TempDir()
	target, link := filepath.Join(dir, "target"), filepath.Join(dir, "link")
	require.NoError(t, os.WriteFile(target, []byte("old"), 0o600))
	require.NoError(t, os.Symlink(target, link))
	require.NoError(t, p.writeFile(link, text("new")))
	data, err := os.ReadFile(target)
	require.NoError(t, err)
	assert.Equal(t, "new", string(data))
	at, err := os.Lstat(link)
	require.NoError(t, err)
	assert.NotZero(t, at.Mode()&os.ModeSymlink, "the link is still one")
}

func TestWriteFileDashIsStandardOutput(t *testing.T) {
	t.Parallel()
	var out bytes.Buffer
	p := &program{out: &out}
	require.NoError(t, p.writeFile("-", text("text")))
	assert.Equal(t, "text", out.String())
}

func TestDistinct(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	in := filepath.Join(dir, "plant.xlsx")
	require.NoError(t, os.WriteFile(in, []byte("x"), 0o600))
	sheets := filepath.Join(dir, "sheets")
	parts := filepath.Join(sheets, "Parts.csv")
	require.NoError(t, os.Mkdir(sheets, 0o700))
	require.NoError(t, os.WriteFile(parts, []byte("Part"), 0o600))
	link := filepath.Join(dir, "link.xlsx")
	require.NoError(t, os.Symlink(in, link))
	cases := map[string]struct {
		outputs []string
		ok      bool
	}{
		"two outputs":       {[]string{"a.json", "b.xlsx"}, true},
		"none":              {[]string{"", ""}, true},
		"both to dash":      {[]string{"-", "-"}, true},
		"one name twice":    {[]string{"a", "./a"}, false},
		"over the input":    {[]string{in, ""}, false},
		"over it by a link": {[]string{"", link}, false},
		"over a sheet":      {[]string{parts}, false},
		"beside the sheets": {[]string{filepath.Join(sheets, "plan.json")}, true},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			err := distinct([]string{in, sheets}, c.outputs...)
			if c.ok {
				require.NoError(t, err)
				return
			}
			var e *exit
			require.ErrorAs(t, err, &e)
			assert.Equal(t, exitUsage, e.code)
		})
	}
}
