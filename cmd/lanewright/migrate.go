package main

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"
)

func (p *program) migrateCommand() *cobra.Command {
	var at place
	cmd := &cobra.Command{
		Use:   "migrate [up | down --to N | status]",
		Short: "Bring the tables of the database to the version this program needs",
		Long: `migrate changes the tables of the database: up to the newest version, down to an older
one (which loses what only the newer one can hold), or says where they stand.
Several programs may do it at once: each change is made once.`,
		Example: `  DATABASE_URL=postgres://planner@db/lanewright lanewright migrate up
  lanewright migrate status --database postgres://planner@db/lanewright`,
		Args: noArguments,
		RunE: p.run(func(ctx context.Context, _ []string) error { return p.migrateUp(ctx, at) }),
	}
	at.flags(cmd.PersistentFlags())
	var to int64
	down := &cobra.Command{
		Use: "down --to N", Short: "Undo the changes after version N; 0 removes all tables",
		Args: noArguments,
	}
	down.Flags().Int64Var(&to, "to", -1, "the version to go back to")
	down.RunE = p.run(func(ctx context.Context, _ []string) error { return p.migrateDown(ctx, at, to) })
	cmd.AddCommand(
		&cobra.Command{
			Use: "up", Short: "Make every change that is missing", Args: noArguments,
			RunE: p.run(func(ctx context.Context, _ []string) error { return p.migrateUp(ctx, at) }),
		},
		down,
		&cobra.Command{
			Use: "status", Short: "Say which version the tables have", Args: noArguments,
			RunE: p.run(func(ctx context.Context, _ []string) error { return p.migrateStatus(ctx, at) }),
		},
	)
	return cmd
}

// noArguments refuses arguments and names the first.
func noArguments(cmd *cobra.Command, args []string) error {
	if len(args) > 0 {
		return usagef("%s takes no argument %q", cmd.CommandPath(), args[0])
	}
	return nil
}

func (p *program) migrateUp(ctx context.Context, at place) error {
	return p.withStore(ctx, at, func(s *store) error {
		if err := s.Migrate(ctx); err != nil {
			return err
		}
		return p.printVersion(ctx, s)
	})
}

func (p *program) migrateDown(ctx context.Context, at place, to int64) error {
	if to < 0 {
		return usagef("migrate down needs --to N, the version to go back to; 0 removes all tables")
	}
	return p.withStore(ctx, at, func(s *store) error {
		current, _, err := s.MigrationStatus(ctx)
		if err != nil {
			return err
		}
		if to > current {
			return usagef("migrate down can't go up: the tables are of version %d", current)
		}
		if err := s.MigrateDown(ctx, to); err != nil {
			return err
		}
		return p.printVersion(ctx, s)
	})
}

func (p *program) migrateStatus(ctx context.Context, at place) error {
	return p.withStore(ctx, at, func(s *store) error { return p.printVersion(ctx, s) })
}

func (p *program) printVersion(ctx context.Context, s *store) error {
	current, latest, err := s.MigrationStatus(ctx)
	if err != nil {
		return err
	}
	fmt.Fprintf(p.out, "the tables are of version %d; the newest is %d\n", current, latest)
	return nil
}

// withStore opens the database as it is, works with it and closes it.
func (p *program) withStore(ctx context.Context, at place, work func(*store) error) error {
	s, err := p.open(ctx, at)
	if err != nil {
		return err
	}
	return closing(s, work(s))
}

// closing closes s and returns err, or else what closing brought.
func closing(s *store, err error) error {
	if closed := s.close(); err == nil {
		return closed
	}
	return err
}
