package importers

import (
	"context"
	"fmt"
	"slices"

	"lanewright/importers/column"
	"lanewright/importers/sheet"
	"lanewright/planner/finding"
)

// CodeSheetKept says that a sheet was taken over from an earlier revision.
const CodeSheetKept = "sheets.kept"

// Base brings the facts of an earlier revision: the sheets that the files
// leave out are taken from it.
type Base struct {
	// Name is shown as the file of its facts: "revision 3".
	Name string
	// Data is a zip of CSV files, as package export writes it.
	Data []byte
}

// brings lists the kinds of sheets that are not taken from the base when the
// files have this one.
func brings(kind string) []string {
	if kind == column.Flat {
		return []string{column.Parts, column.Containers, column.Usage}
	}
	return []string{kind}
}

// addBase adds the sheets of the base that the files leave out.
func (rd *reading) addBase() error {
	if rd.onto == nil {
		return nil
	}
	book, err := sheet.Read(context.Background(), rd.onto.Name+".zip", rd.onto.Data, sheet.DefaultLimits())
	if err != nil {
		return fmt.Errorf("read the earlier revision: %w", err)
	}
	var brought []string
	for _, t := range rd.tables {
		brought = append(brought, brings(t.kind.Name)...)
	}
	rd.books++
	for i := range book.Sheets {
		s := &book.Sheets[i]
		s.File = rd.onto.Name
		kind, ok := kindByName(s.Name)
		if !ok || len(s.Rows) < 2 || slices.Contains(brought, kind.Name) {
			continue
		}
		t := newTable(rd, s, rd.books)
		t.old = true
		_, h, m := t.headingsFor(kind)
		t.readAs(kind, h, m)
		rd.tables = append(rd.tables, t)
		rd.say(finding.Finding{
			Severity: finding.Note, Code: CodeSheetKept, Origin: s.Origin(0, -1),
			Summary: fmt.Sprintf("Sheet %s was kept from %s (%s)", kind.Name, rd.onto.Name, count(len(t.rows), "row")),
			Detail:  "The files do not bring it.", Remedy: "Nothing to do; to change it, hand in the sheet.",
		})
	}
	return nil
}
