package plant

import (
	"slices"

	"lanewright/planner/finding"
	"lanewright/planner/units"
)

type (
	// KitCode names a parts kit.
	KitCode string
	// KitPartCode names a part of a kit; it is unique within its kit only.
	KitPartCode string
)

// Kit is what a plant builds its racks from: tubes, rollers, guides, stops,
// connectors, fasteners, feet, and how they are cut and joined.
type Kit struct {
	Kit         KitCode
	Description string
	// CutStep: tubes are cut to whole multiples of it; 0 is any length. Kerf is
	// lost at each cut.
	CutStep, Kerf units.Length
	// HolePitch is the distance of the holes along the tubes, FirstHole that of a
	// tube's end to its first one; a pitch of 0 is no holes but those drilled
	// where two tubes meet.
	HolePitch, FirstHole units.Length
	// HoleDiameter is what bolts take off a tube where tubes meet; 0 is clamped,
	// not bolted.
	HoleDiameter units.Length
	HoleWalls    HoleWalls
	// RollersUnder is the least number of rollers under the shortest container.
	RollersUnder int
	// SideClearance is the least on each side of a container in its lane.
	SideClearance units.Length
	// ReturnSlope is the slope of return levels that the planner designs: drop
	// over lane length, above 0.
	ReturnSlope units.Ratio
	// CentreSupport is the lane length from which the frame has uprights between
	// its ends.
	CentreSupport units.Length
	// Parts are ordered by code; where several serve, the first one does.
	Parts  []KitPart
	Origin finding.Origin
}

// HoleWalls says through which walls of a level's tubes the bolts go.
type HoleWalls string

// Walls that bolts go through. A hole through top and bottom takes about a
// quarter of a thin square tube's stiffness, one through the sides about 1 %.
const (
	HolesSides HoleWalls = "sides"
	HolesTop   HoleWalls = "top"
	HolesBoth  HoleWalls = "both"
)

// KitPart is one part of a kit.
type KitPart struct {
	Part        KitPartCode
	Kind        PartKind
	Description string
	// Uses says which tubes of a rack a tube serves as; empty is all.
	Uses  []TubeUse
	Shape TubeShape
	// Width and Height are outside measures: of a tube's section, of a guide's
	// or of a roller track's, of a stop's (its thickness along the lane and its
	// height above the lane surface). Height is the building height of a foot or
	// caster. A round tube has its diameter in both.
	Width, Height units.Length
	// Wall is a decimal thickness, never a number of a series; CornerRadius is
	// the outside one.
	Wall, CornerRadius units.Length
	// StockLengths are the lengths in which the part is bought, rising; empty for
	// what is bought by the piece.
	StockLengths []units.Length
	// Pitch is the distance of the rollers on their track.
	Pitch units.Length
	// Mass and Price are of one piece, MassPerMetre and PricePerMetre of what is
	// bought in lengths; 0 is not known.
	Mass, MassPerMetre   units.Mass
	Price, PricePerMetre units.Money
	Material             string
	// Yield and Modulus of a tube; 0 is not known, and its strength not screened.
	Yield, Modulus units.Stress
	// MassLimit is the maker's: of one roller, foot or caster; 0 is not known.
	MassLimit units.Mass
	// PerJoint is how many of a connector or fastener a joint of two tubes takes.
	PerJoint int
	Origin   finding.Origin
}

// PartKind says what a part of a kit is.
type PartKind string

// Kinds of part.
const (
	TubePart      PartKind = "tube"
	RollerPart    PartKind = "roller"
	GuidePart     PartKind = "guide"
	StopPart      PartKind = "stop"
	ConnectorPart PartKind = "connector"
	FastenerPart  PartKind = "fastener"
	FootPart      PartKind = "foot"
	CasterPart    PartKind = "caster"
)

// PartKinds lists the kinds of part.
func PartKinds() []PartKind {
	return []PartKind{TubePart, RollerPart, GuidePart, StopPart, ConnectorPart, FastenerPart, FootPart, CasterPart}
}

// TubeUse says where in a rack a tube stands.
type TubeUse string

// Uses of tubes.
const (
	AsUpright   TubeUse = "upright"
	AsCrossTube TubeUse = "cross tube"
	AsRail      TubeUse = "rail"
	AsBrace     TubeUse = "brace"
)

// TubeUses lists the uses of tubes.
func TubeUses() []TubeUse { return []TubeUse{AsUpright, AsCrossTube, AsRail, AsBrace} }

// TubeShape is the shape of a tube's section.
type TubeShape string

// Shapes of section.
const (
	RectangularTube TubeShape = "rectangular"
	RoundTube       TubeShape = "round"
)

// Of returns the first part of a kind, nil where the kit has none.
func (k *Kit) Of(kind PartKind) *KitPart {
	for i := range k.Parts {
		if k.Parts[i].Kind == kind {
			return &k.Parts[i]
		}
	}
	return nil
}

// Tube returns the first tube that is named for a use, else the first that
// serves as all; nil where the kit has none.
func (k *Kit) Tube(use TubeUse) *KitPart {
	var any *KitPart
	for i := range k.Parts {
		p := &k.Parts[i]
		if p.Kind != TubePart {
			continue
		}
		if slices.Contains(p.Uses, use) {
			return p
		}
		if any == nil && len(p.Uses) == 0 {
			any = p
		}
	}
	return any
}

// KitOf returns the kit that a rack type is built from: the one it names, a
// shipped one of that name, else the shipped one in the plant's unit of length.
func (x *Index) KitOf(t *RackType) *Kit {
	if k := x.Kits[t.Kit]; k != nil {
		return k
	}
	for _, k := range ShippedKits() {
		if k.Kit == t.Kit {
			return &k
		}
	}
	k := ShippedKit(x.Plant.Settings.LengthUnit)
	return &k
}

// Longest returns the longest stock length, 0 where none is given.
func (p *KitPart) Longest() units.Length {
	var longest units.Length
	for _, l := range p.StockLengths {
		longest = max(longest, l)
	}
	return longest
}
