// Package web holds the pages: plain HTML, one style sheet and ES modules,
// embedded, without a build step. They live on the JSON API like everybody
// else and load nothing from anywhere else.
package web

import (
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"fmt"
	"io/fs"
	"mime"
	"net/http"
	"path"

	"github.com/go-chi/chi/v5"
)

//go:embed pages assets
var files embed.FS

// pages are the addresses people open and the page each one shows.
var pages = map[string]string{
	"/":               "pages/plant.html",
	"/cells/{cell}":   "pages/cell.html",
	"/routes/{route}": "pages/route.html",
	"/docs":           "pages/docs.html",
}

// Mount adds the pages and their files to a router.
func Mount(r chi.Router) {
	for address, file := range pages {
		r.Get(address, serve(file))
	}
	assets, err := fs.Glob(files, "assets/*")
	if err != nil {
		panic(err)
	}
	for _, file := range assets {
		r.Get("/"+file, serve(file))
	}
}

// serve answers with one embedded file; its tag is that of its bytes.
func serve(file string) http.HandlerFunc {
	body, err := files.ReadFile(file)
	if err != nil {
		panic(fmt.Errorf("embedded page: %w", err))
	}
	sum := sha256.Sum256(body)
	tag := `"` + hex.EncodeToString(sum[:12]) + `"`
	kind := contentType(path.Ext(file))
	return func(w http.ResponseWriter, _ *http.Request) {
		h := w.Header()
		h.Set("Content-Type", kind)
		h.Set("Cache-Control", "no-cache")
		h.Set("ETag", tag)
		_, _ = w.Write(body)
	}
}

// contentType does not ask the system's table, which differs by machine.
func contentType(ext string) string {
	switch ext {
	case ".html":
		return "text/html; charset=utf-8"
	case ".css":
		return "text/css; charset=utf-8"
	case ".js":
		return "text/javascript; charset=utf-8"
	case ".svg":
		return "image/svg+xml"
	}
	return mime.TypeByExtension(ext)
}
