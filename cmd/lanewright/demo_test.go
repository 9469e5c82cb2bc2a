package main

import (
	"bufio"
	"context"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// running starts the demo, reads what it prints until it is ready, and returns
// that and what stops it.
func running(t *testing.T, o demoOptions) (printed string, stop func() error) {
	t.Helper()
	out, in := io.Pipe()
	p := &program{out: in, err: io.Discard, env: os.LookupEnv}
	ctx, cancel := context.WithCancel(t.Context())
	ended := make(chan error, 1)
	go func() {
		err := p.demo(ctx, o)
		_ = in.CloseWithError(err)
		ended <- err
	}()
	lines := bufio.NewScanner(out)
	for lines.Scan() {
		printed += lines.Text() + "\n"
		if strings.Contains(lines.Text(), "Ctrl-C stops it") {
			break
		}
	}
	require.NoError(t, lines.Err())
	require.Contains(t, printed, "Ctrl-C stops it")
	return printed, func() error { cancel(); return <-ended }
}

func status(t *testing.T, url string) (int, string) {
	t.Helper()
	request, err := http.NewRequestWithContext(t.Context(), http.MethodGet, url, nil)
	require.NoError(t, err)
	answer, err := http.DefaultClient.Do(request)
	require.NoError(t, err)
	defer answer.Body.Close()
	body, err := io.ReadAll(answer.Body)
	require.NoError(t, err)
	return answer.StatusCode, string(body)
}

// While the demo runs its pages answer, and a second copy says where they are;
// when it has stopped the directory is free again.
func TestDemoRuns(t *testing.T) {
	t.Parallel()
	if there, _ := condition("postgres"); !there {
		t.Skip("this test needs PostgreSQL")
	}
	dir, err := os.MkdirTemp("", "demo")
	require.NoError(t, err)
	t.Cleanup(func() { _ = os.RemoveAll(dir) })
	// The database's own user must reach it when the tests run as root.
	require.NoError(t, os.Chmod(dir, 0o755))
	o := demoOptions{at: place{dir: dir}, addr: "127.0.0.1:0"}

	printed, stop := running(t, o)
	address, err := os.ReadFile(filepath.Join(dir, demoAddress))
	require.NoError(t, err)
	home := strings.TrimSpace(string(address))
	assert.Contains(t, printed, home)
	for path, want := range map[string]string{"": "<title>", "docs": "<title>", "api/v1/plants": "Skerrow Lantern Works", "api/v1/plans/1": `"format": "lanewright.plan/1"`, "readyz": ""} {
		code, body := status(t, home+path)
		assert.Equal(t, http.StatusOK, code, path)
		assert.Contains(t, body, want, path)
	}

	second := (&program{out: io.Discard, err: io.Discard}).demo(t.Context(), o)
	require.ErrorContains(t, second, "the demo runs already, its pages are at "+home)
	code, _ := status(t, home+"readyz")
	assert.Equal(t, http.StatusOK, code, "the first copy is not disturbed")

	// A short command works with the database of the copy that runs.
	beside := &program{out: io.Discard, err: io.Discard, env: func(string) (string, bool) { return "", false }}
	require.Equal(t, exitDone, beside.main(t.Context(), []string{"import", filepath.Join(dir, demoWorkbook), "--plant", "Second works", "--dir", dir}))
	_, body := status(t, home+"api/v1/plants")
	assert.Contains(t, body, "Second works")

	require.NoError(t, stop())
	again, stop := running(t, o)
	assert.Contains(t, again, "api/v1/plans/1")
	require.NoError(t, stop())
}
