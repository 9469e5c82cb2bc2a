package main

import (
	"context"
	"crypto/tls"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"os"
	"runtime"
	"time"

	"github.com/spf13/cobra"
	"golang.org/x/sync/errgroup"

	"lanewright/api"
	"lanewright/api/runner"
)

// loopback is where pages and API are served unless told otherwise.
const loopback = "127.0.0.1:8080"

// How long the server waits for a request's header, for a next request on a
// connection, and for requests under way when it stops.
const (
	headerTime = 10 * time.Second
	idleTime   = 2 * time.Minute
	graceTime  = 5 * time.Second
)

// serveOptions are the options of the serve command.
type serveOptions struct {
	addr, cert, key string
	hosts           []string
	threads         int
	at              place
	// quiet leaves the line per request out of the log.
	quiet bool
}

func (p *program) serveCommand() *cobra.Command {
	var o serveOptions
	cmd := &cobra.Command{
		Use:   "serve",
		Short: "Serve the pages and the API, and make the plans they ask for",
		Long: `serve answers for the pages and the JSON API and makes plans, in one process. It
listens on this machine only unless --addr says otherwise: there is no sign-in, so
put a proxy that asks for a password in front of it before others may reach it.
Phones keep a handler's round without a network only over HTTPS (or on this machine):
--tls-cert and --tls-key, or the proxy, give it.

Without a database URL it starts a private PostgreSQL, which stops with it and which
import and report use meanwhile; another one it uses only when lanewright migrate up
brought its tables up to date. Ctrl-C lets requests end and stops; a plan being made
is taken up again after the next start.`,
		Example: `  lanewright serve
  DATABASE_URL=postgres://planner@db/lanewright lanewright serve --addr 127.0.0.1:9000
  lanewright serve --addr :8443 --tls-cert plant.pem --tls-key plant.key`,
		Args: noArguments,
		RunE: p.run(func(ctx context.Context, _ []string) error { return p.serve(ctx, o) }),
	}
	flags := cmd.Flags()
	flags.StringVar(&o.addr, "addr", loopback, "address to listen on")
	flags.StringVar(&o.cert, "tls-cert", "", "certificate file: serve HTTPS")
	flags.StringVar(&o.key, "tls-key", "", "key file of the certificate")
	flags.StringSliceVar(&o.hosts, "host", nil, "further host names that requests may ask for, as behind a proxy")
	flags.IntVar(&o.threads, "threads", runtime.GOMAXPROCS(0), "threads that search for a plan")
	fromEnvironment(flags, "addr", "tls-cert", "tls-key", "host", "threads")
	o.at.flags(flags)
	return cmd
}

func (o serveOptions) check() error {
	switch {
	case (o.cert == "") != (o.key == ""):
		return usagef("--tls-cert and --tls-key go together")
	case o.threads < 1:
		return usagef("--threads is %d; it must be 1 or more", o.threads)
	}
	if _, _, err := net.SplitHostPort(o.addr); err != nil {
		return usagef("--addr %q: expected host:port, such as %s", o.addr, loopback)
	}
	return nil
}

func (p *program) serve(ctx context.Context, o serveOptions) error {
	if err := o.check(); err != nil {
		return err
	}
	pair, err := o.certificate()
	if err != nil {
		return err
	}
	listener, err := listen(ctx, o.addr)
	if err != nil {
		return err
	}
	defer listener.Close()
	s, err := p.openCurrent(ctx, o.at)
	if err != nil {
		return err
	}
	if !isLoopback(o.addr) {
		p.say("caution: %s can be reached from other machines, and there is no sign-in: whoever reaches it may read and change everything", o.addr)
	}
	switch {
	case pair != nil:
		if text := expiry(pair, time.Now()); text != "" {
			p.say("caution: %s", text)
		}
	case !isLoopback(o.addr):
		p.say("caution: browsers on other machines keep the handlers' rounds without a network only over HTTPS; --tls-cert and --tls-key give it")
	}
	fmt.Fprintf(p.out, "serving %s (Ctrl-C stops it)\n", o.home(listener))
	return closing(s, p.serveOn(ctx, s, listener, pair, o))
}

