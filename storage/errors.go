package storage

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"strings"
	"unicode/utf8"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"

	"lanewright/planner/archive"
)

// translate names the operation and says, where it can, which of the archive's
// errors err is and what a person may do about it. The codes are those of
// appendix A of the PostgreSQL manual.
func translate(ctx context.Context, operation string, err error) error {
	if err == nil {
		return nil
	}
	if errors.Is(err, pgx.ErrNoRows) {
		return fmt.Errorf("%s: %w", operation, archive.ErrNotFound)
	}
	var refusal *pgconn.PgError
	if errors.As(err, &refusal) {
		switch remedy, kind := judge(refusal.Code); {
		case kind != nil:
			return fmt.Errorf("%s: %w: %s (%w)", operation, kind, remedy, err)
		case remedy != "":
			return fmt.Errorf("%s: %s (%w)", operation, remedy, err)
		}
		return fmt.Errorf("%s: %w", operation, err)
	}
	if ctx.Err() != nil {
		// A connection that the caller's own ending has cut looks lost.
		return fmt.Errorf("%s: %w", operation, context.Cause(ctx))
	}
	if away(err) {
		return fmt.Errorf("%s: %w: the server does not answer; is it running, and is the address right? (%w)", operation, archive.ErrUnavailable, err)
	}
	return fmt.Errorf("%s: %w", operation, err)
}

// judge sorts what a server refuses with. Both results are zero for what has no
// better words than the server's own.
func judge(code string) (remedy string, kind error) {
	switch code {
	case "22021":
		return "a text holds a NUL character or broken UTF-8, which the database can not keep", nil
	case "23505":
		return "it exists already", archive.ErrConflict
	case "23001":
		return "revisions, plans, simulations and ticks are never changed", archive.ErrConflict
	case "53100":
		return "the server's disk is full and nothing was stored; free space there and try again", archive.ErrUnavailable
	case "53300":
		return "the server has no connection left; raise max_connections or close other programs", archive.ErrUnavailable
	case "57P01", "57P02":
		return "the server shuts down; try again when it runs", archive.ErrUnavailable
	case "57P03":
		return "the server starts up or shuts down; try again in a moment", archive.ErrUnavailable
	case "3D000":
		return "there is no such database; create it with createdb", archive.ErrUnavailable
	case "28000", "28P01":
		return "the server refuses this user or password", archive.ErrUnavailable
	case "25006":
		return "the server takes no writes; give the address of the primary", archive.ErrUnsuitable
	case "42501":
		return "the user lacks a right; let it own the database", archive.ErrUnsuitable
	case "42P01", "3F000", "42703":
		return "the tables are missing or of another version; run lanewright migrate", archive.ErrUnsuitable
	}
	switch {
	case strings.HasPrefix(code, "08"), strings.HasPrefix(code, "53"), strings.HasPrefix(code, "58"):
		return "the server is in trouble; see its log", archive.ErrUnavailable
	}
	return "", nil
}

// away reports whether err says that the connection failed.
func away(err error) bool {
	var connect *pgconn.ConnectError
	if errors.As(err, &connect) {
		return true
	}
	var network net.Error
	return errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) || errors.Is(err, pgconn.ErrConnClosed) ||
		errors.As(err, &network) && !errors.Is(err, context.DeadlineExceeded)
}

// storable reports whether the database can hold s as text at all; what it can
// not hold it can not find either.
func storable(s string) bool { return utf8.ValidString(s) && !strings.Contains(s, "\x00") }

// missing is the answer to a name that nothing has.
func missing(format string, a ...any) error {
	return fmt.Errorf(format+": %w", append(a, archive.ErrNotFound)...)
}
