package api

import (
	"net"
	"net/http"
	"runtime/debug"
	"slices"
	"strings"

	"github.com/go-chi/chi/v5"
	"github.com/go-chi/chi/v5/middleware"
)

// use puts the layers around every handler, the outermost first.
func (s *server) use(r *chi.Mux) {
	protect := http.NewCrossOriginProtection()
	protect.SetDenyHandler(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		writeProblem(w, problem(http.StatusForbidden, "A page of another origin may not change anything here."))
	}))
	r.Use(
		secure,
		s.meter.measure,
		s.rescue,
		s.checkHost,
		protect.Handler,
		middleware.Compress(5, "application/json", "application/problem+json", "text/html", "text/css", "text/javascript", "image/svg+xml", "text/plain"),
		conditional,
		dotted,
		middleware.GetHead,
	)
	r.NotFound(func(w http.ResponseWriter, _ *http.Request) { refuse(w, http.StatusNotFound) })
	r.MethodNotAllowed(func(w http.ResponseWriter, req *http.Request) {
		takes := allowed(r, req)
		w.Header().Set("Allow", takes)
		p := problem(http.StatusMethodNotAllowed, sentences[http.StatusMethodNotAllowed])
		if takes != "" {
			p.Detail = "This address does not take " + req.Method + "; it takes " + takes + ", as the Allow header says."
		}
		if req.URL.Path == "/api/v1/plants" && req.Method == http.MethodPost {
			p.Detail += " A plant comes to be with its first file: POST /api/v1/plants/NAME/imports."
		}
		writeProblem(w, p)
	})
}

// allowed lists the methods that an address takes.
func allowed(r *chi.Mux, req *http.Request) string {
	path := req.URL.RawPath
	if path == "" {
		path = req.URL.Path
	}
	var list []string
	for _, m := range []string{http.MethodGet, http.MethodPost, http.MethodPut, http.MethodPatch, http.MethodDelete} {
		if !r.Match(chi.NewRouteContext(), m, path) {
			continue
		}
		list = append(list, m)
		if m == http.MethodGet {
			list = append(list, http.MethodHead)
		}
	}
	return strings.Join(list, ", ")
}

// policy lets a page load its own files and nothing else: no inline script or
// style, no foreign address, no frame. A picture may also be one that the page
// itself made (blob:).
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; connect-src 'self'; " +
	"font-src 'self'; manifest-src 'self'; worker-src 'self'; " +
	"base-uri 'none'; form-action 'self'; frame-ancestors 'none'"

func secure(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("X-Frame-Options", "DENY")
		h.Set("Referrer-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Permissions-Policy", "camera=(), geolocation=(), microphone=()")
		next.ServeHTTP(w, r)
	})
}

// rescue turns a panic into a problem document; where the answer has begun it
// breaks the connection, so that nobody takes half an answer for a whole one.
func (s *server) rescue(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		ww := middleware.NewWrapResponseWriter(w, r.ProtoMajor)
		defer func() {
			e := recover()
			if e == nil {
				return
			}
			if e == http.ErrAbortHandler { //nolint:errorlint // recover returns the very value
				panic(e)
			}
			s.log.ErrorContext(r.Context(), "panic", "method", r.Method, "path", r.URL.Path, "panic", e, "stack", string(debug.Stack()))
			if ww.Status() != 0 {
				panic(http.ErrAbortHandler)
			}
			ww.Header().Del("ETag")
			refuse(ww, http.StatusInternalServerError)
		}()
		next.ServeHTTP(ww, r)
	})
}

// checkHost refuses a foreign host name on a connection to a loopback address:
// a page elsewhere may have its own name resolve to this machine (DNS
// rebinding) and would then count as the same origin.
func (s *server) checkHost(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		at, _ := r.Context().Value(http.LocalAddrContextKey).(net.Addr)
		if at != nil && isLoopback(at.String()) && !isLoopback(r.Host) && !slices.Contains(s.hosts, hostname(r.Host)) {
			writeProblem(w, problem(http.StatusMisdirectedRequest, "This server answers to localhost only."))
			return
		}
		next.ServeHTTP(w, r)
	})
}

// isLoopback reports whether a host, with or without a port, is this machine.
func isLoopback(host string) bool {
	name := hostname(host)
	ip := net.ParseIP(name)
	return strings.EqualFold(name, "localhost") || ip != nil && ip.IsLoopback()
}

// hostname takes the port and brackets off.
func hostname(host string) string {
	if name, _, err := net.SplitHostPort(host); err == nil {
		return name
	}
	return strings.Trim(host, "[]")
}
