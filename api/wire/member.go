package wire

import (
	"lanewright/planner/buildlist"
	"lanewright/planner/structure"
)

// Member is one piece and where it goes.
type Member struct {
	Mark     string  `json:"mark"`
	Role     string  `json:"role"`
	Level    int     `json:"level" doc:"0 belongs to no level"`
	Part     string  `json:"part" doc:"of the kit"`
	LengthMM float64 `json:"length_mm" doc:"to cut"`
	Holes    []Hole  `json:"holes"`
	Rollers  int     `json:"rollers,omitempty"`
	From     Point3  `json:"from" doc:"first end of its middle line: bottom, left or pick side"`
	To       Point3  `json:"to"`
	Where    string  `json:"where"`
}

// Point3 is a place in a rack, in mm: x from its left end, y from its pick side, z
// over the floor.
type Point3 struct {
	X float64 `json:"x"`
	Y float64 `json:"y"`
	Z float64 `json:"z"`
}

// Hole is where other tubes meet a piece.
type Hole struct {
	AtMM   float64  `json:"at_mm" doc:"from the piece's first end"`
	Number int      `json:"number,omitempty" doc:"of the holes that the kit's tubes have, from 1; left out where it is drilled"`
	Way    string   `json:"way" enum:"across the rack,along the lanes"`
	Meets  []string `json:"meets" doc:"marks of the tubes that meet it"`
}

func newMember(p buildlist.Piece) Member {
	return Member{
		Mark: p.Mark, Role: string(p.Role), Level: p.Level, Part: string(p.Part.Part), LengthMM: p.Length.MM(),
		Holes: convert(p.Holes, newHole), Rollers: p.Rollers, From: newPoint3(p.From), To: newPoint3(p.To), Where: p.Where,
	}
}

func newPoint3(p structure.Point) Point3 { return Point3{p.X.MM(), p.Y.MM(), p.Z.MM()} }

func newHole(h buildlist.Hole) Hole {
	return Hole{AtMM: h.At.MM(), Number: h.Number, Way: string(h.Way), Meets: texts(h.Meets)}
}
