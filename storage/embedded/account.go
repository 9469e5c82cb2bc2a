//go:build linux || darwin || freebsd

package embedded

import (
	"fmt"
	"os"
	"os/user"
	"path/filepath"
	"strconv"
	"syscall"
)

// account is whom the server runs as.
type account struct {
	name     string
	uid, gid int
	// other is true when that is not the caller.
	other bool
}

// chooseAccount returns the caller, or for root an account that PostgreSQL
// agrees to run as.
func chooseAccount(o Options) (account, error) {
	if os.Geteuid() != 0 {
		return account{uid: os.Geteuid(), gid: os.Getegid()}, nil
	}
	if o.User != "" {
		return lookupAccount(o.User)
	}
	if a, ok := ownerOf(filepath.Join(o.Dir, "data")); ok {
		return a, nil
	}
	for _, name := range []string{"postgres", "nobody"} {
		if a, err := lookupAccount(name); err == nil {
			return a, nil
		}
	}
	return account{}, fmt.Errorf("PostgreSQL does not run as root and neither user postgres nor nobody exists; name a user to run it as")
}

func lookupAccount(name string) (account, error) {
	u, err := user.Lookup(name)
	if err != nil {
		return account{}, fmt.Errorf("user %s to run PostgreSQL as: %w", name, err)
	}
	uid, errUID := strconv.Atoi(u.Uid)
	gid, errGID := strconv.Atoi(u.Gid)
	if errUID != nil || errGID != nil || uid == 0 {
		return account{}, fmt.Errorf("PostgreSQL does not run as user %s; name another user to run it as", name)
	}
	return account{name, uid, gid, true}, nil
}

// ownerOf returns the account that owns existing data; ok is false where there
// is none or root owns it.
func ownerOf(data string) (account, bool) {
	info, err := os.Stat(data)
	if err != nil {
		return account{}, false
	}
	owner := info.Sys().(*syscall.Stat_t)
	name := fmt.Sprintf("number %d", owner.Uid)
	return account{name, int(owner.Uid), int(owner.Gid), true}, owner.Uid != 0
}

// makeDir makes the directory for data, socket and lock, for the account and
// nobody else.
func makeDir(dir string, who account) error {
	if err := os.MkdirAll(filepath.Dir(dir), 0o755); err != nil {
		return fmt.Errorf("directory for the database: %w", err)
	}
	if err := os.Mkdir(dir, 0o700); err != nil && !os.IsExist(err) {
		return fmt.Errorf("directory for the database: %w", err)
	}
	if err := refuseStrange(dir); err != nil {
		return err
	}
	if err := who.own(dir); err != nil {
		return err
	}
	return who.reaches(dir)
}

// refuseStrange refuses a directory that holds something and was not made by
// an earlier start.
func refuseStrange(dir string) error {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return fmt.Errorf("directory for the database: %w", err)
	}
	if len(entries) == 0 {
		return nil
	}
	if _, err := os.Stat(filepath.Join(dir, lockName)); err != nil {
		return fmt.Errorf("%s holds other files; choose an empty directory for the database", dir)
	}
	return nil
}

// own gives path to an account that is not the caller.
func (a account) own(path string) error {
	if !a.other {
		return nil
	}
	if err := os.Lchown(path, a.uid, a.gid); err != nil {
		return fmt.Errorf("give %s to user %s: %w", path, a.name, err)
	}
	return nil
}

// reaches refuses a directory below one that the account may not enter, such
// as the home of root.
func (a account) reaches(dir string) error {
	if !a.other {
		return nil
	}
	real, err := filepath.EvalSymlinks(dir)
	if err != nil {
		return err
	}
	for up := filepath.Dir(real); ; up = filepath.Dir(up) {
		info, err := os.Stat(up)
		if err != nil {
			return err
		}
		if !a.enters(info) {
			return fmt.Errorf("user %s, whom PostgreSQL runs as, may not enter %s (mode %#o), where %s lies; choose another directory such as /var/lib/lanewright, or another user",
				a.name, up, info.Mode().Perm(), dir)
		}
		if up == filepath.Dir(up) {
			return nil
		}
	}
}

// enters judges by the permission bits alone.
func (a account) enters(dir os.FileInfo) bool {
	owner := dir.Sys().(*syscall.Stat_t)
	switch {
	case int(owner.Uid) == a.uid:
		return dir.Mode()&0o100 != 0
	case int(owner.Gid) == a.gid:
		return dir.Mode()&0o010 != 0
	}
	return dir.Mode()&0o001 != 0
}
