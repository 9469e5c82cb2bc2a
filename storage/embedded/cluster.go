//go:build linux || darwin || freebsd

package embedded

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
)

// version returns the major version that made data, 0 where there is none.
func version(data string) int {
	text, err := os.ReadFile(filepath.Join(data, "PG_VERSION"))
	if err != nil {
		return 0
	}
	major, _ := strconv.Atoi(strings.TrimSpace(string(text)))
	return major
}

// makeCluster makes the data directory below dir where there is none. It makes
// it under another name first, so that a start that was cut short leaves
// nothing that looks whole.
func makeCluster(ctx context.Context, bin binaries, dir string, o Options, who account) error {
	data, half := filepath.Join(dir, "data"), filepath.Join(dir, "data.new")
	if version(data) > 0 {
		return nil
	}
	if entries, _ := os.ReadDir(data); len(entries) > 0 {
		return fmt.Errorf("%s holds something that is no database of PostgreSQL; choose another directory", data)
	}
	// C.UTF-8 is not everywhere; C orders text the same way.
	var err error
	for _, locale := range []string{"C.UTF-8", "C"} {
		if err := os.RemoveAll(half); err != nil {
			return err
		}
		if err = initdb(ctx, bin, half, locale, o, who); err == nil {
			return os.Rename(half, data)
		}
	}
	return err
}

// initdb makes a database cluster that trusts whoever can open its socket,
// which lies in a directory that only its user can enter.
func initdb(ctx context.Context, bin binaries, data, locale string, o Options, who account) error {
	args := []string{"-D", data, "-U", role, "-A", "trust", "-E", "UTF8",
		"--locale=" + locale, "--data-checksums", "--no-instructions"}
	if o.UnsafeDurability {
		args = append(args, "--no-sync")
	}
	cmd := exec.CommandContext(ctx, bin.initdb(), args...)
	who.apply(cmd, filepath.Dir(data))
	said := &tail{}
	cmd.Stdout, cmd.Stderr = said, said
	if err := cmd.Run(); err != nil {
		return fmt.Errorf("initdb: %w: %s", err, said)
	}
	return nil
}
