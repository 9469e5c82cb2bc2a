package api

import (
	"context"
	"log/slog"
	"net/http"
	"strconv"

	"github.com/go-chi/chi/v5"
	"github.com/go-chi/chi/v5/middleware"
	"github.com/prometheus/client_golang/prometheus"
	"github.com/prometheus/client_golang/prometheus/collectors"
	"github.com/prometheus/client_golang/prometheus/promhttp"
)

// meter counts and times requests by route, never by address: the number of
// series stays small whatever is asked for.
type meter struct {
	server   *server
	registry *prometheus.Registry
	requests *prometheus.CounterVec
	seconds  *prometheus.HistogramVec
}

func newMeter(s *server) *meter {
	m := &meter{
		server:   s,
		registry: prometheus.NewRegistry(),
		requests: prometheus.NewCounterVec(prometheus.CounterOpts{
			Name: "lanewright_http_requests_total", Help: "Requests answered.",
		}, []string{"method", "route", "status"}),
		seconds: prometheus.NewHistogramVec(prometheus.HistogramOpts{
			Name: "lanewright_http_request_seconds", Help: "Time to answer a request.",
			Buckets: []float64{.001, .0025, .005, .01, .025, .05, .1, .25, .5, 1, 2.5, 5, 10, 30},
		}, []string{"method", "route"}),
	}
	m.registry.MustRegister(m.requests, m.seconds,
		collectors.NewGoCollector(), collectors.NewProcessCollector(collectors.ProcessCollectorOpts{}))
	return m
}

// measure counts, times and logs a request.
func (m *meter) measure(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		ww := middleware.NewWrapResponseWriter(w, r.ProtoMajor)
		start := m.server.clock()
		defer func() {
			took := m.server.clock().Sub(start)
			route, method := chi.RouteContext(r.Context()).RoutePattern(), knownMethod(r.Method)
			m.requests.WithLabelValues(method, route, strconv.Itoa(ww.Status())).Inc()
			m.seconds.WithLabelValues(method, route).Observe(took.Seconds())
			m.server.log.LogAttrs(context.WithoutCancel(r.Context()), logLevel(r, ww.Status()), "request",
				slog.String("method", r.Method), slog.String("path", r.URL.Path),
				slog.Int("status", ww.Status()), slog.Int("bytes", ww.BytesWritten()), slog.Duration("took", took))
		}()
		next.ServeHTTP(ww, r)
	})
}

// knownMethod keeps an invented method from making a series of its own.
func knownMethod(m string) string {
	switch m {
	case http.MethodGet, http.MethodHead, http.MethodPost, http.MethodPut, http.MethodPatch, http.MethodDelete, http.MethodOptions:
		return m
	}
	return "other"
}

// logLevel keeps plain reads quiet.
func logLevel(r *http.Request, status int) slog.Level {
	switch {
	case status >= http.StatusInternalServerError:
		return slog.LevelWarn
	case r.Method == http.MethodGet || r.Method == http.MethodHead:
		return slog.LevelDebug
	default:
		return slog.LevelInfo
	}
}

// handler serves the figures.
func (m *meter) handler() http.HandlerFunc {
	return promhttp.HandlerFor(m.registry, promhttp.HandlerOpts{DisableCompression: true}).ServeHTTP
}
