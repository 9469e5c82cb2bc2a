package structure

import (
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Bear gives each level of t as its mass limit what its tubes bear by the screening
// when it is loaded evenly, to whole kilograms; none where the kit does not know its
// tubes. Loads in the middle of the width weigh more: Screen judges them where they
// lie.
func Bear(t *plant.RackType, k *plant.Kit, l Limits) {
	const trial = 100 * units.Kilogram
	for i := range t.Levels {
		t.Levels[i].MassLimit = trial
	}
	most := map[int]float64{}
	if f, _ := Build(t, k, nil); f != nil {
		for _, u := range Uses(f, l) {
			if u.Level > 0 && u.Role != Track {
				most[u.Level] = max(most[u.Level], u.Share)
			}
		}
	}
	for i := range t.Levels {
		t.Levels[i].MassLimit = 0
		if share := most[t.Levels[i].Level]; share > 0 {
			t.Levels[i].MassLimit = units.Mass(trial.KG()/share) * units.Kilogram
		}
	}
}
