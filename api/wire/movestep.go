package wire

import "lanewright/planner/placement"

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
