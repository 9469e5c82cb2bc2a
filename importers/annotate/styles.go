package annotate

import (
	"fmt"
	"path"
	"strconv"
	"strings"

	"lanewright/planner/finding"
)

// fills are the colours of marked cells.
var fills = []struct {
	severity finding.Severity
	colour   string
}{{finding.Error, "FFF4B6A8"}, {finding.Warning, "FFF9E2A0"}, {finding.Note, "FFD6E4F0"}}

// styles adds to a workbook's cell styles: each style that a marked cell has,
// once more with a fill.
type styles struct {
	p        *parts
	name     string
	data     []byte
	fills    [2]tag // start and end of <fills>
	formats  [2]tag // start and end of <cellXfs>
	filled   int    // fills before ours
	raw      []string
	made     map[string]int
	added    []string
	usable   bool
	original int
}

// openStyles reads the cell styles; a workbook without any gets no colours.
func (p *parts) openStyles() (*styles, error) {
	s := &styles{p: p, made: map[string]int{}}
	for _, r := range p.relations(p.main) {
		if path.Base(r.kind) == "styles" {
			s.name = p.find(path.Dir(p.main), r.target)
		}
	}
	s.data = p.read(s.name)
	from := 0
	err := walk(s.data, func(t tag) {
		switch {
		case t.depth == 2 && t.Name.Local == "fills":
			s.fills[index(t.end)] = t
		case t.depth == 2 && t.Name.Local == "cellXfs":
			s.formats[index(t.end)] = t
		case t.depth == 3 && t.Name.Local == "fill" && !t.end:
			s.filled++
		case t.depth == 3 && t.Name.Local == "xf" && !t.end:
			from = t.from
		case t.depth == 3 && t.Name.Local == "xf" && s.formats[0].to > 0 && s.formats[1].to == 0:
			s.raw = append(s.raw, string(s.data[from:max(t.to, from)]))
		}
	})
	s.usable = s.fills[1].to > 0 && len(s.raw) > 0
	s.original = len(s.raw)
	return s, err
}

func index(end bool) int {
	if end {
		return 1
	}
	return 0
}

// marked returns the number of the style that a marked cell gets instead of
// its own; ok is false where there are no styles.
func (s *styles) marked(own string, severity finding.Severity) (number string, ok bool) {
	n, err := strconv.Atoi(own)
	if own == "" {
		n, err = 0, nil
	}
	if !s.usable || err != nil || n < 0 || n >= s.original {
		return "", false
	}
	key := fmt.Sprint(n, severity)
	at, known := s.made[key]
	if !known {
		at = s.original + len(s.added)
		s.made[key] = at
		s.added = append(s.added, s.withFill(s.raw[n], severity))
	}
	return strconv.Itoa(at), true
}

func (s *styles) withFill(raw string, severity finding.Severity) string {
	end := strings.IndexByte(raw, '>') + 1
	fill := s.filled
	for i, f := range fills {
		if f.severity == severity {
			fill += i
		}
	}
	head := setAttr(setAttr(raw[:end], "fillId", strconv.Itoa(fill)), "applyFill", "1")
	return head + raw[end:]
}

// save writes the styles that were asked for.
func (s *styles) save() {
	if len(s.added) == 0 {
		return
	}
	prefix := s.fills[0].prefix()
	var ours strings.Builder
	for _, f := range fills {
		fmt.Fprintf(&ours, `<%[1]sfill><%[1]spatternFill patternType="solid"><%[1]sfgColor rgb="%[2]s"/></%[1]spatternFill></%[1]sfill>`, prefix, f.colour)
	}
	edits := append(s.grow(s.fills, s.filled+len(fills), ours.String()), s.grow(s.formats, s.original+len(s.added), strings.Join(s.added, ""))...)
	s.p.set(s.name, apply(s.data, edits))
}

// grow adds to a list and corrects its count.
func (s *styles) grow(list [2]tag, count int, text string) []edit {
	raw := string(s.data[list[0].from:list[0].to])
	return []edit{{list[0].from, list[0].to, setAttr(raw, "count", strconv.Itoa(count))}, into(s.data, list[0], list[1], text)}
}
