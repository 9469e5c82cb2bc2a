//go:build unix

package storagetest

import (
	"os/exec"
	"syscall"
)

// detach keeps an interrupt of the terminal from cmd.
func detach(cmd *exec.Cmd) { cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true} }
