package structure

import (
	"math"
	"slices"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Point is a place in a rack: X from its left end seen from the pick side, Y
// from its pick side to its load side, Z from the floor.
type Point struct{ X, Y, Z units.Length }

// To is the straight distance from p to q, to the nearest nanometre.
func (p Point) To(q Point) units.Length {
	return length(math.Hypot(math.Hypot(float64(q.X-p.X), float64(q.Y-p.Y)), float64(q.Z-p.Z)))
}

// length rounds nanometres.
func length(nm float64) units.Length { return units.Length(math.Round(nm)) }

// Role is what a member of a frame does.
type Role string

// Roles of members.
const (
	// Upright stands on a foot or caster; its section's width lies along X.
	Upright Role = "upright"
	// CrossTube lies along X under the roller tracks of a level, turned with its
	// slope: its section's width lies along the lane.
	CrossTube Role = "cross tube"
	// Rail runs along the lane between two uprights and carries cross tubes; its
	// section's width lies along X.
	Rail Role = "rail"
	// Brace ties uprights at the bottom and the top, along X or Y.
	Brace Role = "brace"
	// Track carries the rollers; Guide parts lanes or ends the outermost one;
	// Stop holds a lane's first container at the low edge.
	Track Role = "roller track"
	Guide Role = "guide"
	Stop  Role = "stop"
)

// Member is one piece of a frame.
type Member struct {
	// Mark is unique in its frame: "U1", "2C3" is the third cross tube of level 2.
	Mark string
	Role Role
	// Level is 0 for what belongs to no level.
	Level int
	// Part is the kit's; it is never nil.
	Part *plant.KitPart
	// From and To are the ends of its centre line, at the cuts. Uprights go from
	// the bottom up, what lies along X from left to right, the rest from the pick
	// side to the load side.
	From, To Point
	// Cut is the length to cut: that of the centre line, rounded down to the
	// kit's cut step. A stop has its length here too.
	Cut units.Length
}

// Length is the length of the centre line.
func (m Member) Length() units.Length { return m.From.To(m.To) }

// IsTube reports whether the member is a tube.
func (m Member) IsTube() bool { return m.Part.Kind == plant.TubePart }

// Joint is where the end of one tube meets the side of another.
type Joint struct {
	// Tube and On are positions in Members: the end of Tube meets the side of On.
	Tube, On int
	// At is the end of Tube; Along is how far from On's From the two centre lines
	// cross, along On: where On has its hole.
	At    Point
	Along units.Length
}

// Support is a foot or caster under an upright.
type Support struct {
	// Under is the upright's position in Members.
	Under int
	Part  *plant.KitPart
	// At is where it meets the floor.
	At Point
}

// Lane is one lane that a level is to have, from the left seen from the pick
// side.
type Lane struct {
	Level int
	// Offset is its left edge from the left end of the usable width.
	Offset, Width units.Length
	// Box is what lies in it; its zero value is nothing.
	Box Box
	// Capacity is how many containers fit one behind the other, Containers how
	// many are planned.
	Capacity, Containers int
}

// Box is a container as it lies in a lane.
type Box struct {
	Container plant.ContainerCode
	// Flow runs along the lane, Across is the other side.
	Flow, Across, Height units.Length
	// Gross is its mass when full.
	Gross units.Mass
}

// IsZero reports whether there is no box.
func (b Box) IsZero() bool { return b.Flow == 0 }

// Deck is a level as it is built.
type Deck struct {
	Level int
	Kind  plant.LevelKind
	// PickHeight and Drop are those of the level as built: where the kit has
	// holes they differ a little from the rack type's.
	PickHeight, Drop units.Length
	// Front is the Y of the lanes' pick edge, Left the X of their left end.
	Front, Left units.Length
	// LaneLength and UsableWidth are what containers may fill; the lane length
	// is measured level, as the rack type gives it.
	LaneLength, UsableWidth units.Length
	// Clear is the greatest height of a container that passes along the whole lane
	// under everything above, PickClear the free height over the lane surface at
	// the pick edge, up to what crosses the rack's front; 0 where nothing is above.
	Clear, PickClear units.Length
	// RollerPitch is the distance of the rollers on the level's tracks.
	RollerPitch units.Length
	Lanes       []Lane
}

// Surface is the height of the lane surface at y.
func (d Deck) Surface(y units.Length) units.Length {
	return d.PickHeight + length(float64(d.Drop)*float64(y-d.Front)/float64(d.LaneLength))
}

// Back is the Y of the lanes' load edge.
func (d Deck) Back() units.Length { return d.Front + d.LaneLength }

// LoadHeight is the height of the lane surface at the load edge.
func (d Deck) LoadHeight() units.Length { return d.PickHeight + d.Drop }

// Slope is drop over lane length, positive towards the pick side.
func (d Deck) Slope() float64 { return float64(d.Drop) / float64(d.LaneLength) }

// shortest is the planned container that is shortest along its lane, the zero
// Box where none is planned.
func (d Deck) shortest() (box Box) {
	for _, l := range d.Lanes {
		if !l.Box.IsZero() && (box.IsZero() || l.Box.Flow < box.Flow) {
			box = l.Box
		}
	}
	return box
}

// Frame is a rack as it is built: every piece with its place. It is a value;
// build lists and drawings read it.
type Frame struct {
	Type *plant.RackType
	Kit  *plant.Kit
	// Width, Depth and Height are the outside measures as built.
	Width, Depth, Height units.Length
	// Rows are the Y of the uprights' centre lines from the pick side.
	Rows []units.Length
	// Members are ordered: uprights, braces, then level by level cross tubes,
	// rails, tracks, guides, stops.
	Members []Member
	Joints  []Joint
	// Supports are in the order of the uprights.
	Supports []Support
	// Decks are ordered from the lowest.
	Decks []Deck
}

// Deck returns the level with that number, nil where there is none.
func (f *Frame) Deck(level int) *Deck {
	for i := range f.Decks {
		if f.Decks[i].Level == level {
			return &f.Decks[i]
		}
	}
	return nil
}

// Holes are the places along member i, from its From, where other tubes meet
// it: rising, each once.
func (f *Frame) Holes(i int) []units.Length {
	var at []units.Length
	for _, j := range f.Joints {
		if j.On == i {
			at = append(at, j.Along)
		}
	}
	slices.Sort(at)
	return slices.Compact(at)
}

// OwnMass adds up the masses of all pieces and of what joins them; whole is
// false where the kit does not know one.
func (f *Frame) OwnMass() (mass units.Mass, whole bool) {
	whole = true
	add := func(p *plant.KitPart, n int64, l units.Length) {
		m := p.Mass * units.Mass(n)
		if p.MassPerMetre > 0 {
			m += units.Mass(units.R(int64(l), int64(units.Metre)).Mul(p.MassPerMetre.Ratio()).Floor())
		}
		mass += m
		whole = whole && (p.Mass > 0 || p.MassPerMetre > 0)
	}
	for _, m := range f.Members {
		add(m.Part, 1, m.Cut)
	}
	for _, s := range f.Supports {
		if s.Part != nil {
			add(s.Part, 1, 0)
		}
	}
	for i := range f.Kit.Parts {
		if p := &f.Kit.Parts[i]; p.Kind == plant.ConnectorPart || p.Kind == plant.FastenerPart {
			add(p, int64(len(f.Joints)*p.PerJoint), 0)
		}
	}
	return mass, whole
}
