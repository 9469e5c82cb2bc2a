package plant

import (
	"fmt"
	"slices"
	"time"

	"lanewright/planner/finding"
	"lanewright/planner/units"
)

// Codes of findings about parts, containers and their use.
const (
	CodeOverGrossLimit  = "parts.over-gross-limit"
	CodePartNoUsage     = "parts.no-usage"
	CodeFitsNoLane      = "containers.fits-no-lane"
	CodeProductNoUsage  = "products.no-usage"
	CodeOtherCell       = "products.other-cell"
	CodeIntervalTooLong = "usage.interval-too-long"
)

func (c *checker) parts() {
	used := map[PartCode]bool{}
	for _, u := range c.p.Usage {
		used[u.Part] = true
	}
	for _, p := range c.p.Parts {
		c.grossMass(p)
		if !used[p.Part] {
			c.add("Part", finding.Finding{
				Severity: finding.Note, Code: CodePartNoUsage, Origin: p.Origin, Subject: finding.Subject{Part: string(p.Part)},
				Summary: fmt.Sprintf("Part %s is used at no station", p.Part),
				Detail:  "No row of use names it, so it needs no lane and the plan leaves it out.",
				Remedy:  "Add its use, or take the part off the sheet if it is no longer built in.",
			})
		}
	}
}

// grossMass compares a full container of p with what the container may weigh
// (planning rules, section 3).
func (c *checker) grossMass(p Part) {
	k := c.x.Containers[p.Container]
	if k == nil || k.GrossLimit <= 0 || k.Gross(p) <= k.GrossLimit {
		return
	}
	c.add("Standard pack", finding.Finding{
		Severity: finding.Error, Code: CodeOverGrossLimit, Origin: p.Origin,
		Related: []finding.Origin{c.p.At(k.Origin, "Gross mass limit")},
		Subject: finding.Subject{Part: string(p.Part), Container: string(k.Container)},
		Summary: fmt.Sprintf("A full container of part %s weighs %s, container %s may weigh %s", p.Part, k.Gross(p), k.Container, k.GrossLimit),
		Detail:  fmt.Sprintf("%d pieces of %s in a container of %s.", p.Pack, p.PieceMass, k.EmptyMass),
		Remedy:  "Check the piece mass and its unit, lower the standard pack, or choose a container that may weigh more.",
		Measure: &finding.Measure{Value: k.Gross(p).KG(), Limit: k.GrossLimit.KG(), Unit: "kg"},
	})
}

// containers finds those in use that fit no supply level of any rack type,
// whichever side runs along the lane (planning rules, section 3). Where no rack
// type has a level at all, that is said of the rack types.
func (c *checker) containers() {
	inUse := map[ContainerCode]bool{}
	for _, u := range c.p.Usage {
		if p := c.x.Parts[u.Part]; p != nil {
			inUse[p.Container] = true
		}
	}
	if !slices.ContainsFunc(c.p.RackTypes, func(t RackType) bool { return len(t.Levels) > 0 }) {
		return
	}
	for _, k := range c.p.Containers {
		if !inUse[k.Container] || c.fitsSome(k) {
			continue
		}
		c.add("Container", finding.Finding{
			Severity: finding.Warning, Code: CodeFitsNoLane, Origin: k.Origin, Subject: finding.Subject{Container: string(k.Container)},
			Summary: fmt.Sprintf("Container %s (%s x %s x %s) fits on no supply level of any rack type", k.Container, k.Length, k.Width, k.Height),
			Detail:  "Its width with the side clearance, its length along the lane or its height with the hand clearance is too large everywhere, so its loops will stay without a lane.",
			Remedy:  "Check its measures and their unit, or add a rack type with a level it fits on.",
		})
	}
}

func (c *checker) fitsSome(k Container) bool {
	for _, t := range c.p.RackTypes {
		for _, l := range t.Levels {
			if l.Kind == Supply && c.fits(k, l) {
				return true
			}
		}
	}
	return false
}

func (c *checker) fits(k Container, l Level) bool {
	if k.Height+c.p.Settings.HandClearance > l.ClearHeight {
		return false
	}
	for _, side := range k.Sides() {
		along, across := k.Along(side)
		if along <= l.LaneLength && across+2*c.p.Settings.SideClearance <= l.UsableWidth {
			return true
		}
	}
	return false
}

func (c *checker) usage() {
	used := map[ProductCode]bool{}
	for _, u := range c.p.Usage {
		used[u.Product] = true
	}
	for _, p := range c.p.Products {
		if !used[p.Product] {
			c.add("Product", finding.Finding{
				Severity: finding.Note, Code: CodeProductNoUsage, Origin: p.Origin, Subject: finding.Subject{Product: string(p.Product)},
				Summary: fmt.Sprintf("Product %s uses no part", p.Product),
				Detail:  "No row of use names it, so its units per day count nothing.",
				Remedy:  "Add what it uses, or take the product off the sheet.",
			})
		}
	}
	for _, u := range c.p.Usage {
		c.otherCell(u)
		c.longInterval(u)
	}
}

// otherCell: a product limited to one cell uses a part in another.
func (c *checker) otherCell(u Usage) {
	p := c.x.Products[u.Product]
	if u.Product == "" || p == nil || p.Cell == "" || p.Cell == u.Cell {
		return
	}
	c.add("Cell", finding.Finding{
		Severity: finding.Warning, Code: CodeOtherCell, Origin: u.Origin, Related: []finding.Origin{c.p.At(p.Origin, "Cell")}, Subject: usageSubject(u),
		Summary: fmt.Sprintf("Product %s runs in cell %s only, but uses part %s in cell %s", p.Product, p.Cell, u.Part, u.Cell),
		Detail:  "One of the two rows is wrong; the use was counted in the cell of its own row.",
		Remedy:  "Correct the cell of the product or of the use, or leave the product's cell blank.",
	})
}

// longInterval: a refill interval that no shift of the cell can hold once.
func (c *checker) longInterval(u Usage) {
	if u.Interval <= 0 {
		return
	}
	if net, ok := shortest(c.x.CellShifts(u.Cell)); ok && u.Interval > net {
		c.add("Refill interval", intervalFinding(u.Interval, net, u.Origin, usageSubject(u), fmt.Sprintf("Part %s at station %s", u.Part, u.Station)))
	}
}

func intervalFinding(interval, net time.Duration, o finding.Origin, s finding.Subject, name string) finding.Finding {
	return finding.Finding{
		Severity: finding.Warning, Code: CodeIntervalTooLong, Origin: o, Subject: s,
		Summary: fmt.Sprintf("%s: refill interval of %s min, but the shortest shift works %s min", name, units.Minutes(interval), units.Minutes(net)),
		Detail:  "Rounds are counted anew in each shift, so such an interval gives one round a shift at most.",
		Remedy:  "Check the unit of the interval, or choose one that the shift holds at least twice.",
		Measure: &finding.Measure{Value: interval.Minutes(), Limit: net.Minutes(), Unit: "min"},
	}
}

// shortest returns the net time of the shortest shift that works at all.
func shortest(shifts []Shift) (time.Duration, bool) {
	var least time.Duration
	for _, s := range shifts {
		if n := s.Net(); n > 0 && (least == 0 || n < least) {
			least = n
		}
	}
	return least, least > 0
}
