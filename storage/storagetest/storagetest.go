// Package storagetest hands each test a database of its own on a real
// PostgreSQL: the server that LANEWRIGHT_TEST_DATABASE_URL or DATABASE_URL
// names, whose user must be allowed to create databases, else a private one
// that lives as long as the test program.
//
// Databases are copies of a template that is migrated once and named by the
// hash of the migrations. Where no PostgreSQL is installed tests are skipped
// with a sentence, or fail when the environment variable CI is set.
package storagetest

import (
	"context"
	"crypto/rand"
	"errors"
	"net/url"
	"os"
	"strings"
	"sync"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"lanewright/storage"
	"lanewright/storage/embedded"
)

// Each server is started by the first test that wants it.
var (
	quick   = sync.OnceValues(func() (string, error) { return serverURL(true) })
	durable = sync.OnceValues(func() (string, error) { return serverURL(false) })
	// migrated is the template, on the quick server.
	migrated = sync.OnceValues(makeTemplate)
)

// New returns a migrated database of the test's own, gone after the test.
func New(t testing.TB) *storage.DB {
	t.Helper()
	server := start(t, quick)
	template, err := migrated()
	require.NoError(t, err, "migrate the template of the test databases")
	return Open(t, create(t, server, "template "+template))
}

// Empty returns the address of a database without tables, gone after the
// test. Its server may have durability turned off: open it with Open.
func Empty(t testing.TB) string {
	t.Helper()
	return create(t, start(t, quick), "")
}

// Durable is Empty on a server that storage.Open accepts, for tests of whole
// programs.
func Durable(t testing.TB) string {
	t.Helper()
	return create(t, start(t, durable), "")
}

// Open opens a test database until the end of the test.
func Open(t testing.TB, url string) *storage.DB {
	t.Helper()
	db, err := storage.OpenWith(t.Context(), url, storage.Options{UnsafeDurability: true})
	require.NoError(t, err)
	t.Cleanup(db.Close)
	return db
}

func start(t testing.TB, server func() (string, error)) string {
	t.Helper()
	address, err := server()
	if errors.Is(err, embedded.ErrNoPostgres) && os.Getenv("CI") == "" {
		t.Skipf("this test needs PostgreSQL: %v", err)
	}
	require.NoError(t, err, "a PostgreSQL for tests")
	return address
}

// create makes a database and drops it after the test.
func create(t testing.TB, server, how string) string {
	t.Helper()
	name := "test_" + strings.ToLower(rand.Text())
	require.NoError(t, execute(t.Context(), server, "create database "+name+" "+how))
	t.Cleanup(func() {
		err := execute(context.Background(), server, "drop database "+name+" with (force)")
		require.NoError(t, err)
	})
	return inDatabase(server, name)
}

// execute runs one command on a connection of its own.
func execute(ctx context.Context, server, command string) error {
	conn, err := pgx.Connect(ctx, server)
	if err != nil {
		return err
	}
	defer conn.Close(ctx)
	_, err = conn.Exec(ctx, command)
	return err
}

// inDatabase returns the address of another database of the server.
func inDatabase(server, name string) string {
	u, err := url.Parse(server)
	if err != nil {
		panic("the address of the test server is no URL")
	}
	u.Path = "/" + name
	return u.String()
}
