package importers

import (
	"fmt"
	"slices"
	"strings"

	"lanewright/importers/column"
	"lanewright/importers/value"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// kitPartRow is a part and the kit it belongs to.
type kitPartRow struct {
	kit  plant.KitCode
	part plant.KitPart
}

func (r *row) kitPart() kitPartRow {
	p := plant.KitPart{
		Part: plant.KitPartCode(r.must("Part").code()), Kind: r.must("Kind").partKind(),
		Description: r.info("Description").text(), Uses: r.may("Uses").tubeUses(),
		Shape: choice(r.may("Shape"), plant.TubeShape(""), []string{"rectangular", "square", "rectangle"}, []string{"round", "circular"}),
		Width: r.may("Width").gap(), Height: r.may("Height").gap(), Wall: r.may("Wall").gap(), CornerRadius: r.may("Corner radius").gap(),
		StockLengths: r.may("Stock lengths").lengths(), Pitch: r.may("Pitch").gap(),
		Mass: r.may("Mass").mass(largestPiece), MassPerMetre: perMetre(r, "Mass", func(s slot) units.Mass { return s.mass(largestPiece) }),
		Price: r.may("Price").money(), PricePerMetre: perMetre(r, "Price", slot.money),
		Material: r.info("Material").text(), Yield: r.may("Yield stress").stress(), Modulus: r.may("Elastic modulus").stress(),
		MassLimit: r.may("Mass limit").limit(), PerJoint: int(r.may("Per joint").whole(0, 1000)), Origin: r.origin(),
	}
	if p.Kind == plant.TubePart && p.Shape == "" {
		p.Shape = plant.RectangularTube
	}
	if p.Shape == plant.RoundTube {
		p.Width, p.Height = max(p.Width, p.Height), max(p.Width, p.Height)
	}
	return kitPartRow{plant.KitCode(r.must("Kit").code()), p}
}

// perMetre reads what a length of a part weighs or costs, per metre or per foot.
func perMetre[T ~int64](r *row, what string, amount func(slot) T) T {
	foot := r.may(what + " per foot")
	if foot.blank {
		return amount(r.may(what + " per metre"))
	}
	perFoot := units.Int(int64(amount(foot)))
	return T(perFoot.Mul(units.R(int64(units.Metre), int64(units.Foot))).Add(units.R(1, 2)).Floor())
}

func (s slot) partKind() plant.PartKind {
	return choice(s, plant.PartKind(""), []string{"tube", "tubes", "pipe", "profile"}, []string{"roller", "rollers", "roller track", "track"},
		[]string{"guide", "guides", "lane guide"}, []string{"stop", "end stop", "stops"}, []string{"connector", "joint", "clamp"},
		[]string{"fastener", "bolt", "screw", "fasteners"}, []string{"foot", "feet", "levelling foot", "leveling foot"}, []string{"caster", "castor", "wheel", "casters"})
}

// tubeUses reads "upright, rail".
func (s slot) tubeUses() []plant.TubeUse {
	return read(s, func() ([]plant.TubeUse, error) {
		var list []plant.TubeUse
		for _, text := range s.codes() {
			i := slices.IndexFunc(plant.TubeUses(), func(u plant.TubeUse) bool { return column.Fold(string(u)) == column.Fold(text) })
			if i < 0 {
				return nil, value.Problem{Expected: "some of upright, cross tube, rail and brace with commas between them", Remedy: "Use these words, or leave the cell blank for all.", Found: s.cell.Text}
			}
			list = append(list, plant.TubeUses()[i])
		}
		slices.Sort(list)
		return slices.Compact(list), nil
	}, anything[[]plant.TubeUse], "")
}

// gap is a length of 0 or more.
func (s slot) gap() units.Length {
	return s.length(0, largestMeasure, "a length from 0 to 100 m")
}

// lengths is a list of lengths above 0, returned rising, each once.
func (s slot) lengths() []units.Length {
	return read(s, func() ([]units.Length, error) {
		items, marks, ok := splitNumbers(s.cell.Text, s.row.t.marks)
		if !ok {
			return nil, value.Problem{Expected: "a space behind each comma that parts two lengths; here " + doubtfulCommas, Remedy: "Write the lengths with a comma and a space between them.", Found: s.cell.Text}
		}
		var list []units.Length
		for _, item := range items {
			one := s.cell
			if len(items) > 1 {
				one.Text, one.Raw, one.Number = item, "", false
			}
			l, err := value.Length(one, s.unit, s.lengthBase(), marks)
			if err != nil || l <= 0 || l > largestMeasure {
				return nil, value.Problem{Expected: fmt.Sprintf("a length above 0 instead of %q", strings.TrimSpace(item)) + detail(err), Remedy: "Write the lengths with a comma and a space between them.", Found: s.cell.Text}
			}
			list = append(list, l)
		}
		slices.Sort(list)
		return slices.Compact(list), nil
	}, anything[[]units.Length], "")
}
