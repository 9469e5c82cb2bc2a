package planner

import (
	"cmp"
	"slices"

	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/sizing"
	"lanewright/planner/structure"
)

// RackDesigns are racks made for the loops of one cell.
type RackDesigns struct {
	Kit   plant.Kit
	Racks []structure.Proposal
	// Loops are the cell's by station and part; Holds of a rack count them.
	Loops    []sizing.Loop
	Findings finding.List
	// All says that every loop has its place.
	All bool
}

// DesignRacks makes rack types for all loops of a cell, in the order of their
// stations, out of a kit: the one named, else the plant's first by code, else
// the shipped one. The return level takes the highest container that comes back;
// without one there is none.
func DesignRacks(in Input, s Settings, cell plant.CellCode, kit plant.KitCode, w structure.Wishes) RackDesigns {
	x := plant.NewIndex(in.Plant)
	used, _ := demand.Loops(x, s.Plant)
	used = slices.DeleteFunc(used, func(l demand.Loop) bool { return l.Cell != cell })
	loops, _ := sizing.Size(x, used)
	return designFor(x, loops, kit, w)
}

// designFor makes rack types for loops, in the order of their stations.
func designFor(x *plant.Index, loops []sizing.Loop, kit plant.KitCode, w structure.Wishes) RackDesigns {
	slices.SortFunc(loops, func(a, b sizing.Loop) int { return a.Compare(b.Key) })
	d := RackDesigns{Kit: *kitOf(x, kit), Loops: loops}
	w.ReturnHeight = 0
	needs := make([]structure.Need, len(loops))
	for i, l := range loops {
		c := x.Containers[l.Container]
		needs[i] = need(x.Parts[l.Part], c, l)
		if c.Returnable {
			w.ReturnHeight = max(w.ReturnHeight, c.Height)
		}
	}
	if w.ReturnHeight == 0 {
		w.Return = structure.NoReturn
	}
	d.Racks, d.Findings, d.All = structure.DesignRacks(needs, &d.Kit, w)
	return d
}

// kitOf is the kit of that code, else the plant's first by code, else the shipped
// one.
func kitOf(x *plant.Index, code plant.KitCode) *plant.Kit {
	kits := slices.Clone(x.Plant.Kits)
	slices.SortFunc(kits, func(a, b plant.Kit) int { return cmp.Compare(a.Kit, b.Kit) })
	if code == "" && len(kits) > 0 {
		code = kits[0].Kit
	}
	return x.KitOf(&plant.RackType{Kit: code})
}

// need is what a loop asks of a rack.
func need(p *plant.Part, c *plant.Container, l sizing.Loop) structure.Need {
	along := structure.Box{Container: c.Container, Flow: c.Length, Across: c.Width, Height: c.Height, Gross: l.Gross}
	turned := along
	turned.Flow, turned.Across = along.Across, along.Flow
	pieces := l.Rate.Float64() * 60
	n := structure.Need{Containers: l.Containers, Picked: pieces * p.PieceMass.KG(), Loaded: pieces / float64(max(p.Pack, 1)) * l.Gross.KG()}
	if c.FlowSide != plant.WidthAlong {
		n.Ways = append(n.Ways, along)
	}
	if c.FlowSide != plant.LengthAlong {
		n.Ways = append(n.Ways, turned)
	}
	return n
}
