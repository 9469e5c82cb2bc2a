package wire

import (
	"time"

	"lanewright/importers"
	"lanewright/importers/mapping"
	"lanewright/importers/sheet"
	"lanewright/planner/archive"
)

// Mapping says what the columns of a plant's own sheets mean, for files of one
// shape.
type Mapping struct {
	Shape   string    `json:"shape" doc:"names the headings of the files that it is about"`
	Text    string    `json:"text" doc:"to be read and edited by people"`
	Created time.Time `json:"created"`
}

// NewMapping converts a mapping.
func NewMapping(m archive.Mapping) Mapping { return Mapping(m) }

// MappingText is a mapping that is handed in.
type MappingText struct {
	Text string `json:"text" maxLength:"1048576"`
}

// Proposal is what the columns of a file seem to mean, with what is still
// asked and the first rows as they would be understood.
type Proposal struct {
	Shape     string            `json:"shape"`
	Text      string            `json:"text" doc:"the mapping; empty when the file was refused"`
	Questions []string          `json:"questions" doc:"what a person must answer in the text"`
	Known     bool              `json:"known" doc:"the plant has a mapping for files of this shape, and it was used"`
	Decimal   string            `json:"decimal" enum:",point,comma" doc:"decimal mark of the numbers; empty where each table shows its own, or it is asked"`
	Encoding  string            `json:"encoding" doc:"encoding that the texts were said to have; empty for UTF-8"`
	Delimiter string            `json:"delimiter" doc:"what was said to part the fields of a text; empty where it shows"`
	Asked     bool              `json:"decimal_asked" doc:"no number shows whether the decimal mark is point or comma"`
	Mapped    []MappedTable     `json:"mapped" doc:"what each table was taken for, in the order of the files"`
	Tables    []PreviewTable    `json:"tables"`
	Encodings []EncodingPreview `json:"encodings" doc:"what a text that is not UTF-8 looks like in each encoding it may have"`
	Sheets    []ReadSheet       `json:"sheets"`
	Findings  []Finding         `json:"findings"`
}

// MappedTable is what one table was taken for.
type MappedTable struct {
	Sheet   string           `json:"sheet"`
	Kind    string           `json:"kind" doc:"the canonical sheet it is read as; empty when it is not read"`
	Row     int              `json:"row" doc:"row of the first line of its headings; 0 when it is not read"`
	Lines   int              `json:"lines" doc:"lines that its headings have, 1 or 2"`
	Columns []ProposedColumn `json:"columns"`
}

// ProposedColumn is one heading and what it was taken for.
type ProposedColumn struct {
	Heading    string   `json:"heading"`
	Column     string   `json:"column" doc:"empty when it is kept out or asked"`
	Unit       string   `json:"unit"`
	Certainty  string   `json:"certainty" enum:"stated,canonical,synonym,words,asked,none" doc:"why: a mapping says so, the template's name, a known other name, known word by word; asked or kept out"`
	Candidates []string `json:"candidates"`
	Samples    []string `json:"samples" doc:"first texts below a heading that is asked about"`
}

// PreviewTable is how the first rows of a table are understood.
type PreviewTable struct {
	File     string       `json:"file"`
	Sheet    string       `json:"sheet"`
	Kind     string       `json:"kind"`
	Headings []string     `json:"headings"`
	Columns  []string     `json:"columns"`
	Rows     []PreviewRow `json:"rows"`
}

// PreviewRow is one row as understood.
type PreviewRow struct {
	Row    int      `json:"row"`
	State  string   `json:"state" enum:"used,reported,skipped"`
	Values []string `json:"values" doc:"one that can't be read begins with ?"`
}

// Excerpt is a part of a sheet as it stands.
type Excerpt struct {
	File  string       `json:"file"`
	Sheet string       `json:"sheet"`
	Rows  []ExcerptRow `json:"rows" doc:"rows that are blank are left out"`
}

// ExcerptRow is one row of a sheet.
type ExcerptRow struct {
	Row   int      `json:"row"`
	Cells []string `json:"cells" doc:"texts from column A on; a long one is cut"`
}

// NewExcerpt converts a part of a sheet.
func NewExcerpt(file, sheet string, e importers.Excerpt) Excerpt {
	return Excerpt{File: file, Sheet: sheet, Rows: convert(e.Rows, func(r importers.ExcerptRow) ExcerptRow {
		return ExcerptRow{Row: r.Number, Cells: r.Cells}
	})}
}

// EncodingPreview is a line in one encoding.
type EncodingPreview struct {
	Encoding string `json:"encoding"`
	Line     string `json:"line"`
}

// NewProposal converts what was read. previews are of a text whose encoding
// nobody knows.
func NewProposal(r *importers.Result, previews []sheet.Preview) Proposal {
	check := NewCheck(r)
	p := Proposal{
		Known: r.Used != nil, Sheets: check.Sheets, Findings: check.Findings, Questions: []string{}, Mapped: []MappedTable{},
		Tables:    convert(r.Preview, newPreview),
		Encodings: convert(previews, func(e sheet.Preview) EncodingPreview { return EncodingPreview(e) }),
	}
	if r.Mapping != nil {
		p.Shape, p.Text = r.Mapping.Shape(), r.Mapping.Text()
		p.Questions = append(p.Questions, r.Mapping.Questions()...)
		p.Decimal, p.Asked, p.Encoding, p.Delimiter = r.Mapping.DecimalWord(), r.Mapping.AskDecimal, r.Mapping.Encoding, r.Mapping.DelimiterWord()
		p.Mapped = convert(r.Mapping.Tables, func(t mapping.Table) MappedTable {
			return MappedTable{Sheet: t.Sheet, Kind: t.Kind, Row: t.Row, Lines: t.Lines, Columns: convert(t.Columns, newProposedColumn)}
		})
	}
	return p
}

func newProposedColumn(c mapping.Column) ProposedColumn {
	p := ProposedColumn{Heading: c.Heading, Column: c.Field, Unit: c.Unit, Certainty: string(c.By), Candidates: append([]string{}, c.Candidates...), Samples: append([]string{}, c.Samples...)}
	switch {
	case c.Ask:
		p.Certainty = "asked"
	case c.Field == "":
		p.Certainty = "none"
	}
	return p
}

func newPreview(p importers.Preview) PreviewTable {
	return PreviewTable{
		File: p.File, Sheet: p.Sheet, Kind: p.Kind, Headings: append([]string{}, p.Headings...), Columns: append([]string{}, p.Fields...),
		Rows: convert(p.Rows, func(r importers.PreviewRow) PreviewRow {
			return PreviewRow{Row: r.Number, State: r.State, Values: append([]string{}, r.Values...)}
		}),
	}
}
