package annotate

import (
	"bytes"
	"cmp"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// tag is a start or end tag with the bytes it stands at.
type tag struct {
	xml.StartElement
	end      bool
	depth    int // of the element: 1 is the root
	from, to int
	alone    bool // the start tag closes itself
}

// prefix is what stands before the names of the tag's kind.
func (t tag) prefix() string {
	if t.Name.Space == "" {
		return ""
	}
	return t.Name.Space + ":"
}

// attr returns an attribute by its name with prefix.
func (t tag) attr(name string) string {
	for _, a := range t.Attr {
		if full(a.Name) == name {
			return a.Value
		}
	}
	return ""
}

// id returns the attribute r:id, whatever its prefix.
func (t tag) id() string {
	for _, a := range t.Attr {
		if a.Name.Local == "id" && a.Name.Space != "" {
			return a.Value
		}
	}
	return ""
}

func full(n xml.Name) string {
	if n.Space == "" {
		return n.Local
	}
	return n.Space + ":" + n.Local
}

// walk hands every tag of an XML text to visit.
func walk(data []byte, visit func(tag)) error {
	d := xml.NewDecoder(bytes.NewReader(data))
	depth := 0
	for {
		from := int(d.InputOffset())
		token, err := d.RawToken()
		to := int(d.InputOffset())
		switch {
		case errors.Is(err, io.EOF):
			return nil
		case err != nil:
			return fmt.Errorf("read XML: %w", err)
		}
		switch t := token.(type) {
		case xml.StartElement:
			depth++
			visit(tag{StartElement: t.Copy(), depth: depth, from: from, to: to, alone: bytes.HasSuffix(data[from:to], []byte("/>"))})
		case xml.EndElement:
			visit(tag{StartElement: xml.StartElement{Name: t.Name}, end: true, depth: depth, from: from, to: to})
			depth--
		}
	}
}

// edit puts text in the place of data[from:to].
type edit struct {
	from, to int
	text     string
}

// apply makes the edits, which must not overlap; those at one place keep
// their order.
func apply(data []byte, edits []edit) []byte {
	slices.SortStableFunc(edits, func(a, b edit) int { return cmp.Compare(a.from, b.from) })
	var out bytes.Buffer
	at := 0
	for _, e := range edits {
		out.Write(data[at:e.from])
		out.WriteString(e.text)
		at = e.to
	}
	out.Write(data[at:])
	return out.Bytes()
}

// setAttr returns a start tag with an attribute set.
func setAttr(raw, name, value string) string {
	pattern := regexp.MustCompile(`(\s` + regexp.QuoteMeta(name) + `\s*=\s*)("[^"]*"|'[^']*')`)
	text := `"` + escape(value) + `"`
	if at := pattern.FindStringSubmatchIndex(raw); at != nil {
		return raw[:at[4]] + text + raw[at[5]:]
	}
	end := len(raw) - 1
	if strings.HasSuffix(raw, "/>") {
		end--
	}
	return strings.TrimRight(raw[:end], " \t\r\n") + " " + name + "=" + text + raw[end:]
}

// into is the edit that puts text before the end of an element whose tags are
// start and end.
func into(data []byte, start, end tag, text string) edit {
	if !start.alone {
		return edit{end.from, end.from, text}
	}
	raw := strings.TrimSuffix(string(data[start.from:start.to]), "/>")
	return edit{start.from, start.to, raw + ">" + text + "</" + full(start.Name) + ">"}
}

func escape(s string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(s))
	return b.String()
}

// attribute is an attribute as it stands in a tag.
func attribute(name, value string) string { return " " + name + `="` + escape(value) + `"` }

// escapeText is escape for the text of a cell or comment: line ends stay, and
// what looks like the workbooks' own escape for a character is none.
func escapeText(s string) string {
	return strings.ReplaceAll(strings.ReplaceAll(escape(s), "&#xA;", "\n"), "_x", "_x005F_x")
}

// letters names a column.
func letters(column int) string {
	s := ""
	for n := column + 1; n > 0; n = (n - 1) / 26 {
		s = string(rune('A'+(n-1)%26)) + s
	}
	return s
}

// reference names a cell.
func (p place) reference() string { return letters(p.column) + strconv.Itoa(p.row) }

// parseReference reads C41; without it, next is meant.
func parseReference(ref string, next place) place {
	i := strings.IndexAny(ref, "0123456789")
	if i < 1 {
		return next
	}
	row, err := strconv.Atoi(ref[i:])
	if err != nil {
		return next
	}
	return place{row, columnOf(strings.ToUpper(ref[:i]))}
}
