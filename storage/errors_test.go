package storage

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
	"github.com/stretchr/testify/assert"

	"lanewright/planner/archive"
)

func TestTranslate(t *testing.T) {
	t.Parallel()
	refusal := func(code string) error {
		return fmt.Errorf("insert: %w", &pgconn.PgError{Code: code, Message: "as the server puts it"})
	}
	for _, c := range []struct {
		name     string
		err      error
		is       error
		sentence string
	}{
		{"no row", pgx.ErrNoRows, archive.ErrNotFound, "save: not found"},
		{"there already", refusal("23505"), archive.ErrConflict, "exists already"},
		{"sealed", refusal("23001"), archive.ErrConflict, "never changed"},
		{"disk full", refusal("53100"), archive.ErrUnavailable, "disk is full and nothing was stored"},
		{"no memory", refusal("53200"), archive.ErrUnavailable, "in trouble"},
		{"too many connections", refusal("53300"), archive.ErrUnavailable, "max_connections"},
		{"stopped by its administrator", refusal("57P01"), archive.ErrUnavailable, "shuts down"},
		{"crashed", refusal("57P02"), archive.ErrUnavailable, "shuts down"},
		{"starting", refusal("57P03"), archive.ErrUnavailable, "in a moment"},
		{"input or output error", refusal("58030"), archive.ErrUnavailable, "see its log"},
		{"connection lost", refusal("08006"), archive.ErrUnavailable, "see its log"},
		{"password", refusal("28P01"), archive.ErrUnavailable, "password"},
		{"no database", refusal("3D000"), archive.ErrUnavailable, "createdb"},
		{"standby", refusal("25006"), archive.ErrUnsuitable, "primary"},
		{"no right", refusal("42501"), archive.ErrUnsuitable, "own the database"},
		{"no table", refusal("42P01"), archive.ErrUnsuitable, "lanewright migrate"},
		{"end of file", io.ErrUnexpectedEOF, archive.ErrUnavailable, "does not answer"},
		{"network", &net.OpError{Op: "read", Err: errors.New("reset")}, archive.ErrUnavailable, "does not answer"},
		{"cancelled", context.Canceled, context.Canceled, "save: context canceled"},
		{"too late", context.DeadlineExceeded, context.DeadlineExceeded, "save: context deadline exceeded"},
		{"ours", archive.ErrConflict, archive.ErrConflict, "save: conflict"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			err := translate(t.Context(), "save", c.err)
			assert.ErrorIs(t, err, c.is)
			assert.ErrorContains(t, err, c.sentence)
		})
	}
	assert.NoError(t, translate(t.Context(), "save", nil))
	assert.NotErrorIs(t, translate(t.Context(), "save", context.Canceled), archive.ErrUnavailable)
	ended, end := context.WithCancel(t.Context())
	end()
	for _, err := range []error{io.EOF, &net.OpError{Op: "write", Err: net.ErrClosed}} {
		assert.ErrorIs(t, translate(ended, "save", err), context.Canceled, "the caller cut the connection")
	}
	plain := translate(t.Context(), "save", refusal("22021"))
	assert.ErrorContains(t, plain, "NUL")
	for _, kind := range []error{archive.ErrNotFound, archive.ErrConflict, archive.ErrUnavailable, archive.ErrUnsuitable} {
		assert.NotErrorIs(t, plain, kind)
	}
}
