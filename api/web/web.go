// Package web holds the pages: one HTML template, style sheets and ES modules,
// embedded, without a build step. They live on the JSON API like everybody
// else and load nothing from anywhere else.
package web

import (
	"embed"
	"io/fs"
	"strings"

	"github.com/go-chi/chi/v5"
)

//go:embed page.html assets root
var files embed.FS

// groups are the parts of the program in the order of the header; each one that
// has an entry among the pages is shown there, by the text nav.<group>.
var groups = []string{"plant", "cells", "map", "rounds", "report", "data", "plans"}

// pages are the addresses people open.
var pages = []page{
	{address: "/", group: "plant", entry: true, title: "plant.title", module: "plant/plant.js"},
	{address: "/cells", group: "cells", entry: true, title: "cells.title", module: "cells/cells.js"},
	{address: "/cells/{cell}", group: "cells", title: "cell.title", module: "cells/cell.js", style: "cells/cell.css"},
	{address: "/drafts", group: "cells", title: "draft.title", module: "drafts/drafts.js", style: "drafts/drafts.css"},
	{address: "/drafts/{draft}", group: "cells", title: "draft.page", module: "drafts/draft.js", style: "drafts/drafts.css"},
	{address: "/moves", group: "cells", title: "draft.moves", module: "drafts/moves.js", style: "drafts/drafts.css"},
	{address: "/racks/{rack}", group: "cells", title: "rack.title", module: "racks/rack.js", style: "racks/rack.css"},
	{address: "/loops", group: "cells", title: "loops.find.title", module: "loops/loops.js"},
	{address: "/report", group: "report", entry: true, title: "report.title", module: "report/report.js", style: "report/report.css"},
	{address: "/map", group: "map", entry: true, title: "map.title", module: "map/map.js", style: "map/map.css"},
	{address: "/rounds", group: "rounds", entry: true, title: "rounds.title", module: "rounds/rounds.js", style: "rounds/rounds.css", manifest: "rounds.webmanifest"},
	{address: "/rounds/{round}", group: "rounds", title: "round.title", module: "rounds/round.js", style: "rounds/rounds.css", manifest: "rounds.webmanifest"},
	{address: "/routes/{route}", group: "rounds", title: "route.title", module: "rounds/route.js"},
	{address: "/data", group: "data", entry: true, title: "data.title", module: "data/data.js", style: "data/data.css"},
	{address: "/data/revisions/{number}", group: "data", title: "data.revision", module: "data/revision.js", style: "data/data.css"},
	{address: "/plans", group: "plans", entry: true, title: "plans.title", module: "plans/plans.js", style: "plans/plans.css"},
	{address: "/plans/compare", group: "plans", title: "compare.title", module: "plans/compare.js", style: "plans/plans.css"},
	{address: "/plans/{plan}", group: "plans", title: "plans.plan", module: "plans/plan.js", style: "plans/plans.css"},
	{address: "/plans/{plan}/choices", group: "plans", title: "choices.title", module: "plans/choices.js", style: "plans/plans.css"},
	{address: "/plans/{plan}/simulation", group: "plans", title: "plays.title", module: "plans/simulation.js", style: "plans/plans.css"},
	{address: "/docs", title: "docs.title", module: "docs/docs.js"},
}

// page is one address and what it loads beside what all pages load.
type page struct {
	address string
	// group marks the part of the header that is current; entry is the page that
	// the header leads to.
	group string
	entry bool
	// title is a key of the catalogue.
	title string
	// module and style are files under assets; style may be "".
	module, style string
	// manifest is a file under root that lets the page be put on a home screen, or "".
	manifest string
}

// Mount adds the pages and their files to a router. What lies in root is served
// at the top, where a service worker must lie to serve the pages.
func Mount(r chi.Router) {
	words := english()
	for _, p := range pages {
		r.Get(p.address, serve(".html", p.html(words)))
	}
	for _, folder := range []string{"assets", "root"} {
		mountFolder(r, folder, words)
	}
}

func mountFolder(r chi.Router, folder string, words catalogue) {
	err := fs.WalkDir(files, folder, func(file string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		body := read(file)
		if file == workerFile {
			body = worker(words)
		}
		r.Get("/"+strings.TrimPrefix(file, "root/"), serve(file, body))
		return nil
	})
	if err != nil {
		panic(err)
	}
}
