package wire

import "lanewright/importers/sheet"

// Inspection is what a file holds before any meaning is read.
type Inspection struct {
	File     string           `json:"file"`
	Format   string           `json:"format"`
	Date1904 bool             `json:"date1904" doc:"dates count from 1904"`
	Refused  *Refused         `json:"refused" doc:"why the file was not read; null when it was"`
	Sheets   []InspectedSheet `json:"sheets"`
}

// Refused says why a file was not read and what to do about it.
type Refused struct {
	Code    string `json:"code"`
	Summary string `json:"summary"`
	Detail  string `json:"detail"`
	Remedy  string `json:"remedy"`
}

// InspectedSheet counts one sheet.
type InspectedSheet struct {
	Name   string `json:"name"`
	State  string `json:"state" enum:"visible,hidden,veryHidden"`
	Rows   int    `json:"rows" doc:"non-empty rows"`
	Cells  int    `json:"cells" doc:"non-empty cells"`
	Merges int    `json:"merges" doc:"merged ranges"`

	HiddenRows    int    `json:"hidden_rows" doc:"non-empty rows that are hidden"`
	HiddenColumns int    `json:"hidden_columns" doc:"hidden columns up to the last filled one"`
	Formulas      int    `json:"formulas" doc:"cells with a formula"`
	NoValue       int    `json:"no_value" doc:"formulas whose result was not saved"`
	Errors        int    `json:"errors" doc:"cells with an error value"`
	Filtered      bool   `json:"filtered" doc:"a filter is set"`
	Delimiter     string `json:"delimiter" doc:"what parts the fields of a CSV file; empty in workbooks"`
}

// NewInspection converts an inspection.
func NewInspection(in sheet.Inspection) Inspection {
	w := Inspection{
		File: in.File, Format: in.Format, Date1904: in.Date1904,
		Sheets: convert(in.Sheets, func(s sheet.SheetInspection) InspectedSheet { return InspectedSheet(s) }),
	}
	if r := in.Refused; r != nil {
		w.Refused = &Refused{Code: r.Code, Summary: r.Summary, Detail: r.Detail, Remedy: r.Remedy}
	}
	return w
}
