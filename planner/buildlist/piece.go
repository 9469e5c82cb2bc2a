package buildlist

import (
	"fmt"

	"lanewright/planner/plant"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// finest is what a person measures and drills to.
const finest = units.Millimetre / 10

// Piece is one thing to cut or to take, and where it goes.
type Piece struct {
	// Mark is the member's; pieces that make up one member together have a letter
	// behind it: "2G1a", "2G1b".
	Mark string
	Role structure.Role
	// Level is 0 for what belongs to no level.
	Level int
	Part  *plant.KitPart
	// Member is the position of its member in the frame.
	Member int
	// Length is what it is cut to; measures along it start at its first end, which
	// is the bottom of an upright, the left end of what lies across the rack, else
	// the end at the pick side.
	Length units.Length
	Holes  []Hole
	// Rollers is how many a roller track has.
	Rollers int
	// From is where its first end goes, To its other one.
	From, To structure.Point
	// Where says in words where it goes.
	Where string
}

// member adds the pieces of a member.
func (m *maker) member(i int, holes []Hole) {
	b := m.f.Members[i]
	p := Piece{
		Mark: b.Mark, Role: b.Role, Level: b.Level, Part: b.Part, Member: i, Length: b.Cut,
		Holes: holes, From: b.From, To: towards(b, b.Cut), Where: where(m.f, i, m.l.Unit),
	}
	switch b.Role {
	case structure.Track, structure.Guide:
		m.laid(p, b)
	default:
		m.ends(p)
		m.l.Pieces = append(m.l.Pieces, p)
	}
}

// towards is the place so far along a member's centre line.
func towards(b structure.Member, along units.Length) structure.Point {
	whole := b.Length()
	if along >= whole {
		return b.To
	}
	at := func(from, to units.Length) units.Length {
		return from + units.Length(float64(to-from)*float64(along)/float64(whole))
	}
	return structure.Point{X: at(b.From.X, b.To.X), Y: at(b.From.Y, b.To.Y), Z: at(b.From.Z, b.To.Z)}
}

// laid adds a roller track or guide, in as few pieces as its stock lengths allow.
func (m *maker) laid(p Piece, b structure.Member) {
	step := max(m.f.Kit.CutStep, finest)
	length := b.Cut - b.Cut%step
	cuts := m.cover(b, length)
	from := units.Length(0)
	for n, to := range cuts {
		one := p
		one.Length, one.From, one.To = to-from, towards(b, from), towards(b, to)
		if len(cuts) > 1 {
			one.Mark = fmt.Sprintf("%s%s", p.Mark, letters(n))
		}
		if pitch := m.f.Deck(b.Level).RollerPitch; b.Role == structure.Track && pitch > 0 {
			one.Rollers = int(to/pitch - from/pitch)
		}
		m.l.Pieces = append(m.l.Pieces, one)
		from = to
	}
}

// letters names the n-th piece of a member: a to z, then aa.
func letters(n int) string {
	if n < 26 {
		return string(rune('a' + n))
	}
	return letters(n/26-1) + letters(n%26)
}
