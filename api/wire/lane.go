package wire

import "lanewright/planner/placement"

// Lane is one file of containers on a rack's level. In an empty lane part,
// cell, station and flow side are "" and capacity and containers 0.
type Lane struct {
	Rack       string  `json:"rack"`
	Level      int     `json:"level"`
	Lane       int     `json:"lane" doc:"from 1, from the left seen from the pick side"`
	Kind       string  `json:"kind" enum:"supply,return"`
	OffsetMM   float64 `json:"offset_mm" doc:"left edge from the left end of the usable width"`
	WidthMM    float64 `json:"width_mm"`
	Part       string  `json:"part" doc:"empty for an empty lane"`
	Cell       string  `json:"cell"`
	Station    string  `json:"station"`
	FlowSide   string  `json:"flow_side" doc:"length or width; empty for an empty lane"`
	Capacity   int     `json:"capacity"`
	Containers int     `json:"containers"`
}

// Unplaced is a loop, or the part of one, without a lane.
type Unplaced struct {
	Part       string `json:"part"`
	Cell       string `json:"cell"`
	Station    string `json:"station"`
	Containers int    `json:"containers" doc:"those without a lane"`
	Reason     string `json:"reason" doc:"a code that stands in findings"`
	Detail     string `json:"detail" doc:"the true obstacle with its figures"`
}

// Move is a change of rack or level against today's layout.
type Move struct {
	Part       string `json:"part"`
	Cell       string `json:"cell"`
	Station    string `json:"station"`
	From       *Spot  `json:"from" doc:"null for what is new"`
	To         *Spot  `json:"to" doc:"null for what is gone"`
	Containers int    `json:"containers"`
}

// Spot is a place on a rack.
type Spot struct {
	Rack  string `json:"rack"`
	Level int    `json:"level"`
	Lane  int    `json:"lane" doc:"first lane there"`
}

func newLane(l placement.Lane) Lane {
	return Lane{
		Rack: string(l.Rack), Level: l.Level, Lane: l.Lane, Kind: string(l.Kind),
		OffsetMM: l.Offset.MM(), WidthMM: l.Width.MM(),
		Part: string(l.Loop.Part), Cell: string(l.Loop.Cell), Station: string(l.Loop.Station),
		FlowSide: string(l.Side), Capacity: l.Capacity, Containers: l.Containers,
	}
}

func newUnplaced(u placement.Unplaced) Unplaced {
	return Unplaced{
		Part: string(u.Loop.Part), Cell: string(u.Loop.Cell), Station: string(u.Loop.Station),
		Containers: u.Containers, Reason: u.Reason, Detail: u.Detail,
	}
}

func newMove(m placement.Move) Move {
	return Move{
		Part: string(m.Part), Cell: string(m.Cell), Station: string(m.Station),
		From: newSpot(m.From), To: newSpot(m.To), Containers: m.Containers,
	}
}

func newSpot(s *placement.Spot) *Spot {
	if s == nil {
		return nil
	}
	return &Spot{Rack: string(s.Rack), Level: s.Level, Lane: s.Lane}
}
