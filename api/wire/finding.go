package wire

import (
	"encoding/json"
	"math"

	"lanewright/planner/finding"
)

// Finding is one thing noticed, with its place and remedy.
type Finding struct {
	Code     string   `json:"code" doc:"stable code, sheet-or-stage.what"`
	Severity string   `json:"severity" enum:"error,warning,note"`
	Summary  string   `json:"summary" doc:"one line with the offending value"`
	Detail   string   `json:"detail" doc:"what was expected and why it matters"`
	Remedy   string   `json:"remedy" doc:"how to repair it"`
	Origin   Origin   `json:"origin" doc:"where the fact stood; empty for a plant-wide finding"`
	Related  []Origin `json:"related" doc:"other places that belong to it"`
	Subject  Subject  `json:"subject" doc:"the things it is about"`
	// Value, Limit and Unit are left out where no number was compared.
	Value *float64 `json:"value,omitempty" doc:"the number that broke a limit"`
	Limit *float64 `json:"limit,omitempty" doc:"the limit it broke"`
	Unit  string   `json:"unit,omitempty" doc:"unit of value and limit"`
	// Source is left out where no limit was involved.
	Source string `json:"source,omitempty" doc:"standard, book or practice behind the limit"`
}

// Origin is a place in what the plant handed in: all four fields, or none for
// a plant-wide finding.
type Origin struct {
	File   string `json:"file" required:"false"`
	Sheet  string `json:"sheet" required:"false"`
	Row    int    `json:"row,omitempty" doc:"the first row of a sheet is 1; left out where the whole sheet or file is meant"`
	Column string `json:"column" required:"false" doc:"letters as a spreadsheet shows them; empty means the whole row"`
}

// MarshalJSON writes {} for the zero Origin.
func (o Origin) MarshalJSON() ([]byte, error) {
	if o == (Origin{}) {
		return []byte("{}"), nil
	}
	type fields Origin
	return json.Marshal(fields(o))
}

// Subject names the things a finding is about; what does not apply is left
// out.
type Subject struct {
	Part      string `json:"part,omitempty"`
	Container string `json:"container,omitempty"`
	Product   string `json:"product,omitempty"`
	Cell      string `json:"cell,omitempty"`
	Station   string `json:"station,omitempty"`
	RackType  string `json:"rack_type,omitempty"`
	Rack      string `json:"rack,omitempty"`
	Level     int    `json:"level,omitempty"`
	Route     string `json:"route,omitempty"`
	Vehicle   string `json:"vehicle,omitempty"`
	Point     string `json:"point,omitempty"`
}

// NewFindings converts a list of findings and keeps its order.
func NewFindings(list finding.List) []Finding { return convert(list, newFinding) }

func newFinding(f finding.Finding) Finding {
	w := Finding{
		Code: f.Code, Severity: string(f.Severity),
		Summary: f.Summary, Detail: f.Detail, Remedy: f.Remedy,
		Origin: newOrigin(f.Origin), Related: convert(f.Related, newOrigin),
		Subject: Subject(f.Subject), Source: f.Source,
	}
	if m := f.Measure; m != nil {
		w.Value, w.Limit, w.Unit = finite(m.Value), finite(m.Limit), m.Unit
	}
	return w
}

func newOrigin(o finding.Origin) Origin { return Origin(o) }

// finite returns nil for what JSON has no number for.
func finite(f float64) *float64 {
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return nil
	}
	return &f
}
