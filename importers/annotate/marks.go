package annotate

import (
	"fmt"
	"path"
	"strconv"
	"strings"
)

// behindComments are the elements of a sheet that stand behind the reference
// to its comments (ISO/IEC 29500-1, 18.3.1.99).
var behindComments = []string{"legacyDrawingHF", "drawingHF", "picture", "oleObjects", "controls", "webPublishItems", "tableParts", "extLst"}

// marker puts marks into the XML of one sheet.
type marker struct {
	data   []byte
	styles *styles
	marks  []mark // not yet put in
	edits  []edit
	prefix string
	at     place // of the current row and cell
	row    tag
	data0  tag // start of sheetData
	tail   int // where the reference to comments goes; 0 not yet known
	legacy string
}

// markSheet marks the cells of a sheet and writes its comments.
func (p *parts) markSheet(n int, s listed, marks []mark, st *styles) error {
	m := &marker{data: p.read(s.part), styles: st, marks: marks}
	if err := walk(m.data, m.visit); err != nil {
		return err
	}
	id, err := p.comment(n, s, m.legacy, marks)
	if err != nil {
		return err
	}
	if id != "" {
		space := relSpace
		if p.strict {
			space = relSpaceStrict
		}
		m.edits = append(m.edits, edit{m.tail, m.tail, "<" + m.prefix + "legacyDrawing" + attribute("xmlns:r", space) + attribute("r:id", id) + "/>"})
	}
	p.set(s.part, apply(m.data, m.edits))
	return nil
}

func (m *marker) visit(t tag) {
	switch {
	case t.depth == 1 && !t.end:
		m.prefix = t.prefix()
	case t.depth == 1:
		m.setTail(t.from)
	case t.depth == 2 && t.Name.Local == "sheetData":
		m.sheetData(t)
	case t.depth == 2 && t.Name.Local == "legacyDrawing" && !t.end:
		m.legacy = t.id()
	case t.depth == 2 && !t.end:
		for _, name := range behindComments {
			if t.Name.Local == name {
				m.setTail(t.from)
			}
		}
	case t.depth == 3 && t.Name.Local == "row":
		m.rowTag(t)
	case t.depth == 4 && t.Name.Local == "c" && !t.end:
		m.cellTag(t)
	}
}

func (m *marker) setTail(at int) {
	if m.tail == 0 {
		m.tail = at
	}
}

// sheetData ends with the rows that were not there.
func (m *marker) sheetData(t tag) {
	if !t.end {
		m.data0 = t
		return
	}
	if text := m.rowsBefore(1 << 30); text != "" {
		m.edits = append(m.edits, into(m.data, m.data0, t, text))
	}
}

// rowsBefore makes the rows with marks before row n.
func (m *marker) rowsBefore(n int) string {
	var b strings.Builder
	for len(m.marks) > 0 && m.marks[0].at.row < n {
		row := m.marks[0].at.row
		fmt.Fprintf(&b, `<%srow r="%d">%s</%srow>`, m.prefix, row, m.cellsBefore(row, 1<<30), m.prefix)
	}
	return b.String()
}

// cellsBefore makes the marked cells of a row before a column.
func (m *marker) cellsBefore(row, column int) string {
	var b strings.Builder
	for len(m.marks) > 0 && m.marks[0].at.row == row && m.marks[0].at.column < column {
		if style, ok := m.styles.marked("", m.marks[0].severity); ok {
			fmt.Fprintf(&b, `<%sc r="%s" s="%s"/>`, m.prefix, m.marks[0].at.reference(), style)
		} else {
			fmt.Fprintf(&b, `<%sc r="%s"/>`, m.prefix, m.marks[0].at.reference())
		}
		m.marks = m.marks[1:]
	}
	return b.String()
}

func (m *marker) rowTag(t tag) {
	if t.end {
		if text := m.cellsBefore(m.at.row, 1<<30); text != "" {
			m.edits = append(m.edits, into(m.data, m.row, t, text))
		}
		return
	}
	m.row = t
	m.at = place{m.at.row + 1, -1}
	if n, err := strconv.Atoi(t.attr("r")); err == nil {
		m.at.row = n
	}
	if text := m.rowsBefore(m.at.row); text != "" {
		m.edits = append(m.edits, edit{t.from, t.from, text})
	}
}

func (m *marker) cellTag(t tag) {
	m.at = parseReference(t.attr("r"), place{m.at.row, m.at.column + 1})
	if text := m.cellsBefore(m.at.row, m.at.column); text != "" {
		m.edits = append(m.edits, edit{t.from, t.from, text})
	}
	if len(m.marks) == 0 || m.marks[0].at != m.at {
		return
	}
	if style, ok := m.styles.marked(t.attr("s"), m.marks[0].severity); ok {
		m.edits = append(m.edits, edit{t.from, t.to, setAttr(string(m.data[t.from:t.to]), "s", style)})
	}
	m.marks = m.marks[1:]
}

// comment adds the comments of a sheet; id is the reference to the drawing
// that shows them where the sheet has none yet.
func (p *parts) comment(n int, s listed, legacy string, marks []mark) (id string, err error) {
	folder := path.Dir(strings.ReplaceAll(s.part, `\`, "/"))
	comments, drawing := "", ""
	for _, r := range p.relations(s.part) {
		switch {
		case path.Base(r.kind) == "comments":
			comments = p.find(folder, r.target)
		case legacy != "" && r.id == legacy:
			drawing = p.find(folder, r.target)
		}
	}
	if comments == "" {
		name := p.free(fmt.Sprintf("xl/comments_findings%d", n), ".xml")
		p.set(name, []byte(p.newComments()))
		p.declare("/"+name, "", commentsType)
		p.relate(s.part, "comments", "/"+name)
		comments = name
	}
	known, err := p.addComments(comments, marks)
	if err != nil {
		return "", err
	}
	if drawing == "" {
		drawing = p.free(fmt.Sprintf("xl/drawings/findings%d", n), ".vml")
		p.set(drawing, []byte(newDrawing))
		p.declare("", "vml", vmlType)
		id = p.relate(s.part, "vmlDrawing", "/"+drawing)
		known = map[string]bool{}
	}
	p.addShapes(drawing, marks, known)
	return id, nil
}
