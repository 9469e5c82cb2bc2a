package wire

import (
	"time"

	"lanewright/planner/placement"
)

// MoveList is what turns one layout into another, in an order that can be worked down.
type MoveList struct {
	Since      int64       `json:"since" doc:"id of the plan that the floor works to before; 0 is today's layout as the facts have it"`
	Containers int         `json:"containers" doc:"to be carried; one put aside for a while counts once"`
	Minutes    float64     `json:"minutes" doc:"of one person"`
	Shifts     []MoveShift `json:"shifts" doc:"the same by cell, day and shift, in the order of the list"`
	Steps      []MoveStep  `json:"steps"`
}

// MoveShift is what of a move list is done in one shift at one cell.
type MoveShift struct {
	Cell       string  `json:"cell"`
	Day        int     `json:"day" doc:"from 1, the first day on which the list is worked on"`
	Shift      string  `json:"shift" doc:"empty where the cell has none"`
	Steps      int     `json:"steps"`
	Containers int     `json:"containers"`
	Minutes    float64 `json:"minutes"`
}

// NewMoveList converts steps and adds them up.
func NewMoveList(since int64, steps []placement.Step) MoveList {
	out := MoveList{Since: since, Shifts: []MoveShift{}, Steps: convert(steps, newMoveStep)}
	var total, shift time.Duration
	for i, s := range steps {
		if i == 0 || s.Cell != steps[i-1].Cell || s.Day != steps[i-1].Day || s.Shift != steps[i-1].Shift {
			out.Shifts, shift = append(out.Shifts, MoveShift{Cell: string(s.Cell), Day: s.Day, Shift: string(s.Shift)}), 0
		}
		total, shift = total+s.Time, shift+s.Time
		now := &out.Shifts[len(out.Shifts)-1]
		now.Steps++
		if s.Kind != placement.StepAside {
			now.Containers += s.Containers
			out.Containers += s.Containers
		}
		now.Minutes = minutes(shift)
	}
	out.Minutes = minutes(total)
	return out
}

// MoveStep is one errand of the move list.
type MoveStep struct {
	Cell       string  `json:"cell"`
	Day        int     `json:"day" doc:"from 1, the first day on which the list is worked on"`
	Shift      string  `json:"shift" doc:"shift of that day; empty where the cell has none"`
	Step       int     `json:"step" doc:"from 1 in each cell"`
	Kind       string  `json:"kind" enum:"out,move,aside,back,bring" doc:"out: to the market; move: lane to lane; aside: out of the way of others; back: from there to its lane; bring: from the market"`
	Part       string  `json:"part"`
	Station    string  `json:"station"`
	Containers int     `json:"containers"`
	From       *Lay    `json:"from" doc:"null is the market"`
	To         *Lay    `json:"to" doc:"null is the market"`
	Minutes    float64 `json:"minutes" doc:"handling, and the walk there and back"`
}

// Lay is where containers lie while moves are done.
type Lay struct {
	Rack  string `json:"rack"`
	Level int    `json:"level" doc:"0 is the floor beside the rack"`
	Lane  int    `json:"lane" doc:"0 on the floor"`
}

func newMoveStep(s placement.Step) MoveStep {
	return MoveStep{
		Cell: string(s.Cell), Day: s.Day, Shift: string(s.Shift), Step: s.Step, Kind: string(s.Kind),
		Part: string(s.Part), Station: string(s.Station), Containers: s.Containers,
		From: newLay(s.From), To: newLay(s.To), Minutes: minutes(s.Time),
	}
}

func newLay(s *placement.Spot) *Lay {
	if s == nil {
		return nil
	}
	return &Lay{Rack: string(s.Rack), Level: s.Level, Lane: s.Lane}
}
