package annotate

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"lanewright/importers/sheet"
	"lanewright/planner/finding"
)

const (
	// nameLength and textLength are how many characters the name of a sheet and
	// the text of a cell may have in a workbook.
	nameLength = 31
	textLength = 32_767
)

// about stands above the findings of a copy.
const about = "This workbook is a copy of what was handed in, made to show the findings at their cells: each row stands where it stands there, each cell as text. The files themselves were not changed; correct those, not this copy."

// Copy writes a new workbook that holds sheets as they were read, whatever
// kind of file they came from, each row at its number and each cell as text,
// with the findings that are about them. A sheet whose name no workbook allows,
// or that another one has, gets one beside it. What is longer than a cell may
// be is cut, with an ellipsis.
func Copy(w io.Writer, sheets []*sheet.Sheet, findings finding.List) error {
	names := namesOf(sheets)
	var blank bytes.Buffer
	if err := writeCopy(&blank, sheets, names); err != nil {
		return err
	}
	return withFindings(w, blank.Bytes(), about, findings, func(o finding.Origin) string {
		i := slices.IndexFunc(sheets, func(s *sheet.Sheet) bool { return s.File == o.File && s.Name == o.Sheet })
		if i < 0 {
			return ""
		}
		return names[i]
	})
}

// namesOf are the names of sheets in one workbook.
func namesOf(sheets []*sheet.Sheet) []string {
	taken := map[string]bool{strings.ToLower(listName): true}
	names := make([]string, len(sheets))
	for i, s := range sheets {
		base := allowedName(s.Name)
		name := base
		for n := 2; taken[strings.ToLower(name)]; n++ {
			end := fmt.Sprintf(" %d", n)
			name = cut(base, nameLength-len(end)) + end
		}
		taken[strings.ToLower(name)] = true
		names[i] = name
	}
	return names
}

// allowedName is a name with what a workbook forbids in one replaced.
func allowedName(name string) string {
	name = strings.Map(func(r rune) rune {
		if r < ' ' || strings.ContainsRune(`[]:*?/\`, r) {
			return '-'
		}
		return r
	}, name)
	if name = strings.Trim(cut(name, nameLength), "' "); name == "" {
		return "Sheet"
	}
	return name
}

// cut returns the first n characters.
func cut(s string, n int) string {
	if utf8.RuneCountInString(s) <= n {
		return s
	}
	return string([]rune(s)[:n])
}

// writeCopy writes a workbook of plain texts.
func writeCopy(w io.Writer, sheets []*sheet.Sheet, names []string) error {
	const open = declaration + `<%s xmlns="%s"%s>`
	var list, rels strings.Builder
	out := zip.NewWriter(w)
	for i, s := range sheets {
		part := fmt.Sprintf("worksheets/sheet%d.xml", i+1)
		fmt.Fprintf(&list, `<sheet%s sheetId="%d" r:id="rId%d"/>`, attribute("name", names[i]), i+1, i+1)
		fmt.Fprintf(&rels, `<Relationship Id="rId%d" Type="%s/worksheet" Target="%s"/>`, i+1, relSpace, part)
		if err := writePart(out, "xl/"+part, sheetOfTexts(s)); err != nil {
			return err
		}
	}
	fmt.Fprintf(&rels, `<Relationship Id="rId0" Type="%s/styles" Target="styles.xml"/></Relationships>`, relSpace)
	for _, part := range [][2]string{
		{"xl/workbook.xml", fmt.Sprintf(open, "workbook", mainSpace, ` xmlns:r="`+relSpace+`"`) + `<sheets>` + list.String() + `</sheets></workbook>`},
		{"xl/_rels/workbook.xml.rels", fmt.Sprintf(open, "Relationships", packageRels, "") + rels.String()},
		{"xl/styles.xml", fmt.Sprintf(open, "styleSheet", mainSpace, "") + copyStyles + `</styleSheet>`},
		{"_rels/.rels", fmt.Sprintf(open, "Relationships", packageRels, "") + `<Relationship Id="rId1" Type="` + relSpace + `/officeDocument" Target="xl/workbook.xml"/></Relationships>`},
		{"[Content_Types].xml", fmt.Sprintf(open, "Types", "http://schemas.openxmlformats.org/package/2006/content-types", "") + copyTypes(len(sheets)) + `</Types>`},
	} {
		if err := writePart(out, part[0], []byte(part[1])); err != nil {
			return err
		}
	}
	return out.Close()
}

// copyStyles has style 0, and style 1 for text (number format 49, "@").
const copyStyles = `<fonts count="1"><font><sz val="11"/></font></fonts>` +
	`<fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill></fills>` +
	`<borders count="1"><border/></borders><cellStyleXfs count="1"><xf/></cellStyleXfs>` +
	`<cellXfs count="2"><xf xfId="0"/><xf numFmtId="49" xfId="0" applyNumberFormat="1"/></cellXfs>`

func copyTypes(sheets int) string {
	var b strings.Builder
	const kind = "application/vnd.openxmlformats-officedocument.spreadsheetml."
	b.WriteString(`<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/>`)
	fmt.Fprintf(&b, `<Override PartName="/xl/workbook.xml" ContentType="%ssheet.main+xml"/><Override PartName="/xl/styles.xml" ContentType="%sstyles+xml"/>`, kind, kind)
	for i := range sheets {
		fmt.Fprintf(&b, `<Override PartName="/xl/worksheets/sheet%d.xml" ContentType="%s"/>`, i+1, sheetType)
	}
	return b.String()
}

// sheetOfTexts is the XML of a sheet whose cells are all texts.
func sheetOfTexts(s *sheet.Sheet) []byte {
	var b bytes.Buffer
	b.WriteString(declaration + `<worksheet xmlns="` + mainSpace + `"><sheetData>`)
	for _, row := range s.Rows {
		fmt.Fprintf(&b, `<row r="%d">`, row.Number)
		for i, c := range row.Cells() {
			if c.Text == "" {
				continue
			}
			text := c.Text
			if utf8.RuneCountInString(text) > textLength {
				text = cut(text, textLength-1) + "…"
			}
			fmt.Fprintf(&b, `<c r="%s" s="1" t="inlineStr"><is><t xml:space="preserve">%s</t></is></c>`, place{row.Number, i}.reference(), escapeText(text))
		}
		b.WriteString(`</row>`)
	}
	b.WriteString(`</sheetData></worksheet>`)
	return b.Bytes()
}
