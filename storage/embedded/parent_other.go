//go:build darwin || freebsd

package embedded

import "syscall"

// dieWithParent does nothing here: the next start stops what was left.
func dieWithParent(*syscall.SysProcAttr) {}
