//go:build linux || darwin || freebsd

package embedded

import (
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"syscall"
	"time"
)

// process is a server's main process.
type process struct {
	cmd  *exec.Cmd
	last *tail
	// done is closed when the process has ended; err is valid then.
	done chan struct{}
	err  error
}

// launch starts the server. It starts and waits on one thread that lives as
// long as the server: Linux tells a child of the death of the thread that made
// it, not of the program.
func launch(bin binaries, data, sockets string, o Options, who account) (*process, error) {
	args := []string{"-D", data, "-c", "listen_addresses=", "-c", "port=" + port,
		"-c", "unix_socket_directories=" + sockets, "-c", "unix_socket_permissions=0700",
		"-c", "logging_collector=off", "-c", "log_destination=stderr"}
	if o.UnsafeDurability {
		args = append(args, "-c", "fsync=off", "-c", "full_page_writes=off", "-c", "synchronous_commit=off")
	}
	p := &process{cmd: exec.Command(bin.postgres(), args...), last: &tail{}, done: make(chan struct{})}
	who.apply(p.cmd, filepath.Dir(data))
	p.cmd.SysProcAttr.Setpgid = true
	dieWithParent(p.cmd.SysProcAttr)
	p.cmd.WaitDelay = time.Second
	p.cmd.Stderr = p.last
	if o.Log != nil {
		p.cmd.Stderr = io.MultiWriter(p.last, o.Log)
	}
	p.cmd.Stdout = p.cmd.Stderr
	started := make(chan error)
	go func() {
		runtime.LockOSThread()
		err := p.cmd.Start()
		started <- err
		if err == nil {
			p.err = p.cmd.Wait()
			close(p.done)
		}
	}()
	if err := <-started; err != nil {
		return nil, fmt.Errorf("run %s: %w", bin.postgres(), err)
	}
	return p, nil
}

func (p *process) said() string { return p.last.String() }

// apply makes cmd run as the account, in dir, with nothing of the caller's
// environment that could change what PostgreSQL does.
func (a account) apply(cmd *exec.Cmd, dir string) {
	cmd.Dir = dir
	cmd.Env = []string{"PATH=" + os.Getenv("PATH"), "LC_ALL=C"}
	cmd.SysProcAttr = &syscall.SysProcAttr{}
	if a.other {
		cmd.SysProcAttr.Credential = &syscall.Credential{Uid: uint32(a.uid), Gid: uint32(a.gid)}
	}
}

// tail keeps the end of what is written to it.
type tail struct {
	mu   sync.Mutex
	text []byte
}

const tailSize = 2000

// Write implements io.Writer.
func (t *tail) Write(b []byte) (int, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.text = append(t.text, b...)
	t.text = t.text[max(0, len(t.text)-tailSize):]
	return len(b), nil
}

// String returns the last lines on one line.
func (t *tail) String() string {
	t.mu.Lock()
	defer t.mu.Unlock()
	return strings.Join(strings.FieldsFunc(string(t.text), func(r rune) bool { return r == '\n' || r == '\r' }), "; ")
}
