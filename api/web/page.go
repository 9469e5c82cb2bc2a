package web

import (
	"bytes"
	"html/template"
)

// link is an entry of the header.
type link struct {
	Href, Group string
	Current     bool
}

// html writes the page. Its texts are English and marked by their keys; where
// another language is chosen, words.js puts it in their place.
func (p page) html(words catalogue) []byte {
	t := template.Must(template.New("page.html").Funcs(template.FuncMap{"t": words.text}).ParseFS(files, "page.html"))
	var b bytes.Buffer
	err := t.Execute(&b, map[string]any{"Title": p.title, "Module": p.module, "Style": p.style, "Manifest": p.manifest, "Group": p.group, "Links": p.links()})
	if err != nil {
		panic(err)
	}
	return b.Bytes()
}

// links lead to the entries of the groups, in the order of the groups.
func (p page) links() (list []link) {
	for _, group := range groups {
		for _, other := range pages {
			if other.entry && other.group == group {
				list = append(list, link{Href: other.address, Group: group, Current: group == p.group})
			}
		}
	}
	return list
}
