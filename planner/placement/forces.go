package placement

import (
	"lanewright/planner/ergonomics"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// forces are what a loop moves per net hour.
type forces struct {
	// picked and loaded are kg per hour; walked kg per metre of distance.
	picked, loaded, walked float64
	half                   units.Length
}

func newForces(l *loop, walk float64) forces {
	pieces := l.Rate.Float64() * 60
	return forces{
		picked: pieces * l.part.PieceMass.KG(),
		loaded: pieces / float64(max(l.Pack, 1)) * l.Gross.KG(),
		walked: pieces * 2 * walk,
		half:   l.box.Height / 2,
	}
}

// at returns the effort on a level at that distance in metres: the vertical
// multiplier of the NIOSH equation at the height of the hands makes the mass
// moved heavier, and each pick costs a walk there and back.
func (f forces) at(l plant.Level, distance float64) float64 {
	return f.picked*(1/ergonomics.VM(l.PickHeight+f.half)-1) +
		f.loaded*(1/ergonomics.VM(l.LoadHeight()+f.half)-1) +
		f.walked*distance
}
