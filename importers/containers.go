package importers

import (
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

func (r *row) container() plant.Container {
	c := plant.Container{Container: plant.ContainerCode(r.must("Container").code()), Origin: r.origin()}
	c.Description = r.info("Description").text()
	c.Length, c.Width, c.Height = r.must("Length").measure(), r.must("Width").measure(), r.must("Height").measure()
	r.natureOf(&c)
	return c
}

// natureOf reads what a container has beside its code and measures.
func (r *row) natureOf(c *plant.Container) {
	c.EmptyMass = r.may("Empty mass").mass(largestMass)
	c.GrossLimit = r.may("Gross mass limit").limit()
	c.Returnable = r.may("Returnable").yes(true)
	c.FlowSide = choice(r.may("Flow side"), plant.EitherAlong, []string{"length", "long side"}, []string{"width", "short side"}, []string{"either", "both", "any"})
	c.Handles = choice(r.may("Handles"), plant.FairHandles, []string{"good"}, []string{"fair"}, []string{"poor"})
	c.Nests = r.may("Nests").nests()
}

// nests reads a share above 0 and at most 1, as "0.3" or "30 %".
func (s slot) nests() units.Ratio {
	one := units.Int(1)
	if s.blank {
		return one
	}
	return read(s, s.fraction, func(v units.Ratio) bool { return v.Sign() > 0 && v.Cmp(one) <= 0 }, "a share above 0 and at most 1")
}
