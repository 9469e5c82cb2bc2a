package ergonomics

import (
	"fmt"
	"math"

	"lanewright/planner/finding"
	"lanewright/planner/units"
)

// Measures of a small person: of 20 women of Great Britain 19 are larger (Pheasant,
// Bodyspace, 2nd ed. 1996, table of British adults aged 19-65). The arm was seen
// at http://personal.cityu.edu.hk/meachan/online%20anthropometry/Chapter2/Ch2-25.htm,
// the heights and what shoes add are from memory.
const (
	shoes = 25 * units.Millimetre
	// Arm is from the shoulder to the middle of the grip.
	Arm = 555 * units.Millimetre
	// Shoulder, Knuckle and Overhead are the heights of shoulder and hanging
	// knuckles and of an easy grip above the head, in shoes.
	Shoulder = 1215*units.Millimetre + shoes
	Knuckle  = 660*units.Millimetre + shoes
	Overhead = 1790*units.Millimetre + shoes
)

// HandRoom is what a hand wants between the rim of a container and what is
// above it: the clearance of 2 in (50 mm) of the lifting manual's handles (p. 17,
// seen).
const HandRoom = 50 * units.Millimetre

// body stands beside the findings about reach.
const body = "Pheasant, Bodyspace, 2nd ed. 1996, British women aged 19-65, 5th percentile in shoes (arm seen, heights from memory)"

// ReachOver returns how far over the pick edge a small person reaches at a
// height: the arm as a straight line from the shoulder (zone of convenient reach,
// √(arm² − (shoulder − height)²); Armstrong, Link lengths and simple reach
// calculations, seen). A lean of up to 20°, which brings the shoulder over the
// edge, is taken as no burden (EN 1005-4, from memory). It is 0 where the arm
// does not come down or up to that height.
func ReachOver(height units.Length) units.Length {
	a, d := float64(Arm), float64(Shoulder-height)
	if math.Abs(d) >= a {
		return 0
	}
	return units.Length(math.Sqrt(a*a - d*d))
}

// hands is the height of the hands at an edge.
func (t Task) hands(surface units.Length) units.Length { return surface + t.Container.Height/2 }

// JudgeReach returns what is to be said of reaching into the lanes of tasks,
// once for each cell and kind: hands below the knuckles or above the shoulders at
// either edge, the far wall of the first container out of reach, no room for a
// hand above it. A lane is the lanes of one loop on one level.
func JudgeReach(tasks []Task) finding.List {
	kinds := reachKinds()
	places := make([]map[string]*reached, len(kinds))
	var cells []string
	count := map[string]int{}
	for k := range places {
		places[k] = map[string]*reached{}
	}
	for i := range tasks {
		cell := tasks[i].Subject.Cell
		if count[cell]++; count[cell] == 1 {
			cells = append(cells, cell)
		}
		for k, kind := range kinds {
			places[k][cell] = places[k][cell].with(&tasks[i], kind)
		}
	}
	var list finding.List
	for _, cell := range cells {
		for k, kind := range kinds {
			if r := places[k][cell]; r != nil {
				list = append(list, r.finding(kind, count[cell]))
			}
		}
	}
	return list
}

// reached are the lanes of a cell that ask too much in one way.
type reached struct {
	lanes int
	// worst is the lane with the greatest excess, value its number.
	worst                *Task
	value, limit, excess units.Length
}

// with counts t where it asks too much.
func (r *reached) with(t *Task, k reachKind) *reached {
	value, limit, excess := k.measure(t)
	if excess <= 0 {
		return r
	}
	if r == nil {
		r = &reached{}
	}
	r.lanes++
	if excess > r.excess {
		r.worst, r.value, r.limit, r.excess = t, value, limit, excess
	}
	return r
}

func (r *reached) finding(k reachKind, lanes int) finding.Finding {
	s := r.worst.Subject
	return finding.Finding{
		Severity: k.severity(r), Code: k.code, Subject: s, Origin: r.worst.Origin,
		Summary: fmt.Sprintf("Cell %s: %s at %d of %d lanes, most at part %s on rack %s level %d: %.0f mm", s.Cell, k.what, r.lanes, lanes, s.Part, s.Rack, s.Level, r.value.MM()),
		Detail:  k.detail + screening, Remedy: k.remedy, Source: k.source,
		Measure: &finding.Measure{Value: r.value.MM(), Limit: r.limit.MM(), Unit: "mm"},
	}
}

// screening stands in the detail of findings about reach.
const screening = " This is a screening for a small person: a qualified person decides, and local rules come first."
