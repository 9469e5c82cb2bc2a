package web

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"mime"
	"net/http"
	"path"
	"strings"
	"sync"
)

// serve answers with the bytes of a file; its tag is that of its bytes. Text is
// compressed once, when it is first asked for.
func serve(name string, body []byte) http.HandlerFunc {
	sum := sha256.Sum256(body)
	tag := `"` + hex.EncodeToString(sum[:12]) + `"`
	kind := contentType(path.Ext(name))
	small := sync.OnceValue(func() []byte { return zip(body) })
	return func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Type", kind)
		h.Set("Cache-Control", "no-cache")
		h.Set("ETag", tag)
		if kind == woff2 {
			_, _ = w.Write(body)
			return
		}
		h.Set("Vary", "Accept-Encoding")
		if !strings.Contains(r.Header.Get("Accept-Encoding"), "gzip") { // as the middleware asks
			_, _ = w.Write(body)
			return
		}
		h.Set("Content-Encoding", "gzip")
		_, _ = w.Write(small())
	}
}

func zip(body []byte) []byte {
	var b bytes.Buffer
	w, _ := gzip.NewWriterLevel(&b, gzip.BestCompression) // fails on an unknown level only
	_, _ = w.Write(body)                                  // a buffer takes everything
	_ = w.Close()
	return b.Bytes()
}

const woff2 = "font/woff2" // compressed as it is

// contentType does not ask the system's table, which differs by machine.
func contentType(ext string) string {
	switch ext {
	case ".html":
		return "text/html; charset=utf-8"
	case ".css":
		return "text/css; charset=utf-8"
	case ".js":
		return "text/javascript; charset=utf-8"
	case ".txt":
		return "text/plain; charset=utf-8"
	case ".svg":
		return "image/svg+xml"
	case ".json":
		return "application/json"
	case ".webmanifest":
		return "application/manifest+json"
	case ".woff2":
		return woff2
	}
	return mime.TypeByExtension(ext)
}
