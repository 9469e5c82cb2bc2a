package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"path/filepath"

	"github.com/spf13/pflag"

	"lanewright/planner/archive"
	"lanewright/storage"
	"lanewright/storage/embedded"
)

// place says which database a command works with.
type place struct {
	// url is that of a server; where it is empty, a private one is started
	// with its data below dir.
	url, dir string
	// join works with the private database that another copy of the program
	// runs, as a short command does beside serve.
	join bool
}

// flags adds the options that name the database.
func (d *place) flags(flags *pflag.FlagSet) {
	flags.StringVar(&d.url, "database", "", "URL of the PostgreSQL database (default a private one, started for the purpose)")
	flags.StringVar(&d.dir, "dir", stateDir(), "directory of the private database")
	fromEnvironment(flags, "database", "dir")
}

// stateDir is where the private database lies unless told otherwise.
func stateDir() string { return filepath.Dir(embedded.DefaultDir()) }

// store is an open database and, where it is a private one, its server.
type store struct {
	*storage.DB
	private *embedded.Server
}

// open opens the database, of whatever version its tables are.
func (p *program) open(ctx context.Context, at place) (*store, error) {
	s := &store{}
	if at.url == "" {
		var err error
		if s.private, at.url, err = startPrivate(ctx, at); err != nil {
			return nil, err
		}
		p.say("using the private database in %s; DATABASE_URL would name another", at.dir)
	}
	db, err := storage.Open(ctx, at.url)
	if err != nil {
		return nil, errors.Join(err, s.close())
	}
	s.DB = db
	return s, nil
}

// startPrivate starts the private database and returns its address, or only
// that where another program runs it and it may be joined.
func startPrivate(ctx context.Context, at place) (private *embedded.Server, url string, err error) {
	dir := filepath.Join(at.dir, "postgres")
	private, err = embedded.Start(ctx, embedded.Options{Dir: dir})
	if at.join && errors.Is(err, embedded.ErrInUse) {
		return nil, embedded.Address(dir), nil
	}
	if err != nil {
		return nil, "", err
	}
	url = private.URL()
	return private, url, nil
}

// openCurrent opens a database with the tables this program needs. A private
// one is brought up to date; anybody else's is left to migrate.
func (p *program) openCurrent(ctx context.Context, at place) (*store, error) {
	s, err := p.open(ctx, at)
	if err != nil {
		return nil, err
	}
	if err := s.current(ctx); err != nil {
		return nil, errors.Join(err, s.close())
	}
	return s, nil
}

func (s *store) current(ctx context.Context) error {
	if s.private != nil {
		return s.Migrate(ctx)
	}
	current, latest, err := s.MigrationStatus(ctx)
	switch {
	case err != nil:
		return err
	case current < latest:
		return fmt.Errorf("the database's tables are of version %d and this program needs %d: run lanewright migrate up", current, latest)
	case current > latest:
		return fmt.Errorf("the database's tables are of version %d and this program knows %d: use a newer lanewright", current, latest)
	}
	return nil
}

// keep starts the private server again whenever it ends by itself, until ctx
// ends.
func (s *store) keep(ctx context.Context, log *slog.Logger) {
	if s.private == nil {
		return
	}
	s.private.Keep(ctx, func(err error) {
		if err != nil {
			log.WarnContext(ctx, "private database", "error", err)
			return
		}
		log.WarnContext(ctx, "the private database runs again")
	})
}

// close ends the connections first and then the private server.
func (s *store) close() error {
	if s.DB != nil {
		s.DB.Close()
	}
	if s.private == nil {
		return nil
	}
	if err := s.private.Stop(); err != nil {
		return fmt.Errorf("stop the private database: %w", err)
	}
	return nil
}

// missing turns an answer of the store into a sentence about what was asked.
func missing(err error, what string, args ...any) error {
	if errors.Is(err, archive.ErrNotFound) {
		return &exit{exitUsage, fmt.Errorf("there is no "+what, args...)}
	}
	return err
}
