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
func translate(operation string, err error) error {
	if err == nil {
		return nil
	}
	if errors.Is(err, pgx.ErrNoRows) {
		return fmt.Errorf("%s: %w", operation, archive.ErrNotFound)
	}
	var refusal *pgconn.PgError
	if errors.As(err, &refusal) {
		if kind, remedy := judge(refusal.Code); kind != nil {
			return fmt.Errorf("%s: %w: %s (%w)", operation, kind, remedy, err)
		}
		return fmt.Errorf("%s: %w", operation, err)
	}
	if away(err) {
		return fmt.Errorf("%s: %w: the server does not answer; is it running, and is the address right? (%w)", operation, archive.ErrUnavailable, err)
	}
	return fmt.Errorf("%s: %w", operation, err)
}

// judge sorts what a server refuses with.
func judge(code string) (kind error, remedy string) {
	switch code {
	case "23505":
		return archive.ErrConflict, "it exists already"
	case "23001":
		return archive.ErrConflict, "revisions and plans are never changed"
	case "53100":
		return archive.ErrUnavailable, "the server's disk is full and nothing was stored; free space there and try again"
	case "53300":
		return archive.ErrUnavailable, "the server has no connection left; raise max_connections or close other programs"
	case "57P01", "57P02":
		return archive.ErrUnavailable, "the server shuts down; try again when it runs"
	case "57P03":
		return archive.ErrUnavailable, "the server starts up or shuts down; try again in a moment"
	case "3D000":
		return archive.ErrUnavailable, "there is no such database; create it with createdb"
	case "28000", "28P01":
		return archive.ErrUnavailable, "the server refuses this user or password"
	case "25006":
		return archive.ErrUnsuitable, "the server takes no writes; give the address of the primary"
	case "42501":
		return archive.ErrUnsuitable, "the user lacks a right; let it own the database"
	case "42P01", "3F000", "42703":
		return archive.ErrUnsuitable, "the tables are missing or of another version; run lanewright migrate"
	}
	switch {
	case strings.HasPrefix(code, "08"), strings.HasPrefix(code, "53"), strings.HasPrefix(code, "58"):
		return archive.ErrUnavailable, "the server is in trouble; see its log"
	}
	return nil, ""
}

// away reports whether err says that the connection failed, as far as that is
// not the caller's own cancelling.
func away(err error) bool {
	if errors.Is(err, context.Canceled) {
		return false
	}
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
