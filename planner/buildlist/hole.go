package buildlist

import (
	"cmp"
	"slices"

	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// Way is the way a bolt goes through a tube.
type Way string

// Ways of bolts.
const (
	// AcrossRack is along the rack's width, AlongLanes from its pick side to its
	// load side.
	AcrossRack Way = "across the rack"
	AlongLanes Way = "along the lanes"
)

// Hole is where other tubes meet a tube.
type Hole struct {
	// At is the distance of its middle from the piece's first end, to 0.1 mm where
	// it is drilled; below 0 it would lie under an upright's bottom.
	At units.Length
	// Number counts the holes that the kit's tubes have, from 1 at the first end; 0
	// is a hole to drill, or a place to clamp where the kit has no bolts.
	Number int
	Way    Way
	// Meets are the marks of the tubes that meet it.
	Meets []string
}

// holesOf are the holes of each member, rising.
func holesOf(f *structure.Frame) [][]Hole {
	list := make([][]Hole, len(f.Members))
	for _, j := range f.Joints {
		h := hole(f, j)
		same := func(o Hole) bool { return o.At == h.At && o.Way == h.Way }
		if at := slices.IndexFunc(list[j.On], same); at >= 0 {
			list[j.On][at].Meets = append(list[j.On][at].Meets, h.Meets...)
			continue
		}
		list[j.On] = append(list[j.On], h)
	}
	for i := range list {
		slices.SortStableFunc(list[i], func(a, b Hole) int { return cmp.Or(cmp.Compare(a.At, b.At), cmp.Compare(a.Way, b.Way)) })
	}
	return list
}

// hole is that of one joint.
func hole(f *structure.Frame, j structure.Joint) Hole {
	tube := f.Members[j.Tube]
	h := Hole{At: nearest(j.Along, finest), Way: AlongLanes, Meets: []string{tube.Mark}}
	if tube.From.Y == tube.To.Y {
		h.Way = AcrossRack
	}
	if on := f.Members[j.On]; on.Role == structure.Upright && j.At.Z < on.From.Z {
		h.At = -h.At
		return h
	}
	if pitch := f.Kit.HolePitch; pitch > 0 {
		n := nearest(j.Along-f.Kit.FirstHole, pitch) / pitch
		h.At, h.Number = f.Kit.FirstHole+n*pitch, int(n)+1
	}
	return h
}

// nearest rounds l, 0 or more, to whole steps.
func nearest(l, step units.Length) units.Length { return (l + step/2) / step * step }

// Crossing reports whether bolts of two ways would meet in the same place of the
// piece: each may then go through one wall only.
func (p Piece) Crossing() bool {
	for i := 1; i < len(p.Holes); i++ {
		if p.Holes[i].At == p.Holes[i-1].At {
			return true
		}
	}
	return false
}
