package importers

import (
	"context"

	"lanewright/importers/sheet"
	"lanewright/planner/finding"
)

const (
	// excerptColumns is how many cells of a row an excerpt has at most.
	excerptColumns = 200
	// excerptText is how many letters of a cell it has at most.
	excerptText = 200
)

// Excerpt is a part of a sheet as it stands, to show a place in it.
type Excerpt struct {
	// Rows have a value in some cell; blank ones between them are left out.
	Rows []ExcerptRow
	// Found says that there is such a sheet.
	Found bool
}

// ExcerptRow is one row: its number, from 1, and the texts of its cells from
// column A on.
type ExcerptRow struct {
	Number int
	Cells  []string
}

// ReadExcerpt returns the rows of a sheet from at.Row-around to at.Row+around,
// and before them those of its headings: lines rows from row heading on, 0 for
// none. A file that is refused has none.
func ReadExcerpt(ctx context.Context, o Options, at finding.Origin, around, heading, lines int, files ...Upload) (Excerpt, error) {
	rd := newReading()
	if err := rd.takeUploads(ctx, o, files); err != nil {
		return Excerpt{}, err
	}
	var e Excerpt
	for _, t := range rd.tables {
		if t.sheet.File != at.File || t.sheet.Name != at.Sheet {
			continue
		}
		e.Found = true
		for _, r := range t.sheet.Rows {
			isHead := r.Number >= heading && r.Number < heading+lines
			if isHead || r.Number >= at.Row-around && r.Number <= at.Row+around {
				e.Rows = append(e.Rows, ExcerptRow{r.Number, excerptOf(r.Cells())})
			}
		}
		break
	}
	return e, nil
}

func excerptOf(cells []sheet.Cell) []string {
	texts := make([]string, min(len(cells), excerptColumns))
	for i := range texts {
		texts[i] = cells[i].Text
		if runes := []rune(texts[i]); len(runes) > excerptText {
			texts[i] = string(runes[:excerptText]) + "…"
		}
	}
	return texts
}