// listen opens the address, or says in a sentence why it can't.
func listen(ctx context.Context, addr string) (net.Listener, error) {
	listener, err := new(net.ListenConfig).Listen(ctx, "tcp", addr)
	if err != nil {
		return nil, fmt.Errorf("can't listen on %s; --addr names another address: %w", addr, err)
	}
	return listener, nil
}

// isLoopback reports whether addr can be reached from this machine only.
func isLoopback(addr string) bool {
	host, _, err := net.SplitHostPort(addr)
	if err != nil {
		return false
	}
	ip := net.ParseIP(host)
	return host == "localhost" || ip != nil && ip.IsLoopback()
}

// home is the address of the first page, as this machine's browser takes it.
func (o serveOptions) home(l net.Listener) string {
	scheme := "http"
	if o.cert != "" {
		scheme = "https"
	}
	host, port, _ := net.SplitHostPort(l.Addr().String())
	if ip := net.ParseIP(host); ip != nil && ip.IsUnspecified() {
		host = "localhost"
	}
	return fmt.Sprintf("%s://%s/", scheme, net.JoinHostPort(host, port))
}

// serveOn answers requests and makes plans until ctx ends or one of the two
// fails.
func (p *program) serveOn(ctx context.Context, s *store, listener net.Listener, pair *tls.Certificate, o serveOptions) error {
	log := p.logger(o.quiet)
	group, ctx := errgroup.WithContext(ctx)
	server := &http.Server{
		Handler:           api.New(api.Options{Store: s.DB, Log: log, Version: version(), Hosts: o.hosts}),
		ReadHeaderTimeout: headerTime,
		IdleTimeout:       idleTime,
		ErrorLog:          slog.NewLogLogger(log.Handler(), slog.LevelWarn),
	}
	group.Go(func() error { return answer(server, listener, pair) })
	group.Go(func() error {
		<-ctx.Done()
		return shutdown(ctx, server)
	})
	group.Go(func() error {
		return runner.New(s.DB, runner.Options{Worker: worker(), Threads: o.threads, Log: log}).Work(ctx)
	})
	group.Go(func() error {
		s.keep(ctx, log)
		return nil
	})
	if err := group.Wait(); err != nil && !errors.Is(err, context.Canceled) {
		return err
	}
	return nil
}

// answer serves until the server is closed, over HTTPS where there is a certificate.
func answer(server *http.Server, listener net.Listener, pair *tls.Certificate) error {
	var err error
	if pair != nil {
		server.TLSConfig = &tls.Config{Certificates: []tls.Certificate{*pair}, MinVersion: tls.VersionTLS12}
		err = server.ServeTLS(listener, "", "")
	} else {
		err = server.Serve(listener)
	}
	if errors.Is(err, http.ErrServerClosed) {
		return nil
	}
	return fmt.Errorf("serve: %w", err)
}

// shutdown lets requests end; those that do not in time (somebody follows a
// run) are cut.
func shutdown(ctx context.Context, server *http.Server) error {
	ctx, cancel := context.WithTimeout(context.WithoutCancel(ctx), graceTime)
	defer cancel()
	if err := server.Shutdown(ctx); err == nil {
		return nil
	}
	return server.Close()
}

func (p *program) logger(quiet bool) *slog.Logger {
	level := slog.LevelInfo
	if quiet {
		level = slog.LevelWarn
	}
	return slog.New(slog.NewTextHandler(p.err, &slog.HandlerOptions{Level: level}))
}

// worker names this process among those that make plans on one database.
func worker() string {
	host, err := os.Hostname()
	if err != nil {
		host = "unknown"
	}
	return fmt.Sprintf("%s/%d", host, os.Getpid())
}
