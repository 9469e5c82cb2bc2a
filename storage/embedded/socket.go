//go:build linux || darwin || freebsd

package embedded

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"os"
	"path/filepath"
	"syscall"
)

// The socket's name is made of the port, which nothing listens on.
const (
	port       = "5432"
	socketName = ".s.PGSQL." + port
	// longestSocket is the longest path of a socket on every system here: 104
	// bytes on macOS with the closing zero (108 on Linux).
	longestSocket = 103
)

// makeSockets makes the directory of the socket, which only the account can
// enter: below dir, or, where that path is too long for a socket, in the
// directory for temporary files under a name made from dir.
func makeSockets(dir string, who account) (string, error) {
	sockets := socketDir(dir, os.TempDir())
	err := os.Mkdir(sockets, 0o700)
	if err == nil {
		err = who.own(sockets)
	}
	if err != nil && !os.IsExist(err) {
		return "", err
	}
	info, err := os.Lstat(sockets)
	if err != nil {
		return "", err
	}
	owner := info.Sys().(*syscall.Stat_t)
	if !info.IsDir() || int(owner.Uid) != who.uid || info.Mode().Perm() != 0o700 {
		return "", fmt.Errorf("%s, where the database's socket would lie, is not a private directory of the user it runs as; remove it", sockets)
	}
	return sockets, nil
}

func socketDir(dir, temp string) string {
	near := filepath.Join(dir, "socket")
	if len(near)+1+len(socketName) <= longestSocket {
		return near
	}
	sum := sha256.Sum256([]byte(dir))
	name := "lanewright-" + hex.EncodeToString(sum[:8])
	if far := filepath.Join(temp, name); len(far)+1+len(socketName) <= longestSocket {
		return far
	}
	return "/tmp/" + name
}

// removeSockets removes a socket directory that lies outside dir.
func removeSockets(dir, sockets string) error {
	if sockets == "" || filepath.Dir(sockets) == dir {
		return nil
	}
	return removeAll(sockets)
}
