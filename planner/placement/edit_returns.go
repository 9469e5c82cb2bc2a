package placement

import (
	"time"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// ReturnLength is the length of return lane that a rack's empties need between two
// visits, at the plant's service level, and what its return lanes can take.
type ReturnLength struct{ Need, Have units.Length }

// ReturnLengths measures some racks as Empties does.
func ReturnLengths(in Input, l Layout, visits map[plant.RackCode]time.Duration, racks map[plant.RackCode]bool) map[plant.RackCode]ReturnLength {
	loops, placed := byKey(in.Loops), map[demand.Key]int{}
	on := map[plant.RackCode][]Lane{}
	for _, lane := range l.Lanes {
		placed[lane.Loop] += lane.Containers
		if racks[lane.Rack] {
			on[lane.Rack] = append(on[lane.Rack], lane)
		}
	}
	list := map[plant.RackCode]ReturnLength{}
	for i := range l.Racks {
		r := &l.Racks[i]
		if !racks[r.Rack] {
			continue
		}
		c := collector{rack: r, loops: loops, placed: placed, index: in.Index, level: min(1, in.Plant.ServiceLevel.Float64()), every: visits[r.Rack]}
		c.gather(on[r.Rack])
		if c.back > 0 {
			list[r.Rack] = ReturnLength{Need: units.Length(needed(c.kinds, c.every.Minutes(), c.level)), Have: units.Length(c.have)}
		}
	}
	return list
}
