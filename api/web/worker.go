package web

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"io/fs"
	"maps"
	"path"
	"regexp"
	"slices"
	"strings"
)

// workerFile is the service worker of the rounds pages.
const workerFile = "root/rounds-worker.js"

// offline says which pages the service worker keeps, and under which addresses.
var offline = map[string]string{"/rounds": "/rounds", "/rounds/{round}": "/rounds/-"}

// worker is the service worker behind what it keeps: the pages, all that they load, and a
// version that is another one when a byte of it changes.
func worker(words catalogue) []byte {
	kept := map[string][]byte{}
	for _, p := range pages {
		if address, ok := offline[p.address]; ok {
			kept[address] = p.html(words)
			p.needs(kept)
		}
	}
	addresses := slices.Sorted(maps.Keys(kept))
	sum := sha256.New()
	for _, a := range addresses {
		sum.Write([]byte(a))
		sum.Write(kept[a])
	}
	list, err := json.Marshal(addresses)
	if err != nil {
		panic(err)
	}
	var b bytes.Buffer
	b.WriteString("const version = \"lanewright-rounds-" + hex.EncodeToString(sum.Sum(nil)[:8]) + "\";\nconst files = ")
	b.Write(list)
	b.WriteString(";\n")
	b.Write(read(workerFile))
	return b.Bytes()
}

// needs adds the files that a page loads, by address: those of all pages, its own, what
// they import, and all catalogues.
func (p page) needs(kept map[string][]byte) {
	for _, file := range []string{"app.css", "mark.svg", "display.js", p.style, p.module} {
		if file != "" {
			addFile(kept, "assets/"+file)
		}
	}
	words, err := fs.Glob(files, "assets/words/*.js")
	if err != nil {
		panic(err)
	}
	for _, file := range words {
		addFile(kept, file)
	}
}

var imported = regexp.MustCompile(`(?m)^(?:import|export) (?:[^"]* from )?"(\.[^"]+)";$`)

// addFile adds a file and what it imports.
func addFile(kept map[string][]byte, file string) {
	if _, known := kept["/"+file]; known {
		return
	}
	body := read(file)
	kept["/"+file] = body
	if strings.HasSuffix(file, ".js") {
		for _, m := range imported.FindAllSubmatch(body, -1) {
			addFile(kept, path.Join(path.Dir(file), string(m[1])))
		}
	}
}

func read(file string) []byte {
	body, err := files.ReadFile(file)
	if err != nil {
		panic(err)
	}
	return body
}
