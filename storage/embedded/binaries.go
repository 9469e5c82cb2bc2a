//go:build linux || darwin || freebsd

package embedded

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// oldest is the oldest major version that will do.
const oldest = 15

// binaries is a directory that holds postgres and initdb of one version.
type binaries struct {
	dir   string
	major int
}

func (b binaries) postgres() string { return filepath.Join(b.dir, "postgres") }
func (b binaries) initdb() string   { return filepath.Join(b.dir, "initdb") }

// install says how to get PostgreSQL.
const install = "install PostgreSQL 15 or newer (Debian, Ubuntu: apt install postgresql; Fedora: dnf install postgresql-server; " +
	"macOS: brew install postgresql@17) or set DATABASE_URL to a server that runs"

// findBinaries returns the newest installed version that will do; where data
// of version want exists (0 is none) only that version will.
func findBinaries(ctx context.Context, want int) (binaries, error) {
	var found []binaries
	for _, dir := range binaryDirs(ctx) {
		if b, ok := inspect(ctx, dir); ok {
			found = append(found, b)
		}
	}
	return choose(found, want)
}

// Installed returns nil where a PostgreSQL that will do is installed, else
// ErrNoPostgres with what to install.
func Installed(ctx context.Context) error {
	_, err := findBinaries(ctx, 0)
	return err
}

func choose(found []binaries, want int) (binaries, error) {
	var best binaries
	var seen []string
	for _, b := range found {
		seen = append(seen, strconv.Itoa(b.major))
		if b.major > best.major && (want == 0 || b.major == want) {
			best = b
		}
	}
	switch {
	case best.major >= oldest:
		return best, nil
	case len(found) == 0:
		return best, fmt.Errorf("%w: %s", ErrNoPostgres, install)
	case want >= oldest:
		return best, fmt.Errorf("%w: the data was made by version %d and only %s is installed; install version %d, or choose another directory",
			ErrNoPostgres, want, strings.Join(seen, ", "), want)
	}
	return best, fmt.Errorf("%w: only version %s is installed; %s", ErrNoPostgres, strings.Join(seen, ", "), install)
}

// binaryDirs lists where postgres and initdb may lie together: what PATH
// leads to, what pg_config says, and where distributions put them.
func binaryDirs(ctx context.Context) []string {
	var dirs []string
	for _, name := range []string{"postgres", "initdb"} {
		if path, err := exec.LookPath(name); err == nil {
			if real, err := filepath.EvalSymlinks(path); err == nil {
				dirs = append(dirs, filepath.Dir(real))
			}
		}
	}
	if out, err := exec.CommandContext(ctx, "pg_config", "--bindir").Output(); err == nil {
		dirs = append(dirs, strings.TrimSpace(string(out)))
	}
	for _, pattern := range []string{
		"/usr/lib/postgresql/*/bin", "/usr/pgsql-*/bin", "/usr/local/pgsql/bin", "/usr/lib64/pgsql/bin",
		"/opt/homebrew/opt/postgresql*/bin", "/usr/local/opt/postgresql*/bin",
		"/opt/local/lib/postgresql*/bin", "/Applications/Postgres.app/Contents/Versions/*/bin",
	} {
		matches, _ := filepath.Glob(pattern)
		dirs = append(dirs, matches...)
	}
	slices.Sort(dirs)
	return slices.Compact(dirs)
}

var versionPattern = regexp.MustCompile(`\) (\d+)`)

// inspect asks the postgres in dir for its version.
func inspect(ctx context.Context, dir string) (binaries, bool) {
	b := binaries{dir: dir}
	if _, err := os.Stat(b.initdb()); err != nil {
		return b, false
	}
	out, err := exec.CommandContext(ctx, b.postgres(), "--version").Output()
	if err != nil {
		return b, false
	}
	if m := versionPattern.FindSubmatch(out); m != nil {
		b.major, _ = strconv.Atoi(string(m[1]))
	}
	return b, b.major > 0
}
