//go:build linux || darwin || freebsd

package embedded

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"syscall"
)

// lockName is the file in the directory that names and locks out others.
const lockName = "owner"

// takeLock locks the owner file until the caller closes it or dies, so that
// two programs never run servers on one directory.
func takeLock(path string, who account) (*os.File, error) {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|syscall.O_NOFOLLOW, 0o600)
	if err != nil {
		if errors.Is(err, os.ErrPermission) {
			return nil, fmt.Errorf("%s belongs to another user; choose another directory (%w)", filepath.Dir(path), err)
		}
		return nil, err
	}
	if err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB); err != nil {
		defer f.Close()
		if !errors.Is(err, syscall.EWOULDBLOCK) {
			return nil, fmt.Errorf("lock %s: %w", path, err)
		}
		text, _ := io.ReadAll(io.LimitReader(f, 20))
		return nil, fmt.Errorf("%w: process %s already runs the private database in %s; stop it, use its address, or choose another directory",
			ErrInUse, strings.TrimSpace(string(text)), filepath.Dir(path))
	}
	if err := errors.Join(who.own(path), f.Truncate(0)); err != nil {
		return nil, errors.Join(err, f.Close())
	}
	// Only the message above reads it, so a full disk does no harm here.
	fmt.Fprintf(f, "%d\n", os.Getpid())
	return f, nil
}

// freeLock gives the lock of a file back and closes it. Closing alone is not
// enough: a program that this one is just starting holds a copy of the file until
// it runs, and with it the lock.
func freeLock(f *os.File) error {
	return errors.Join(syscall.Flock(int(f.Fd()), syscall.LOCK_UN), f.Close())
}
