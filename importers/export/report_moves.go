package export

import (
	"time"

	"lanewright/planner/placement"
)

// moveList is the sheet of the moves in the order in which they are done; the
// minutes are counted up through each shift, so that its last row has the time
// of the whole.
func (r *report) moveList() grid {
	g := grid{name: "Move list", frozen: 4, columns: []gridColumn{
		idColumn("Cell", 10), figureColumn("Day", 6, wholeFormat), idColumn("Shift", 10), figureColumn("Step", 7, wholeFormat),
		wordColumn("What to do", 28), idColumn("Part", 16), wordColumn("Description", 36), idColumn("Station", 10),
		figureColumn("Containers", 11, wholeFormat), wordColumn("From", 26), wordColumn("To", 26),
		figureColumn("Minutes", 9, oneFormat), figureColumn("Minutes of the shift", 11, oneFormat), wordColumn("Done", 8),
	}}
	var before placement.Step
	var spent, all time.Duration
	moved := 0
	for _, s := range r.plan.MoveSteps {
		if s.Cell != before.Cell || s.Day != before.Day || s.Shift != before.Shift {
			spent = 0
		}
		before, spent, all, moved = s, spent+s.Time, all+s.Time, moved+s.Containers
		g.rows = append(g.rows, []any{
			string(s.Cell), s.Day, string(s.Shift), s.Step, stepText(s.Kind), string(s.Part), r.description(s.Part), string(s.Station),
			s.Containers, stepPlace(s.From), stepPlace(s.To), s.Time.Minutes(), spent.Minutes(), nil,
		})
	}
	g.total = g.sums(map[string]any{"Containers": moved, "Minutes": all.Minutes()})
	return g
}

// stepText says what a step is for.
func stepText(k placement.StepKind) string {
	switch k {
	case placement.StepOut:
		return "take back to the market"
	case placement.StepAside:
		return "put aside for now"
	case placement.StepBack:
		return "put in place from aside"
	case placement.StepBring:
		return "bring from the market"
	default:
		return "move"
	}
}

// stepPlace names where containers are taken or put.
func stepPlace(s *placement.Spot) string {
	switch {
	case s == nil:
		return "market"
	case s.Level == 0:
		return "floor beside " + string(s.Rack)
	default:
		lane := placement.Lane{Rack: s.Rack, Level: s.Level, Lane: s.Lane}
		return spanText(lane, lane)
	}
}
