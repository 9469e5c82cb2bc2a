package importers

import "lanewright/planner/plant"

func (r *row) kit() plant.Kit {
	k := plant.DefaultKit()
	k.Kit = plant.KitCode(r.must("Kit").code())
	k.Description = r.info("Description").text()
	k.CutStep = r.may("Cut step").gap()
	k.Kerf = r.may("Kerf").gap()
	k.HolePitch = r.may("Hole pitch").gap()
	k.FirstHole = r.may("First hole").gap()
	k.HoleDiameter = r.may("Hole diameter").gap()
	k.HoleWalls = choice(r.may("Hole walls"), k.HoleWalls, []string{"sides", "side", "side walls"}, []string{"top", "top and bottom"}, []string{"both", "all"})
	if s := r.may("Rollers under"); !s.blank {
		k.RollersUnder = int(s.whole(1, 100))
	}
	k.SideClearance = r.may("Side clearance").gap()
	if s := r.may("Return slope"); !s.blank {
		k.ReturnSlope = s.share()
	}
	if s := r.may("Centre support"); !s.blank {
		k.CentreSupport = s.gap()
	}
	k.Origin = r.origin()
	return k
}
