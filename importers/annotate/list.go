package annotate

import (
	"fmt"
	"strconv"
	"strings"

	"lanewright/planner/finding"
)

// listName is the name of the sheet that lists the findings.
const listName = "Findings"

// addList adds a sheet with all findings, each with a link to its cell.
func (p *parts) addList(intro string, findings finding.List, sheetOf func(finding.Origin) string) error {
	name := p.freeName()
	part := p.free("xl/worksheets/findings", ".xml")
	p.set(part, []byte(p.listXML(intro, findings, sheetOf)))
	p.declare("/"+part, "", sheetType)
	id := p.relate(p.main, "worksheet", "/"+part)
	data := p.read(p.main)
	var start tag
	next := 1
	var edits []edit
	err := walk(data, func(t tag) {
		switch {
		case t.depth == 2 && t.Name.Local == "sheets" && !t.end:
			start = t
		case t.depth == 3 && t.Name.Local == "sheet" && !t.end:
			if n, err := strconv.Atoi(t.attr("sheetId")); err == nil && n >= next {
				next = n + 1
			}
		case t.depth == 2 && t.Name.Local == "sheets":
			space := relSpace
			if p.strict {
				space = relSpaceStrict
			}
			edits = append(edits, into(data, start, t, "<"+t.prefix()+"sheet"+attribute("name", name)+attribute("sheetId", strconv.Itoa(next))+attribute("xmlns:r", space)+attribute("r:id", id)+"/>"))
		}
	})
	if err != nil {
		return err
	}
	p.set(p.main, apply(data, edits))
	return nil
}

// freeName is a name that no sheet has.
func (p *parts) freeName() string {
	taken := map[string]bool{}
	_ = walk(p.read(p.main), func(t tag) {
		if !t.end && t.Name.Local == "sheet" {
			taken[strings.ToLower(t.attr("name"))] = true
		}
	})
	name := listName
	for n := 2; taken[strings.ToLower(name)]; n++ {
		name = fmt.Sprintf("%s %d", listName, n)
	}
	return name
}

// listXML is the sheet of findings, under an intro where there is one.
func (p *parts) listXML(intro string, findings finding.List, sheetOf func(finding.Origin) string) string {
	space := mainSpace
	if p.strict {
		space = mainStrict
	}
	var rows, links strings.Builder
	row := func(n int, texts ...string) {
		fmt.Fprintf(&rows, `<row r="%d">`, n)
		for i, text := range texts {
			fmt.Fprintf(&rows, `<c r="%s%d" t="inlineStr"><is><t xml:space="preserve">%s</t></is></c>`, letters(i), n, escapeText(text))
		}
		rows.WriteString(`</row>`)
	}
	first := 2
	if intro != "" {
		row(1, intro)
		first = 4
	}
	row(first-1, "Place", "Severity", "Code", "What is wrong", "What was expected", "What to do")
	for i, f := range findings {
		o := f.Origin
		row(first+i, o.String(), string(f.Severity), f.Code, f.Summary, f.Detail, f.Remedy)
		if in := sheetOf(o); o.Row > 0 && p.has(in) {
			at := place{o.Row, max(columnOf(o.Column), 0)}
			fmt.Fprintf(&links, `<hyperlink ref="A%d" location="%s"/>`, first+i, escape("'"+strings.ReplaceAll(in, "'", "''")+"'!"+at.reference()))
		}
	}
	out := declaration + `<worksheet xmlns="` + space + `"><cols><col min="1" max="1" width="30" customWidth="1"/><col min="2" max="3" width="18" customWidth="1"/><col min="4" max="6" width="60" customWidth="1"/></cols><sheetData>` + rows.String() + `</sheetData>`
	if links.Len() > 0 {
		out += `<hyperlinks>` + links.String() + `</hyperlinks>`
	}
	return out + `</worksheet>`
}

func (p *parts) has(sheet string) bool {
	for _, s := range p.sheets {
		if s.name == sheet {
			return true
		}
	}
	return false
}
