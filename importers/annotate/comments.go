package annotate

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
)

func (p *parts) newComments() string {
	space := mainSpace
	if p.strict {
		space = mainStrict
	}
	return declaration + `<comments xmlns="` + space + `"><authors></authors><commentList></commentList></comments>`
}

// author is who the comments are by.
const author = "Lanewright"

// commentsEdit finds the places of a part of comments.
type commentsEdit struct {
	authors, list, text [2]tag
	count               int
	ref                 string
	own                 map[string][2]tag // the text of the comment at a cell
}

// addComments adds a comment at each mark, or adds to the one that is there
// already; it returns the cells that had one.
func (p *parts) addComments(name string, marks []mark) (had map[string]bool, err error) {
	data := p.read(name)
	c := commentsEdit{own: map[string][2]tag{}}
	if err := walk(data, c.visit); err != nil {
		return nil, err
	}
	prefix := c.list[0].prefix()
	edits := []edit{into(data, c.authors[0], c.authors[1], fmt.Sprintf("<%[1]sauthor>%[2]s</%[1]sauthor>", prefix, author))}
	had = map[string]bool{}
	var fresh strings.Builder
	for _, m := range marks {
		ref := m.at.reference()
		run := fmt.Sprintf(`<%[1]sr><%[1]st xml:space="preserve">%[2]s</%[1]st></%[1]sr>`, prefix, escapeText(m.text))
		if own, ok := c.own[ref]; ok {
			had[ref] = true
			edits = append(edits, into(data, own[0], own[1], strings.Replace(run, `"preserve">`, "\"preserve\">\n\n", 1)))
			continue
		}
		fmt.Fprintf(&fresh, `<%[1]scomment ref="%[2]s" authorId="%[3]d"><%[1]stext>%[4]s</%[1]stext></%[1]scomment>`, prefix, ref, c.count, run)
	}
	edits = append(edits, into(data, c.list[0], c.list[1], fresh.String()))
	p.set(name, apply(data, edits))
	return had, nil
}

func (c *commentsEdit) visit(t tag) {
	switch {
	case t.depth == 2 && t.Name.Local == "authors":
		c.authors[index(t.end)] = t
	case t.depth == 2 && t.Name.Local == "commentList":
		c.list[index(t.end)] = t
	case t.depth == 3 && t.Name.Local == "author" && !t.end:
		c.count++
	case t.depth == 3 && t.Name.Local == "comment" && !t.end:
		c.ref = strings.ToUpper(t.attr("ref"))
	case t.depth == 4 && t.Name.Local == "text":
		c.text[index(t.end)] = t
		if t.end {
			c.own[c.ref] = c.text
		}
	}
}

// newDrawing is the drawing that shows comments, in the vector language that
// spreadsheet programs use for them (VML; ISO/IEC 29500-4, 19; from memory).
const newDrawing = `<xml xmlns:v="urn:schemas-microsoft-com:vml" xmlns:o="urn:schemas-microsoft-com:office:office" xmlns:x="urn:schemas-microsoft-com:office:excel">` +
	`<v:shapetype id="_x0000_t202" coordsize="21600,21600" o:spt="202" path="m,l,21600r21600,l21600,xe"><v:stroke joinstyle="miter"/><v:path gradientshapeok="t" o:connecttype="rect"/></v:shapetype></xml>`

// addShapes adds the box of each comment that had none.
func (p *parts) addShapes(name string, marks []mark, had map[string]bool) {
	data := p.read(name)
	end := bytes.LastIndex(data, []byte("</xml>"))
	if end < 0 {
		return
	}
	var b strings.Builder
	for i, m := range marks {
		if had[m.at.reference()] {
			continue
		}
		row, column := m.at.row-1, m.at.column
		b.WriteString(`<v:shape id="_x0000_s` + strconv.Itoa(900_001+i) + `" type="#_x0000_t202" style="position:absolute;width:210pt;height:96pt;z-index:1;visibility:hidden" fillcolor="#fffbe8" o:insetmode="auto">` +
			`<v:fill color2="#fffbe8"/><v:path o:connecttype="none"/><v:textbox style="mso-direction-alt:auto"><div style="text-align:left"></div></v:textbox>` +
			fmt.Sprintf(`<x:ClientData ObjectType="Note"><x:MoveWithCells/><x:SizeWithCells/><x:Anchor>%d, 12, %d, 2, %d, 40, %d, 8</x:Anchor><x:AutoFill>False</x:AutoFill><x:Row>%d</x:Row><x:Column>%d</x:Column></x:ClientData></v:shape>`,
				column+1, row, column+5, row+6, row, column))
	}
	p.set(name, apply(data, []edit{{end, end, b.String()}}))
}
