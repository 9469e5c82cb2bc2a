package wire

import (
	"lanewright/importers"
	"lanewright/planner/finding"
)

// Check is what is wrong with a plant's files and how their rows were used.
type Check struct {
	Errors   int         `json:"errors"`
	Warnings int         `json:"warnings"`
	Notes    int         `json:"notes"`
	Sheets   []ReadSheet `json:"sheets"`
	Findings []Finding   `json:"findings"`
}

// ReadSheet is the ledger of one sheet with what it was read as.
type ReadSheet struct {
	Sheet
	Kind string `json:"kind" doc:"the canonical sheet it was read as"`
}

// NewCheck converts what was read.
func NewCheck(r *importers.Result) Check {
	return Check{
		Errors:   r.Findings.Count(finding.Error),
		Warnings: r.Findings.Count(finding.Warning),
		Notes:    r.Findings.Count(finding.Note),
		Sheets: convert(r.Sheets, func(l importers.Ledger) ReadSheet {
			return ReadSheet{
				Sheet: Sheet{File: l.File, Sheet: l.Sheet, Rows: l.Rows, Used: l.Used, Reported: l.Reported, Skipped: l.Skipped},
				Kind:  l.Kind,
			}
		}),
		Findings: NewFindings(r.Findings),
	}
}
