package plant

import "lanewright/planner/units"

// The kits that the program ships, by what they are.
const (
	MetricKit KitCode = "generic steel tube 30 x 30 x 2.5 mm"
	InchKit   KitCode = "generic steel tube 1 1/4 x 1 1/4 x .083 in"
)

// DefaultKit returns a kit with the defaults of the sheet Kits, which are
// common practice, no source.
func DefaultKit() Kit {
	return Kit{
		HoleWalls: HolesSides, RollersUnder: 3, ReturnSlope: units.R(1, 24), CentreSupport: 6 * units.Foot,
	}
}

// ShippedKits are two generic kits for racks whose type names none. Their
// measures and masses are our own; prices are 0, for the program knows none.
// Steel is taken at a yield stress of 235 MPa and 32 ksi and a modulus of
// 200 GPa: from memory, what is bought decides.
func ShippedKits() []Kit {
	return []Kit{metricKit(), inchKit()}
}

// ShippedKit returns the shipped kit whose measures are those of the plant's
// unit of length.
func ShippedKit(lengthUnit string) Kit {
	switch lengthUnit {
	case "in", "ft", "yd":
		return inchKit()
	}
	return metricKit()
}

func metricKit() Kit {
	const mm, g = units.Millimetre, units.Gram
	k := DefaultKit()
	k.Kit, k.Description = MetricKit, "Square tube in decimal millimetres, clamped and bolted through its sides"
	k.CutStep, k.Kerf, k.HoleDiameter, k.SideClearance = mm, 3*mm, 65*mm/10, 8*mm
	k.Parts = []KitPart{
		{Part: "tube 30 x 30 x 2.5", Kind: TubePart, Shape: RectangularTube, Width: 30 * mm, Height: 30 * mm, Wall: 25 * mm / 10, CornerRadius: 5 * mm,
			StockLengths: []units.Length{3000 * mm, 6000 * mm}, MassPerMetre: 2030 * g, Material: "steel", Yield: 235 * units.Megapascal, Modulus: 200 * units.Gigapascal},
		{Part: "roller track 33", Kind: RollerPart, Width: 30 * mm, Height: 20 * mm, Pitch: 33 * mm,
			StockLengths: []units.Length{3000 * mm}, MassPerMetre: 950 * g, Material: "steel and plastic", MassLimit: 4 * units.Kilogram},
		{Part: "guide 10 x 30", Kind: GuidePart, Width: 10 * mm, Height: 30 * mm, StockLengths: []units.Length{2000 * mm, 3000 * mm}, MassPerMetre: 300 * g, Material: "plastic"},
		{Part: "stop 50", Kind: StopPart, Width: 5 * mm, Height: 50 * mm, Mass: 90 * g, Material: "steel"},
		{Part: "corner connector", Kind: ConnectorPart, Mass: 110 * g, PerJoint: 1, Material: "steel"},
		{Part: "bolt M6 x 45 with nut", Kind: FastenerPart, Mass: 14 * g, PerJoint: 2, Material: "steel"},
		{Part: "levelling foot 60", Kind: FootPart, Height: 60 * mm, Mass: 180 * g, MassLimit: 400 * units.Kilogram},
		{Part: "caster 100 with brake", Kind: CasterPart, Height: 130 * mm, Mass: 900 * g, MassLimit: 100 * units.Kilogram},
	}
	return k
}

func inchKit() Kit {
	const in, oz = units.Inch, units.Pound / 16
	k := DefaultKit()
	k.Kit, k.Description = InchKit, "Square tube in decimal inches, clamped and bolted through its sides"
	k.CutStep, k.Kerf, k.HoleDiameter, k.SideClearance = in/16, in/8, in/4, in/4
	k.Parts = []KitPart{
		{Part: "tube 1 1/4 x 1 1/4 x .083", Kind: TubePart, Shape: RectangularTube, Width: in * 5 / 4, Height: in * 5 / 4, Wall: in * 83 / 1000, CornerRadius: in * 166 / 1000,
			StockLengths: []units.Length{120 * in, 240 * in}, MassPerMetre: 1870 * units.Gram, Material: "steel", Yield: 220_632_233 * units.Pascal, Modulus: 200 * units.Gigapascal},
		{Part: "roller track 1.3", Kind: RollerPart, Width: in * 5 / 4, Height: in * 3 / 4, Pitch: in * 13 / 10,
			StockLengths: []units.Length{120 * in}, MassPerMetre: 950 * units.Gram, Material: "steel and plastic", MassLimit: 9 * units.Pound},
		{Part: "guide 1/4 x 1 1/4", Kind: GuidePart, Width: in / 4, Height: in * 5 / 4, StockLengths: []units.Length{96 * in, 120 * in}, MassPerMetre: 300 * units.Gram, Material: "plastic"},
		{Part: "stop 2", Kind: StopPart, Width: in * 3 / 16, Height: 2 * in, Mass: 3 * oz, Material: "steel"},
		{Part: "corner connector", Kind: ConnectorPart, Mass: 4 * oz, PerJoint: 1, Material: "steel"},
		{Part: "bolt 1/4 x 1 3/4 with nut", Kind: FastenerPart, Mass: oz / 2, PerJoint: 2, Material: "steel"},
		{Part: "levelling foot 2 3/8", Kind: FootPart, Height: in * 19 / 8, Mass: 6 * oz, MassLimit: 880 * units.Pound},
		{Part: "caster 4 with brake", Kind: CasterPart, Height: in * 41 / 8, Mass: 2 * units.Pound, MassLimit: 220 * units.Pound},
	}
	return k
}
