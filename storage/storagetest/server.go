package storagetest

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"time"

	"github.com/jackc/pgx/v5"

	"lanewright/migrations"
	"lanewright/storage"
	"lanewright/storage/embedded"
)

// serverURL returns the server the environment names, else a private one.
func serverURL(unsafe bool) (string, error) {
	if named := cmp.Or(os.Getenv("LANEWRIGHT_TEST_DATABASE_URL"), os.Getenv("DATABASE_URL")); named != "" {
		return named, nil
	}
	dir, err := os.MkdirTemp("", "lanewright-test-")
	if err != nil {
		return "", err
	}
	// The user that a server of root's runs as must be able to enter.
	if err := os.Chmod(dir, 0o755); err != nil {
		return "", err
	}
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	server, err := embedded.Start(ctx, embedded.Options{Dir: filepath.Join(dir, "pg"), UnsafeDurability: unsafe})
	if err != nil {
		return "", errors.Join(err, os.RemoveAll(dir))
	}
	return server.URL(), cleanUpAfterUs(dir)
}

// mourner waits until the program that started it has ended, however it
// ended: then its input closes. Then it ends the server and removes its
// directory.
const mourner = `
cat >/dev/null
pid=$(head -n 1 "$1/pg/data/postmaster.pid" 2>/dev/null)
for i in 1 2 3 4 5 6 7 8 9 10; do
  kill -QUIT "$pid" 2>/dev/null || break
  sleep 0.2
done
rm -rf "$1"`

// cleanUpAfterUs starts the mourner. Tests have no common end at which a
// package like this one could do it.
func cleanUpAfterUs(dir string) error {
	cmd := exec.Command("sh", "-c", mourner, "sh", dir)
	detach(cmd)
	if _, err := cmd.StdinPipe(); err != nil {
		return err
	}
	if err := cmd.Start(); err != nil {
		return err
	}
	// Waiting keeps its input open for as long as this program lives.
	go func() { _ = cmd.Wait() }()
	return nil
}

// makeTemplate migrates the template of this version's databases where there
// is none yet, one test program at a time.
func makeTemplate() (string, error) {
	server, err := quick()
	if err != nil {
		return "", err
	}
	hash, err := migrations.Hash()
	if err != nil {
		return "", err
	}
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	conn, err := pgx.Connect(ctx, server)
	if err != nil {
		return "", err
	}
	defer conn.Close(ctx)
	name := "lanewright_template_" + hash
	if _, err := conn.Exec(ctx, `select pg_advisory_lock(hashtext($1))`, name); err != nil {
		return "", err
	}
	var there bool
	err = conn.QueryRow(ctx, `select exists (select from pg_database where datname = $1)`, name).Scan(&there)
	if err != nil || there {
		return name, err
	}
	return name, migrateTemplate(ctx, conn, server, name)
}

// migrateTemplate gives the template its name when it is whole.
func migrateTemplate(ctx context.Context, conn *pgx.Conn, server, name string) error {
	half := name + "_new"
	for _, command := range []string{"drop database if exists " + half + " with (force)", "create database " + half} {
		if _, err := conn.Exec(ctx, command); err != nil {
			return err
		}
	}
	db, err := storage.OpenWith(ctx, inDatabase(server, half), storage.Options{UnsafeDurability: true})
	if err != nil {
		return err
	}
	err = db.Migrate(ctx)
	db.Close()
	if err != nil {
		return fmt.Errorf("template: %w", err)
	}
	_, err = conn.Exec(ctx, "alter database "+half+" rename to "+name)
	return err
}
