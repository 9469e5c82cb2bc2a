//go:build !(linux || darwin || freebsd)

package embedded

import (
	"context"
	"fmt"
)

// Server is a running private server; there is none on this system.
type Server struct{}

// Start answers with ErrNoPostgres on this system.
func Start(context.Context, Options) (*Server, error) {
	return nil, fmt.Errorf("%w: no private database on this system; set DATABASE_URL to a server that runs", ErrNoPostgres)
}

// URL is empty on this system.
func (s *Server) URL() string { return "" }

// Address is empty on this system.
func Address(string) string { return "" }

// Keep waits for the end of ctx on this system.
func (s *Server) Keep(ctx context.Context, _ func(error)) { <-ctx.Done() }

// Stop does nothing on this system.
func (s *Server) Stop() error { return nil }

// Installed answers with ErrNoPostgres on this system.
func Installed(context.Context) error { return ErrNoPostgres }
