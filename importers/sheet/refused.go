package sheet

import (
	"fmt"

	"lanewright/planner/finding"
)

// Refused says in words why a file was not read and what to do about it. It
// is the one error of this package that is the file's fault; any other error
// is a failing world (no such file, cancelled, disk).
type Refused struct {
	// Code is stable, "sheet.what".
	Code string
	// Summary is one line, Detail says why it matters, Remedy what to do.
	Summary, Detail, Remedy string
	// Origin names the file and, where known, the sheet and cell.
	Origin finding.Origin
}

// Error returns the place, the summary and the remedy in one line.
func (r *Refused) Error() string {
	s := r.Summary
	if place := r.Origin.String(); place != "" {
		s = place + ": " + s
	}
	return s + ". " + r.Remedy
}

// Finding returns the refusal as an error finding.
func (r *Refused) Finding() finding.Finding {
	return finding.Finding{
		Severity: finding.Error, Code: r.Code, Summary: r.Summary,
		Detail: r.Detail, Remedy: r.Remedy, Origin: r.Origin,
	}
}

// Remedies that several refusals share.
const (
	saveAsXLSX = "Open the file in a spreadsheet program and save it as an Excel workbook (.xlsx), then hand in that file."
	saveAgain  = "Fetch the file again from where it came from; if it is still refused, open it in a spreadsheet program and save it under a new name as .xlsx."
)

// damaged is the refusal of an archive or part that is not what it says.
func damaged(code string, at finding.Origin, format string, args ...any) *Refused {
	return &Refused{
		Code: code, Origin: at, Summary: fmt.Sprintf(format, args...),
		Detail: "The file is damaged or was written wrongly. Reading on could lose rows without anybody noticing, so nothing of it was read.",
		Remedy: saveAgain,
	}
}
