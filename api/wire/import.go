package wire

import (
	"lanewright/importers/export"
	"lanewright/planner/plant"
)

// Import reports what became of a file that was handed in.
type Import struct {
	Plant          string `json:"plant"`
	DryRun         bool   `json:"dry_run"`
	Stored         bool   `json:"stored" doc:"false for a dry run and where the facts were there already"`
	Revision       string `json:"revision" doc:"SHA-256 of the facts"`
	RevisionNumber int    `json:"revision_number" doc:"0 for a dry run"`
	// Sheets is the ledger: nothing of a file is lost without being counted.
	Sheets   []Sheet   `json:"sheets"`
	Facts    Facts     `json:"facts"`
	Errors   int       `json:"errors"`
	Warnings int       `json:"warnings"`
	Notes    int       `json:"notes"`
	Findings []Finding `json:"findings"`
	Mapping  string    `json:"mapping" doc:"shape of the mapping that the file was read by; empty when none was needed"`
	// Changes says what differs from the latest revision.
	Changes Changes `json:"changes"`
}

// Changes is what differs between the latest revision and what a file brings.
type Changes struct {
	Against int           `json:"against" doc:"number of the revision; 0 when there is none"`
	Sheets  []SheetChange `json:"sheets" doc:"sheets in which something differs"`
}

// SheetChange counts the rows of one sheet that differ and shows some.
type SheetChange struct {
	Sheet   string      `json:"sheet"`
	Added   int         `json:"added"`
	Removed int         `json:"removed"`
	Changed int         `json:"changed"`
	Rows    []RowChange `json:"rows" doc:"at most the first 50 of each kind"`
}

// RowChange is one row that differs.
type RowChange struct {
	What   string       `json:"what" enum:"added,removed,changed"`
	Key    string       `json:"key" doc:"what names the row"`
	Values []ValueDelta `json:"values" doc:"the columns of a changed row that differ"`
}

// ValueDelta is one value before and after.
type ValueDelta struct {
	Column string `json:"column"`
	Old    string `json:"old"`
	New    string `json:"new"`
}

// changesShown is how many rows of a sheet and kind are shown.
const changesShown = 50

// NewChanges groups changes by sheet.
func NewChanges(against int, list []export.Change) Changes {
	c := Changes{Against: against, Sheets: []SheetChange{}}
	for _, row := range list {
		if n := len(c.Sheets); n == 0 || c.Sheets[n-1].Sheet != row.Sheet {
			c.Sheets = append(c.Sheets, SheetChange{Sheet: row.Sheet, Rows: []RowChange{}})
		}
		c.Sheets[len(c.Sheets)-1].add(row)
	}
	return c
}

func (s *SheetChange) add(row export.Change) {
	count := map[export.Changed]*int{export.Added: &s.Added, export.Removed: &s.Removed, export.Altered: &s.Changed}[row.What]
	if *count++; *count > changesShown {
		return
	}
	s.Rows = append(s.Rows, RowChange{What: string(row.What), Key: row.Key, Values: convert(row.Fields, func(f export.FieldChange) ValueDelta { return ValueDelta(f) })})
}

// Facts counts what a revision holds.
type Facts struct {
	Parts      int `json:"parts"`
	Containers int `json:"containers"`
	Products   int `json:"products"`
	Usage      int `json:"usage"`
	Cells      int `json:"cells"`
	Stations   int `json:"stations"`
	RackTypes  int `json:"rack_types"`
	Racks      int `json:"racks"`
	Points     int `json:"points"`
	Aisles     int `json:"aisles"`
	Vehicles   int `json:"vehicles"`
	Shifts     int `json:"shifts"`
}

// CountFacts counts the facts of a plant.
func CountFacts(p *plant.Plant) Facts {
	return Facts{
		Parts: len(p.Parts), Containers: len(p.Containers), Products: len(p.Products), Usage: len(p.Usage),
		Cells: len(p.Cells), Stations: len(p.Stations), RackTypes: len(p.RackTypes), Racks: len(p.Racks),
		Points: len(p.AislePoints), Aisles: len(p.Aisles), Vehicles: len(p.Vehicles), Shifts: len(p.Shifts),
	}
}
