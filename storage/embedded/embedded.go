// Package embedded runs a private PostgreSQL for people who have none running:
// the server that is installed on the machine, with a data directory of its
// own, reached over a Unix socket that only its user can open and never over
// the network.
//
// It never lowers a durability setting unless a test asks for it. It runs as
// the caller, or, as PostgreSQL refuses to run as root, as another user when
// the caller is root. A server that a killed program left behind is stopped
// and recovered at the next start.
package embedded

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"runtime"
)

var (
	// ErrInUse says that another program runs a server on the directory.
	ErrInUse = errors.New("data directory in use")
	// ErrNoPostgres says that no PostgreSQL that will do is installed.
	ErrNoPostgres = errors.New("PostgreSQL not found")
)

// Options say how a server is started.
type Options struct {
	// Dir holds the data, the socket and the lock; empty is DefaultDir. It is
	// made where it is missing.
	Dir string
	// User is whom a root caller runs the server as; empty is the owner of
	// the data where there is any, else postgres, else nobody. Others always
	// run it as themselves.
	User string
	// Log takes what the server writes; nil drops it.
	Log io.Writer
	// UnsafeDurability turns fsync and its like off. Only tests set it: a
	// crash of the machine may destroy the data.
	UnsafeDurability bool
}

// DefaultDir is the directory for the server's data where none is named: for
// root a system one that other users can reach, else one in the caller's home.
func DefaultDir() string {
	const name = "lanewright/postgres"
	if os.Geteuid() == 0 {
		return "/var/lib/" + name
	}
	if state := os.Getenv("XDG_STATE_HOME"); filepath.IsAbs(state) {
		return filepath.Join(state, name)
	}
	home, err := os.UserHomeDir()
	if err != nil {
		return filepath.Join(os.TempDir(), name)
	}
	if runtime.GOOS == "darwin" {
		return filepath.Join(home, "Library", "Application Support", name)
	}
	return filepath.Join(home, ".local", "state", name)
}
