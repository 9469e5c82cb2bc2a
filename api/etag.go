package api

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"net/http"
	"strings"
)

// hashed is the strong entity tag of some bytes.
func hashed(body []byte) string {
	sum := sha256.Sum256(body)
	return `"` + hex.EncodeToString(sum[:12]) + `"`
}

// tagOf is the strong entity tag of a value that will be sent as JSON.
func tagOf(v any) string {
	body, err := json.Marshal(v)
	if err != nil {
		panic(err)
	}
	return hashed(body)
}

// zipped marks the tag of a compressed answer: a strong tag names bytes, and
// those are other ones (RFC 9110, section 8.8.3.3).
const zipped = `-gzip"`

// matches reports whether an If-None-Match header names tag, compressed or
// not.
func matches(header, tag string) bool {
	if tag == "" {
		return false
	}
	for one := range strings.SplitSeq(header, ",") {
		one = strings.TrimPrefix(strings.TrimSpace(one), "W/")
		if one == "*" || one == tag || strings.TrimSuffix(one, zipped)+`"` == tag {
			return true
		}
	}
	return false
}

// conditional answers 304 to a read whose entity tag the caller has already.
// A handler only has to set the ETag header.
func conditional(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Method != http.MethodGet && r.Method != http.MethodHead {
			next.ServeHTTP(w, r)
			return
		}
		next.ServeHTTP(&conditionalWriter{ResponseWriter: w, request: r}, r)
	})
}

type conditionalWriter struct {
	http.ResponseWriter
	request       *http.Request
	wrote, silent bool
}

// Unwrap lets http.ResponseController reach the connection.
func (w *conditionalWriter) Unwrap() http.ResponseWriter { return w.ResponseWriter }

func (w *conditionalWriter) WriteHeader(status int) {
	if w.wrote {
		return
	}
	w.wrote = true
	h := w.Header()
	tag := h.Get("ETag")
	if tag != "" && status == http.StatusOK {
		if matches(w.request.Header.Get("If-None-Match"), tag) {
			w.silent = true
			status = http.StatusNotModified
			h.Del("Content-Type")
			h.Del("Content-Length")
		}
		if asked := w.request.Header.Get("Accept-Encoding"); strings.Contains(asked, "gzip") || strings.Contains(asked, "deflate") {
			h.Set("ETag", strings.TrimSuffix(tag, `"`)+zipped)
		}
	}
	w.ResponseWriter.WriteHeader(status)
}

func (w *conditionalWriter) Write(p []byte) (int, error) {
	if !w.wrote {
		w.WriteHeader(http.StatusOK)
	}
	if w.silent {
		return len(p), nil
	}
	return w.ResponseWriter.Write(p)
}
