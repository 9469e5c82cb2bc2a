package ergonomics

import (
	"fmt"
	"time"

	"lanewright/planner/finding"
	"lanewright/planner/units"
)

// DayLimit is the mass in kg that one person should lift in a day of 8 h where
// nothing is carried far (ISO 11228-1:2003, 4.3; from memory).
const DayLimit = 10_000.0

// Day is what one person lifts in one shift.
type Day struct {
	Subject finding.Subject
	// Who names the person's post: "handler H1", "station S1".
	Who, Shift string
	// Mass is in kg, Net the time of the shift without its breaks.
	Mass float64
	Net  time.Duration
}

// JudgeDays compares what people lift in a shift with the limit of a day.
func JudgeDays(days []Day) finding.List {
	var list finding.List
	for _, d := range days {
		if d.Mass <= DayLimit {
			continue
		}
		list = append(list, finding.Finding{
			Severity: finding.Warning, Code: CodeDay, Subject: d.Subject,
			Summary: fmt.Sprintf("%s lifts %.0f kg in shift %s", d.Who, d.Mass, d.Shift),
			Detail:  fmt.Sprintf("In %.3g h of net time. The limit of %.0f kg is for a day of 8 h and loads of 3 kg or more that are not carried far; where they are carried 20 m it is 6000 kg.", d.Net.Hours(), DayLimit) + caution,
			Remedy:  "Share the work over more people, let people change places during the shift, or lift with an aid.",
			Measure: &finding.Measure{Value: d.Mass, Limit: DayLimit, Unit: "kg"},
			Source:  "ISO 11228-1:2003, 4.3, cumulative mass (from memory)",
		})
	}
	return list
}

// RefillMass is the mass in kg that one round lifts to t's lanes, once; PickMass
// that of its pieces in a net minute. Loads below 3 kg do not count.
func (t Task) RefillMass() float64 { return counted(t.Gross) * t.Own() }

// PickMass is described at RefillMass.
func (t Task) PickMass() float64 { return counted(t.Piece) * t.Rate * t.Share }

// counted is a mass in kg, 0 where it does not count as lifted.
func counted(m units.Mass) float64 {
	if m < lightest {
		return 0
	}
	return m.KG()
}
