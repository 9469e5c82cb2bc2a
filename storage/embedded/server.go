//go:build linux || darwin || freebsd

package embedded

import (
	"context"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"sync"
	"syscall"
	"time"

	"github.com/jackc/pgx/v5"
)

// role is the name of the server's superuser and of its database.
const role = "lanewright"

// How long a server may take to stop before it is told more firmly. A fast
// stop writes a checkpoint; an immediate one leaves that to the next start.
const (
	fastStop      = 60 * time.Second
	immediateStop = 10 * time.Second
)

// Server is a running private server.
type Server struct {
	dir     string
	sockets string
	lock    *os.File
	process *process
	// up cleans up after an earlier server, starts one and waits until it takes
	// connections.
	up      func(context.Context) error
	stop    sync.Once
	stopErr error
}

// Start starts a server on o.Dir, making its data where there is none, and
// returns when it takes connections. ctx limits the start only; call Stop to
// end the server. A caller that dies takes the server with it on Linux;
// elsewhere the next Start stops it.
func Start(ctx context.Context, o Options) (*Server, error) {
	s, err := start(ctx, o)
	if err != nil {
		return nil, fmt.Errorf("start private database: %w", err)
	}
	return s, nil
}

func start(ctx context.Context, o Options) (_ *Server, err error) {
	if o.Dir == "" {
		o.Dir = DefaultDir()
	}
	if o.Dir, err = filepath.Abs(o.Dir); err != nil {
		return nil, err
	}
	who, err := chooseAccount(o)
	if err != nil {
		return nil, err
	}
	if err := makeDir(o.Dir, who); err != nil {
		return nil, err
	}
	s := &Server{dir: o.Dir}
	if s.lock, err = takeLock(filepath.Join(o.Dir, lockName), who); err != nil {
		return nil, err
	}
	if err := s.run(ctx, o, who); err != nil {
		// What stopping says is only what err says already.
		_ = s.Stop()
		return nil, err
	}
	return s, nil
}

// run makes the data where there is none and starts the server.
func (s *Server) run(ctx context.Context, o Options, who account) error {
	bin, err := findBinaries(ctx, version(s.data()))
	if err != nil {
		return err
	}
	if err := makeCluster(ctx, bin, s.dir, o, who); err != nil {
		return err
	}
	if s.sockets, err = makeSockets(s.dir, who); err != nil {
		return err
	}
	s.up = func(ctx context.Context) error {
		if err := clearLeftovers(ctx, s.data(), s.socket()); err != nil {
			return err
		}
		p, err := launch(bin, s.data(), s.sockets, o, who)
		if err != nil {
			return err
		}
		s.process = p
		return s.ready(ctx)
	}
	return s.up(ctx)
}

func (s *Server) data() string   { return filepath.Join(s.dir, "data") }
func (s *Server) socket() string { return filepath.Join(s.sockets, socketName) }

// URL is the address of the server's database for Open and for psql.
func (s *Server) URL() string { return address(s.sockets, role) }

// Address is the URL of the server that another program runs on dir, for who
// was refused with ErrInUse.
func Address(dir string) string { return address(socketDir(dir, os.TempDir()), role) }

func address(sockets, database string) string {
	q := url.Values{"host": {sockets}, "port": {port}, "sslmode": {"disable"}}
	return (&url.URL{Scheme: "postgres", User: url.User(role), Path: "/" + database, RawQuery: q.Encode()}).String()
}

// ready waits until the server takes connections, which after a crash is when
// it has recovered, and makes its database where there is none.
func (s *Server) ready(ctx context.Context) error {
	config, err := pgx.ParseConfig(address(s.sockets, "postgres"))
	if err != nil {
		return fmt.Errorf("a variable of the environment whose name begins with PG is in the way: %w", err)
	}
	for {
		conn, err := pgx.ConnectConfig(ctx, config)
		if err == nil {
			err = makeDatabase(ctx, conn)
			return errors.Join(err, conn.Close(context.WithoutCancel(ctx)))
		}
		select {
		case <-s.process.done:
			return fmt.Errorf("the server ended at once: %s", s.process.said())
		case <-ctx.Done():
			return fmt.Errorf("the server did not come up: %w", context.Cause(ctx))
		case <-time.After(20 * time.Millisecond):
		}
	}
}

func makeDatabase(ctx context.Context, conn *pgx.Conn) error {
	var there bool
	err := conn.QueryRow(ctx, `select exists (select from pg_database where datname = $1)`, role).Scan(&there)
	if err == nil && !there {
		_, err = conn.Exec(ctx, `create database `+role)
	}
	return err
}

// Pauses between attempts to start a server again.
const (
	firstPause = time.Second
	lastPause  = time.Minute
)

// Keep starts the server again whenever it ends without having been told to,
// as when somebody kills it or the machine runs out of memory, until ctx ends.
// It tells why the server ended or did not come up, and nil when it runs again.
// Call Stop only after Keep has returned.
func (s *Server) Keep(ctx context.Context, tell func(error)) {
	for pause := firstPause; ; {
		select {
		case <-ctx.Done():
			return
		case <-s.process.done:
		}
		tell(fmt.Errorf("the private database ended by itself (%s): %s", s.process.cmd.ProcessState, s.process.said()))
		err := s.up(ctx)
		if err == nil {
			pause = firstPause
			tell(nil)
			continue
		}
		if ctx.Err() == nil {
			tell(fmt.Errorf("start private database again: %w", err))
		}
		select {
		case <-ctx.Done():
		case <-time.After(pause):
		}
		pause = min(2*pause, lastPause)
	}
}

// Stop ends the server and waits for its end: at once for its clients, cleanly
// for its data. It may be called more than once.
func (s *Server) Stop() error {
	s.stop.Do(func() {
		if s.process != nil {
			s.stopErr = s.process.end()
		}
		s.stopErr = errors.Join(s.stopErr, removeSockets(s.dir, s.sockets), freeLock(s.lock))
	})
	return s.stopErr
}

// end stops the process, more firmly each time it does not listen.
func (p *process) end() error {
	for _, step := range []struct {
		signal syscall.Signal
		wait   time.Duration
	}{{syscall.SIGINT, fastStop}, {syscall.SIGQUIT, immediateStop}, {syscall.SIGKILL, immediateStop}} {
		// A process that has ended takes no signal; done tells that too.
		_ = p.cmd.Process.Signal(step.signal)
		select {
		case <-p.done:
			return p.err
		case <-time.After(step.wait):
		}
	}
	return fmt.Errorf("stop private database: process %d does not end", p.cmd.Process.Pid)
}
