package plant

import (
	"time"

	"lanewright/planner/finding"
	"lanewright/planner/units"
)

// Part is what is used, with the container and pack it comes in.
type Part struct {
	Part        PartCode
	Description string
	// PieceMass is 0 where the sheet gives none.
	PieceMass units.Mass
	Container ContainerCode
	// Pack is the standard pack: pieces per full container, 1 or more.
	Pack          int64
	MarketAddress string
	UnitCost      units.Money
	// TwoHands is true when a piece is picked with two hands.
	TwoHands bool
	// KeepApart is a group code: parts of one group never lie in neighbouring
	// lanes. Empty is no group.
	KeepApart string
	// LookAlike is a part that must not lie in a neighbouring lane either; the
	// rule holds both ways and is not handed on.
	LookAlike PartCode
	Origin    finding.Origin
}

// FlowSide says which side of a container runs along the lane.
type FlowSide string

// Flow sides. Either is an allowance of a container, never a decision.
const (
	LengthAlong FlowSide = "length"
	WidthAlong  FlowSide = "width"
	EitherAlong FlowSide = "either"
)

// Handles are the couplings of the Revised NIOSH Lifting Equation.
type Handles string

// Couplings.
const (
	GoodHandles Handles = "good"
	FairHandles Handles = "fair"
	PoorHandles Handles = "poor"
)

// Container is what parts lie in: bin, tote, carton, small load carrier.
type Container struct {
	Container   ContainerCode
	Description string
	// Length, Width and Height are outside measures, all above 0.
	Length, Width, Height units.Length
	EmptyMass             units.Mass
	// GrossLimit is the largest gross mass; 0 is no limit.
	GrossLimit units.Mass
	Returnable bool
	FlowSide   FlowSide
	Handles    Handles
	// Nests is the height an empty adds when nested, as a share of its full
	// height: 0 < n <= 1, 1 means that it does not nest.
	Nests  units.Ratio
	Origin finding.Origin
}

// Along returns the measure of c that runs along the lane and the one across
// when side runs along it.
func (c Container) Along(side FlowSide) (along, across units.Length) {
	if side == WidthAlong {
		return c.Width, c.Length
	}
	return c.Length, c.Width
}

// Sides returns the flow sides that c allows, length first.
func (c Container) Sides() []FlowSide {
	switch c.FlowSide {
	case LengthAlong:
		return []FlowSide{LengthAlong}
	case WidthAlong:
		return []FlowSide{WidthAlong}
	default:
		if c.Length == c.Width {
			return []FlowSide{LengthAlong}
		}
		return []FlowSide{LengthAlong, WidthAlong}
	}
}

// Gross returns the gross mass of a full container of p.
func (c Container) Gross(p Part) units.Mass {
	return c.EmptyMass + units.Mass(p.Pack)*p.PieceMass
}

// Product is what the plant builds.
type Product struct {
	Product     ProductCode
	Description string
	// UnitsPerDay is the demand per working day, 0 or more.
	UnitsPerDay units.Ratio
	// Variation is the coefficient of variation of daily demand, 0 or more.
	Variation units.Ratio
	// Cell is set when the product runs in one cell only.
	Cell   CellCode
	Origin finding.Origin
}

// DemandModel says how the use over a refill cycle is taken to vary.
type DemandModel string

// Demand models. DefaultModel leaves the choice to the rule: steady when the
// variation is 0, else normal. Fixed marks a loop whose containers the sheet
// gives; it is a result, never an input.
const (
	DefaultModel DemandModel = ""
	SteadyModel  DemandModel = "steady"
	NormalModel  DemandModel = "normal"
	PoissonModel DemandModel = "poisson"
	// NegativeBinomialModel is for use that varies more than Poisson use does:
	// its variance is above its mean.
	NegativeBinomialModel DemandModel = "negative-binomial"
	EmpiricalModel        DemandModel = "empirical"
	FixedModel            DemandModel = "fixed"
)

// Usage is one row of use of a part at a station: by a product, or as a rate
// of its own.
type Usage struct {
	// Product is empty for a direct row.
	Product ProductCode
	Part    PartCode
	Cell    CellCode
	Station StationCode
	// PerUnit is pieces per unit of the product, 0 or more (product rows).
	PerUnit units.Ratio
	// PerHour is pieces per net hour (direct rows). PerDay replaces it where a
	// flat table gives pieces per day: then PerHour is 0 and PerDay is not.
	PerHour, PerDay units.Ratio
	// Variation is the coefficient of variation of the daily use of a direct
	// row.
	Variation units.Ratio
	// Scrap is the share of pieces used in addition, 0 or more.
	Scrap units.Ratio
	// Interval, Response, ServiceLevel are 0 and Safety is nil where the row
	// gives none; Containers is 0 where the rule decides.
	Interval, Response time.Duration
	ServiceLevel       units.Ratio
	Safety             *units.Ratio
	Model              DemandModel
	Containers         int
	Origin             finding.Origin
}

// History is what was built (Product) or used (Part) on one day.
type History struct {
	Product ProductCode
	Part    PartCode
	// Date is the day at midnight UTC.
	Date   time.Time
	Units  units.Ratio
	Origin finding.Origin
}
