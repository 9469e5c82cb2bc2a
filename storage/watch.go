package storage

import (
	"context"
	"time"

	"github.com/jackc/pgx/v5"
)

// pauses between attempts to reach a server that went away.
const (
	firstPause = 100 * time.Millisecond
	lastPause  = 5 * time.Second
)

// WatchRuns sends the id of every run that changes until ctx ends, then closes
// the channel. Ids are hints: read the run to learn what changed. An empty id
// says that hints may have been lost, because the server was away: read every
// run of interest again. The receiver must keep receiving.
//
// It holds one connection of its own, outside the pool.
func (db *DB) WatchRuns(ctx context.Context) (<-chan string, error) {
	conn, err := db.listen(ctx)
	if err != nil {
		return nil, translate(ctx, "watch runs", err)
	}
	ids := make(chan string, 64)
	go func() {
		defer close(ids)
		for conn != nil {
			forward(ctx, conn, ids)
			hangUp(conn)
			if conn = db.listenAgain(ctx); conn != nil {
				send(ctx, ids, "")
			}
		}
	}()
	return ids, nil
}

func (db *DB) listen(ctx context.Context) (*pgx.Conn, error) {
	conn, err := pgx.ConnectConfig(ctx, db.pool.Config().ConnConfig)
	if err != nil {
		return nil, err
	}
	if _, err := conn.Exec(ctx, `listen lanewright_runs`); err != nil {
		hangUp(conn)
		return nil, err
	}
	return conn, nil
}

// listenAgain tries until it can listen; it returns nil when ctx ends.
func (db *DB) listenAgain(ctx context.Context) *pgx.Conn {
	for pause := firstPause; ctx.Err() == nil; pause = min(2*pause, lastPause) {
		if conn, err := db.listen(ctx); err == nil {
			return conn
		}
		select {
		case <-ctx.Done():
		case <-time.After(pause):
		}
	}
	return nil
}

// hangUp closes conn, not waiting long for a server that went away.
func hangUp(conn *pgx.Conn) {
	ctx, cancel := context.WithTimeout(context.Background(), time.Second)
	defer cancel()
	_ = conn.Close(ctx)
}

// forward sends ids until the connection fails or ctx ends.
func forward(ctx context.Context, conn *pgx.Conn, ids chan<- string) {
	for {
		n, err := conn.WaitForNotification(ctx)
		if err != nil || !send(ctx, ids, n.Payload) {
			return
		}
	}
}

// send reports whether id was sent before ctx ended.
func send(ctx context.Context, ids chan<- string, id string) bool {
	select {
	case ids <- id:
		return true
	case <-ctx.Done():
		return false
	}
}
