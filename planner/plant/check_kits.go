package plant

import (
	"fmt"

	"lanewright/planner/finding"
)

// Codes of findings about kits and their parts.
const (
	CodeUnknownKit = "rack-types.unknown-kit"
	CodeKitNoTube  = "kits.no-tube"
	CodeWall       = "kit-parts.wall"
	CodeNoStock    = "kit-parts.no-stock-length"
)

// kits asks whether racks can be built from the plant's kits. A plant that has
// none names its kits for itself, and nothing is asked.
func (c *checker) kits() {
	for i := range c.p.Kits {
		k := &c.p.Kits[i]
		if k.Of(TubePart) == nil {
			c.add("Kit", finding.Finding{
				Severity: finding.Warning, Code: CodeKitNoTube, Origin: k.Origin,
				Summary: fmt.Sprintf("Kit %s has no tube", k.Kit),
				Detail:  "Uprights, cross tubes and rails of a rack are tubes.",
				Remedy:  "Add its tubes to the sheet Kit parts, one row for each section.",
			})
		}
		for j := range k.Parts {
			c.kitPart(k, &k.Parts[j])
		}
	}
	if len(c.p.Kits) == 0 {
		return
	}
	for i := range c.p.RackTypes {
		t := &c.p.RackTypes[i]
		if k := c.x.KitOf(t); t.Kit != "" && k.Kit != t.Kit {
			c.add("Kit", finding.Finding{
				Severity: finding.Warning, Code: CodeUnknownKit, Origin: t.Origin, Subject: finding.Subject{RackType: string(t.RackType)},
				Summary: fmt.Sprintf("Rack type %s names the kit %s, which is not there", t.RackType, t.Kit),
				Detail:  fmt.Sprintf("Its build list and its screening use the program's own kit, %s.", k.Kit),
				Remedy:  "Correct the name, or add the kit to the sheets Kits and Kit parts.",
			})
		}
	}
}

// kitPart asks whether a tube has a hollow section and can be bought.
func (c *checker) kitPart(k *Kit, p *KitPart) {
	if p.Kind != TubePart {
		return
	}
	name := fmt.Sprintf("Tube %s of kit %s", p.Part, k.Kit)
	if side := min(p.Width, p.Height); p.Wall <= 0 || 2*p.Wall >= side || 2*p.CornerRadius > side {
		c.add("Wall", finding.Finding{
			Severity: finding.Error, Code: CodeWall, Origin: p.Origin, Related: origins(k.Origin),
			Summary: fmt.Sprintf("%s is %s by %s with a wall of %s and corners of %s", name, p.Width, p.Height, p.Wall, p.CornerRadius),
			Detail:  "A tube is hollow: its wall is above 0 and less than half of its smaller side, its corner radius at most half of it. Its strength follows from them.",
			Remedy:  "Give the wall as a decimal measure, not as the number of a series, and check its unit.",
			Measure: millimetres(2*p.Wall, side),
		})
	}
	if len(p.StockLengths) == 0 {
		c.add("Stock lengths", finding.Finding{
			Severity: finding.Warning, Code: CodeNoStock, Origin: p.Origin, Related: origins(k.Origin),
			Summary: name + " has no stock length",
			Detail:  "Without the lengths in which it is bought no cut list can be made and no tube be called too long.",
			Remedy:  "List the lengths, with commas between them.",
		})
	}
}

// measuresOfKits asserts what the types promise.
func (c *checker) measuresOfKits() {
	for _, k := range c.p.Kits {
		c.promise(k.Origin, finding.Subject{}, "Kit "+string(k.Kit),
			must{min(k.CutStep, k.Kerf, k.HolePitch, k.FirstHole, k.HoleDiameter, k.SideClearance, k.CentreSupport) >= 0, "lengths", "0 or more"},
			must{k.HoleWalls == HolesSides || k.HoleWalls == HolesTop || k.HoleWalls == HolesBoth, "hole walls", "sides, top or both"},
			must{k.RollersUnder >= 1, "rollers under a container", "1 or more"},
			must{k.ReturnSlope.Sign() > 0, "return slope", "above 0 %"})
		for _, p := range k.Parts {
			c.promise(p.Origin, finding.Subject{}, fmt.Sprintf("Part %s of kit %s", p.Part, k.Kit),
				must{min(p.Width, p.Height, p.Wall, p.CornerRadius, p.Pitch) >= 0, "measures", "0 or more"},
				must{min(p.Mass, p.MassPerMetre, p.MassLimit) >= 0, "mass", "0 or more"},
				must{min(p.Price, p.PricePerMetre) >= 0 && min(p.Yield, p.Modulus) >= 0 && p.PerJoint >= 0, "price, stress and count", "0 or more"})
			for _, l := range p.StockLengths {
				c.promise(p.Origin, finding.Subject{}, fmt.Sprintf("Part %s of kit %s", p.Part, k.Kit), must{l > 0, "stock length", "above 0"})
			}
		}
	}
}
