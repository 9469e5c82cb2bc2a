package planner

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/sizing"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// CodeRacksDesigned says for which cells racks were designed, and what came of it.
const CodeRacksDesigned = "racks.designed"

// designRacks designs rack types for the cells that lack lanes or have racks added,
// each for those of its loops that lie there or nowhere, and makes the plan again
// with these types beside the plant's own. The better plan is kept, the first of equal
// ones; r goes on with the facts that it was made from.
func (r *recipe) designRacks(ctx context.Context, used []demand.Loop, first made) (made, finding.List) {
	facts, cells := r.withDesigns(first)
	if len(cells) == 0 || ctx.Err() != nil {
		return first, nil
	}
	x := plant.NewIndex(facts)
	with := *r
	with.index, with.racks = x, structure.Racks(x)
	second := with.make(ctx, used)
	before, after := paced{made: first}.worth(), paced{made: second}.worth()
	if ctx.Err() != nil || after.compare(before) >= 0 {
		return first, finding.List{noteDesigns(cells, "none of them makes a better plan", before, before)}
	}
	*r = with
	return second, finding.List{noteDesigns(cells, "the plan uses them where they serve", before, after)}
}

// withDesigns are the plant's facts with the rack types designed for its cells, each
// allowed in its own cell only. Facts of the plant itself stay as they are.
func (r *recipe) withDesigns(m made) (facts *plant.Plant, cells []string) {
	own := r.index.Plant
	copied := *own
	copied.RackTypes, copied.Cells = slices.Clone(own.RackTypes), slices.Clone(own.Cells)
	var all []plant.RackTypeCode
	for _, t := range own.RackTypes {
		all = append(all, t.RackType)
	}
	for i := range copied.Cells {
		c := &copied.Cells[i]
		if len(c.RackTypes) == 0 {
			c.RackTypes = all
		}
		types := r.designsFor(c, wanting(m, c.Cell))
		if len(types) == 0 {
			continue
		}
		cells = append(cells, string(c.Cell))
		c.RackTypes = slices.Clone(c.RackTypes)
		for _, t := range types {
			copied.RackTypes = append(copied.RackTypes, t)
			c.RackTypes = append(c.RackTypes, t.RackType)
		}
	}
	return &copied, cells
}

// wanting are the loops of a cell that lie on racks to add, or lack lanes.
func wanting(m made, cell plant.CellCode) (loops []sizing.Loop) {
	added, meant := map[plant.RackCode]bool{}, map[demand.Key]bool{}
	for _, k := range m.layout.Racks {
		added[k.Rack] = k.Proposed
	}
	for _, l := range m.layout.Lanes {
		if added[l.Rack] && !l.Empty() {
			meant[l.Loop] = true
		}
	}
	for _, u := range m.layout.Unplaced {
		meant[u.Loop] = true
	}
	for _, l := range m.loops {
		if l.Cell == cell && meant[l.Key] {
			loops = append(loops, l)
		}
	}
	return loops
}

// designsFor designs the racks of a cell for some of its loops: as deep as the
// deepest type the cell allows and no wider than the widest.
func (r *recipe) designsFor(c *plant.Cell, loops []sizing.Loop) []plant.RackType {
	if len(loops) == 0 {
		return nil
	}
	w := structure.DefaultWishes(r.settings.Plant)
	w.Depth = 0
	for _, code := range c.RackTypes {
		if t := r.index.RackTypes[code]; t != nil {
			w.Depth, w.MostWidth = max(w.Depth, t.Depth), max(w.MostWidth, t.Width)
		}
	}
	if w.Depth == 0 {
		w.Depth = structure.DefaultWishes(r.settings.Plant).Depth
	}
	var types []plant.RackType
	d := designFor(r.index, loops, "", w)
	for n, p := range d.Racks {
		p.Type.RackType = plant.RackTypeCode(fmt.Sprintf("%s designed %d", c.Cell, n+1))
		if r.index.RackTypes[p.Type.RackType] == nil {
			p.Type.Cost = r.dearest(p.Type.Width)
			structure.Bear(&p.Type, &d.Kit, w.Limits)
			types = append(types, p.Type)
		}
	}
	return types
}

// dearest is what a rack of a width costs at the price per width of the plant's
// dearest type, for nobody has priced a design; 0 where no type has a cost.
func (r *recipe) dearest(width units.Length) units.Money {
	price := units.Int(0)
	for _, t := range r.index.Plant.RackTypes {
		if t.Cost > 0 && t.Width > 0 {
			price = price.Max(units.R(int64(t.Cost), int64(t.Width)))
		}
	}
	return units.Money(price.Mul(width.Ratio()).Ceil())
}

// noteDesigns says for which cells racks were designed and what they change.
func noteDesigns(cells []string, came string, before, after worth) finding.Finding {
	named := strings.Join(cells[:min(len(cells), 6)], ", ")
	if more := len(cells) - 6; more > 0 {
		named += fmt.Sprintf(" and %d more", more)
	}
	return finding.Finding{
		Severity: finding.Note, Code: CodeRacksDesigned,
		Summary: fmt.Sprintf("Racks were designed for %s: %s", named, came),
		Detail: fmt.Sprintf("Without them %s and added racks cost %.6g (their frontage in millimetres where the plant gives no costs), with them %s and %.6g. A design counts as dear per width as the dearest type of the plant.",
			placedText(before), before.added, placedText(after), after.added),
		Remedy: "Price the designs before anything is bought: rack design lists them with their pieces' limits. Leave design_racks off to keep to the plant's types.",
	}
}
