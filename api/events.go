package api

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"time"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/adapters/humachi"

	"lanewright/api/wire"
	"lanewright/planner/archive"
)

// stream sends a run as events: at once, after every change, and a comment
// while nothing happens, so that nothing between closes the connection. It
// ends with the run, or when the caller goes away.
func (s *server) stream(ctx huma.Context, run archive.Run, seen int64) error {
	request, w := humachi.Unwrap(ctx)
	events := eventWriter{w: w, control: http.NewResponseController(w), seen: seen}
	hints, leave := s.hub.join(run.ID)
	defer leave()
	if err := events.open(); err != nil || request.Method == http.MethodHead {
		return err
	}
	beat := time.NewTicker(s.heartbeat)
	defer beat.Stop()
	for {
		if err := events.send(run); err != nil || run.State.Ended() {
			return err
		}
		select {
		case <-ctx.Context().Done():
			return context.Cause(ctx.Context())
		case <-hints:
		case <-beat.C:
			if err := events.comment("still here"); err != nil {
				return err
			}
		}
		next, err := s.store.Run(ctx.Context(), run.ID)
		if err != nil {
			return err
		}
		run = next
	}
}

// eventWriter writes Server-Sent Events (WHATWG HTML, section 9.2).
type eventWriter struct {
	w       http.ResponseWriter
	control *http.ResponseController
	// seen is the sequence of the last event sent.
	seen int64
}

// open starts the answer, which may last longer than any other one.
func (e *eventWriter) open() error {
	h := e.w.Header()
	h.Set("Content-Type", "text/event-stream")
	h.Set("Cache-Control", "no-store")
	h.Set("X-Accel-Buffering", "no")
	// A connection without deadlines has none to clear.
	_ = e.control.SetWriteDeadline(time.Time{})
	_ = e.control.SetReadDeadline(time.Time{})
	e.w.WriteHeader(http.StatusOK)
	return e.write("retry: 2000\n\n")
}

// send writes the run unless it was sent before.
func (e *eventWriter) send(run archive.Run) error {
	if run.Sequence <= e.seen {
		return nil
	}
	body, err := json.Marshal(wire.NewRun(run))
	if err != nil {
		return fmt.Errorf("encode run: %w", err)
	}
	e.seen = run.Sequence
	return e.write(fmt.Sprintf("id: %d\nevent: run\ndata: %s\n\n", run.Sequence, body))
}

func (e *eventWriter) comment(text string) error { return e.write(": " + text + "\n\n") }

func (e *eventWriter) write(text string) error {
	if _, err := e.w.Write([]byte(text)); err != nil {
		return fmt.Errorf("write event: %w", err)
	}
	if err := e.control.Flush(); err != nil {
		return fmt.Errorf("flush event: %w", err)
	}
	return nil
}
