package storage

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"

	"lanewright/planner/archive"
)

// oldest is the oldest server that has everything the migrations use, in the
// form of server_version_num.
const oldest = 150000

// server is what a server says of itself.
type server struct {
	Number                                   int
	Version, Encoding                        string
	Recovery                                 bool
	Fsync, FullPageWrites, SynchronousCommit string
}

const askServer = `
select current_setting('server_version_num')::int as number,
  current_setting('server_version') as version,
  current_setting('server_encoding') as encoding,
  pg_is_in_recovery() as recovery,
  current_setting('fsync') as fsync,
  current_setting('full_page_writes') as full_page_writes,
  current_setting('synchronous_commit') as synchronous_commit`

func (db *DB) check(ctx context.Context, o Options) error {
	rows, err := db.pool.Query(ctx, askServer)
	if err != nil {
		return err
	}
	s, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[server])
	if err != nil {
		return err
	}
	if err := s.usable(); err != nil || o.UnsafeDurability {
		return err
	}
	return s.durable()
}

// usable refuses a server that lacks what the tables need.
func (s server) usable() error {
	switch {
	case s.Number < oldest:
		return unsuitable("the server is PostgreSQL %s; version 15 or newer is needed", s.Version)
	case s.Encoding != "UTF8":
		return unsuitable("the database's encoding is %s; create one with encoding UTF8", s.Encoding)
	case s.Recovery:
		return unsuitable("the server is a standby and takes no writes; give the address of the primary")
	}
	return nil
}

// durable refuses a server that could lose a plan it has confirmed.
func (s server) durable() error {
	switch {
	case s.Fsync != "on":
		return unsuitable("fsync is %s: a crash of the machine could destroy the database; set fsync = on", s.Fsync)
	case s.FullPageWrites != "on":
		return unsuitable("full_page_writes is %s: a crash of the machine could destroy the database; set full_page_writes = on", s.FullPageWrites)
	case s.SynchronousCommit == "off":
		return unsuitable("synchronous_commit is off: a crash could lose plans that were confirmed; set synchronous_commit = on")
	}
	return nil
}

func unsuitable(format string, a ...any) error {
	return fmt.Errorf("%w: "+format, append([]any{archive.ErrUnsuitable}, a...)...)
}
