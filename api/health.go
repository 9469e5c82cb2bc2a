package api

import (
	"context"
	"encoding/json"
	"net/http"
	"time"
)

// Pinger tells whether the store can be used.
type Pinger interface {
	Ping(ctx context.Context) error
}

// healthz says that the program runs.
func (s *server) healthz(w http.ResponseWriter, _ *http.Request) {
	answer(w, map[string]string{"status": "running", "version": s.version})
}

// readyz says whether it can do its work: the database must answer.
func (s *server) readyz(w http.ResponseWriter, r *http.Request) {
	ctx, cancel := context.WithTimeout(r.Context(), 2*time.Second)
	defer cancel()
	if err := s.store.Ping(ctx); err != nil {
		s.log.WarnContext(ctx, "not ready", "error", err)
		refuse(w, http.StatusServiceUnavailable)
		return
	}
	answer(w, map[string]string{"status": "ready", "version": s.version})
}

func answer(w http.ResponseWriter, v any) {
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("Cache-Control", "no-store")
	_ = json.NewEncoder(w).Encode(v)
}
