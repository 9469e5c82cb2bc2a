package structure

import (
	"slices"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Bear gives each level of t as its mass limit what its tubes bear by the screening
// when it is loaded evenly and has the cross tubes that Build gives it for that load,
// to whole kilograms; none where the kit does not know its tubes. Loads in the middle
// of the width weigh more: Screen judges them where they lie.
func Bear(t *plant.RackType, k *plant.Kit, l Limits) {
	const trial = 100 * units.Kilogram
	for i := range t.Levels {
		t.Levels[i].MassLimit = trial
	}
	most := map[int]units.Mass{}
	// by is what the cross tubes bear with fewer of them: then Build takes those.
	by := map[int]units.Mass{}
	open := make([]int, 0, len(t.Levels))
	for i := range t.Levels {
		open = append(open, t.Levels[i].Level)
	}
	for n := units.Length(0); len(open) > 0; n++ {
		more := map[int]units.Length{}
		for _, level := range open {
			more[level] = n
		}
		f, _ := build(t, k, nil, more)
		if f == nil {
			break
		}
		all, cross := f.bears(l, trial)
		for _, level := range open {
			if all[level] > by[level] {
				most[level] = max(most[level], all[level])
			}
			by[level] = max(by[level], cross[level])
		}
		open = slices.DeleteFunc(open, f.tight)
	}
	for i := range t.Levels {
		t.Levels[i].MassLimit = most[t.Levels[i].Level]
	}
}

// bears is what the tubes of each level bear, and what its cross tubes do, where it
// now carries trial: what bends does so in proportion.
func (f *Frame) bears(l Limits, trial units.Mass) (all, cross map[int]units.Mass) {
	all, cross = map[int]units.Mass{}, map[int]units.Mass{}
	least := func(of map[int]units.Mass, u Use) {
		m := units.Mass(trial.KG()/u.Share) * units.Kilogram
		if old, ok := of[u.Level]; !ok || m < old {
			of[u.Level] = m
		}
	}
	for _, u := range Uses(f, l) {
		if u.Level == 0 || u.Role == Track || u.Share <= 0 {
			continue
		}
		least(all, u)
		if u.Role == CrossTube {
			least(cross, u)
		}
	}
	return all, cross
}
