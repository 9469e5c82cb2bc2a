//go:build linux || darwin || freebsd

package embedded

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"time"
)

// clearLeftovers stops a server that a killed program left running on data and
// removes the lock files it left in data and beside its socket. The caller
// holds the owner's lock, so no program wants that server any more. The files
// go only when no process is left: PostgreSQL itself takes a zombie, or another
// process that was given the same number, for a living server.
func clearLeftovers(ctx context.Context, data, socket string) error {
	lock := filepath.Join(data, "postmaster.pid")
	for _, step := range []struct {
		signal syscall.Signal
		wait   time.Duration
	}{{0, 0}, {syscall.SIGINT, fastStop}, {syscall.SIGQUIT, immediateStop}, {syscall.SIGKILL, immediateStop}} {
		tell(mainProcess(lock), serversOn(data, mainProcess(lock)), step.signal)
		gone, err := waitGone(ctx, data, lock, step.wait)
		if err != nil {
			return err
		}
		if gone {
			return removeAll(lock, socket, socket+".lock")
		}
	}
	return fmt.Errorf("an earlier server on %s does not end; end process %d", data, mainProcess(lock))
}

// mainProcess returns the process a lock file names, 0 where there is none.
func mainProcess(lock string) int {
	text, _ := os.ReadFile(lock)
	first, _, _ := strings.Cut(string(text), "\n")
	pid, _ := strconv.Atoi(strings.TrimSpace(first))
	return pid
}

// tell signals the main process, or, where that is gone already, the
// processes it left. A signal that comes too late harms nobody.
func tell(main int, alive []int, signal syscall.Signal) {
	if signal == 0 {
		return
	}
	for _, pid := range alive {
		if pid == main {
			_ = syscall.Kill(pid, signal)
			return
		}
	}
	for _, pid := range alive {
		_ = syscall.Kill(pid, signal)
	}
}

// waitGone reports whether no server is left on data within wait.
func waitGone(ctx context.Context, data, lock string, wait time.Duration) (bool, error) {
	for end := time.Now().Add(wait); ; {
		if len(serversOn(data, mainProcess(lock))) == 0 {
			return true, nil
		}
		if !time.Now().Before(end) {
			return false, nil
		}
		select {
		case <-ctx.Done():
			return false, fmt.Errorf("an earlier server on %s has not ended yet: %w", data, context.Cause(ctx))
		case <-time.After(20 * time.Millisecond):
		}
	}
}

func removeAll(paths ...string) error {
	for _, path := range paths {
		if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	return nil
}
