package sizing

import (
	"cmp"
	"math"
	"slices"

	"lanewright/planner/ergonomics"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Limits are what ContainerChoices holds containers against.
type Limits struct {
	// HandMass is the largest gross mass of a container moved by hand, above 0.
	HandMass units.Mass
	// Level is the supply level on which lanes, width and effort are compared.
	Level plant.Level
}

// DefaultLimits holds a container to 15 kg, the reference mass of ISO 11228-1
// for women under 20 or over 45 years of age, the lowest of its three (25 kg men
// of 20 to 45, 20 kg other men and women of 20 to 45; seen in a copy). The 2003
// edition says that it suits 99 % of men and 90 % of women (from memory). It is
// a screening only. The level is the caller's.
func DefaultLimits(level plant.Level) Limits {
	return Limits{HandMass: 15 * units.Kilogram, Level: level}
}

// ContainerChoice is what a loop would be with another container.
type ContainerChoice struct {
	Container plant.ContainerCode
	// Current marks the container that the part has.
	Current bool
	// Pack is the pieces that it would hold: the standard pack of the current
	// one; for others the same pieces per outside volume, rounded down, at least
	// 1, and no more than its gross limit and the hand limit allow. Estimated
	// marks those.
	Pack      int64
	Estimated bool
	Gross     units.Mass
	// Containers is the number by the rule.
	Containers int
	// RefillsPerHour is full containers per net hour.
	RefillsPerHour units.Ratio
	// Lane and TotalWidth are those of the flow side with the least total
	// width on Limits.Level, TotalWidth with the guides between the lanes. It
	// may be wider than the level: a loop may lie on several. Obstacle says
	// whether the current container is too high or too long for the level; its
	// lane is then empty.
	Lane
	TotalWidth units.Length
	Obstacle   Obstacle
	// Effort is what refilling costs per net hour, in kg: the second term of
	// section 5 of the planning rules, containers per hour · gross mass ·
	// (1/VM − 1), with the hands at the load edge plus half the height.
	Effort float64
}

// Exclusion is a container that is no choice, and why.
type Exclusion struct {
	Container plant.ContainerCode
	Reason    ExclusionReason
	// By is the first choice, itself not dominated, that is no worse in width,
	// refills and effort and better in one of them, where Reason is Dominated.
	By plant.ContainerCode
}

// ExclusionReason says why a container is no choice.
type ExclusionReason string

// Reasons for leaving a container out.
const (
	// OnePieceTooHeavy: with a single piece it is over its own gross limit or
	// the hand limit.
	OnePieceTooHeavy ExclusionReason = "mass"
	// OnePieceTooLarge: it has less volume than a piece has in the container of now.
	OnePieceTooLarge ExclusionReason = "volume"
	// HigherThanLevel and LongerThanLevel: it does not fit Limits.Level.
	HigherThanLevel ExclusionReason = "height"
	LongerThanLevel ExclusionReason = "length"
	// Dominated: another choice is no worse in lane width, refills per hour and
	// effort, and better in one of them.
	Dominated ExclusionReason = "dominated"
)

// ContainerChoices returns what l would be with each container of the plant
// that is worth a look, and why the others are not. The current container
// always is, even where it is over a limit, does not fit the level or is
// dominated: it is what the others are compared with. Both lists are by code.
func ContainerChoices(x *plant.Index, l Loop, s plant.Settings, limits Limits) ([]ContainerChoice, []Exclusion) {
	part, now := x.Parts[l.Part], x.Containers[l.Container]
	if part == nil || now == nil {
		return nil, nil
	}
	var list []ContainerChoice
	var out []Exclusion
	for _, box := range containersOf(x) {
		c, reason := choice(l, *part, *now, *box, s, limits)
		if reason != "" && !c.Current {
			out = append(out, Exclusion{Container: box.Container, Reason: reason})
			continue
		}
		list = append(list, c)
	}
	kept, worse := apart(list)
	out = append(out, worse...)
	slices.SortFunc(out, func(a, b Exclusion) int { return cmp.Compare(a.Container, b.Container) })
	return kept, out
}

// apart takes the dominated choices out, the current one excepted.
func apart(list []ContainerChoice) (kept []ContainerChoice, out []Exclusion) {
	dominated := func(c ContainerChoice) bool {
		return slices.ContainsFunc(list, func(o ContainerChoice) bool { return dominates(o, c) })
	}
	for _, c := range list {
		if c.Current || !dominated(c) {
			kept = append(kept, c)
			continue
		}
		by := slices.IndexFunc(list, func(o ContainerChoice) bool { return dominates(o, c) && !dominated(o) })
		out = append(out, Exclusion{c.Container, Dominated, list[by].Container})
	}
	return kept, out
}

// containersOf lists the plant's containers by code, each once.
func containersOf(x *plant.Index) []*plant.Container {
	list := make([]*plant.Container, 0, len(x.Containers))
	for _, c := range x.Containers {
		list = append(list, c)
	}
	slices.SortFunc(list, func(a, b *plant.Container) int { return cmp.Compare(a.Container, b.Container) })
	return list
}

func choice(l Loop, part plant.Part, now, box plant.Container, s plant.Settings, limits Limits) (ContainerChoice, ExclusionReason) {
	c := ContainerChoice{Container: box.Container, Current: box.Container == now.Container, Pack: l.Pack}
	if !c.Current {
		c.Estimated = true
		by, most := scaled(l.Pack, now, box), mostPieces(part, box, limits)
		switch {
		case by < 1:
			return c, OnePieceTooLarge
		case most < 1:
			return c, OnePieceTooHeavy
		}
		c.Pack = min(by, most)
	}
	part.Pack = c.Pack
	c.Gross = box.Gross(part)
	c.Containers = ruled(l.Covered, c.Pack)
	c.RefillsPerHour = l.Rate.Mul(units.Int(60)).Div(units.Int(c.Pack))
	hands := limits.Level.LoadHeight() + box.Height/2
	c.Effort = c.RefillsPerHour.Float64() * c.Gross.KG() * (1/ergonomics.VM(hands) - 1)
	return c.on(box, s, limits.Level)
}

// scaled is the pack of box at as many pieces per outside volume as now holds,
// rounded down; 0 where a piece has more volume now than box has.
func scaled(pack int64, now, box plant.Container) int64 {
	volume := func(c plant.Container) units.Ratio {
		return c.Length.Ratio().Mul(c.Width.Ratio()).Mul(c.Height.Ratio())
	}
	of := volume(now)
	if of.Sign() <= 0 {
		return pack
	}
	return units.Int(pack).Mul(volume(box)).Div(of).Floor()
}

// mostPieces is how many pieces box may hold by its gross limit and the hand
// limit, 0 where it may not hold one.
func mostPieces(part plant.Part, box plant.Container, limits Limits) int64 {
	most := limits.HandMass
	if box.GrossLimit > 0 {
		most = min(most, box.GrossLimit)
	}
	switch left := most - box.EmptyMass; {
	case left < part.PieceMass || left < 0:
		return 0
	case part.PieceMass <= 0:
		return math.MaxInt64
	default:
		return int64(left / part.PieceMass)
	}
}

// on lays the choice on level, on the flow side with the least total width,
// length along where both are equal.
func (c ContainerChoice) on(box plant.Container, s plant.Settings, level plant.Level) (ContainerChoice, ExclusionReason) {
	for _, side := range box.Sides() {
		lying := lie(box, c.Containers, level, s, side)
		switch {
		case lying.Capacity > 0 && (c.Capacity == 0 || lying.TotalWidth < c.TotalWidth):
			c.Lane, c.TotalWidth = lying.Lane, lying.TotalWidth
		case lying.Capacity == 0:
			c.Obstacle = lying.Obstacle
		}
	}
	if c.Capacity > 0 {
		c.Obstacle = Fits
		return c, ""
	}
	if c.Obstacle == TooHigh {
		return c, HigherThanLevel
	}
	return c, LongerThanLevel
}

// dominates reports whether a is no worse than b in lane width, refills and
// effort, and better in one of them. What does not fit dominates nothing.
func dominates(a, b ContainerChoice) bool {
	if a.Obstacle != Fits || b.Obstacle != Fits {
		return false
	}
	refills := a.RefillsPerHour.Cmp(b.RefillsPerHour)
	if a.TotalWidth > b.TotalWidth || refills > 0 || a.Effort > b.Effort {
		return false
	}
	return a.TotalWidth < b.TotalWidth || refills < 0 || a.Effort < b.Effort
}
