package placement

import "lanewright/planner/plant"

// Efforts returns the effort of each lane of a layout, in the order of l.Lanes, in kg
// per net hour: the effort of its loop by the share of the loop's containers that
// lie in it. Free lanes and return lanes have 0. The sum over a cell is the effort
// of its Bound.
func Efforts(in Input, s Settings, l Layout) []float64 {
	cells := map[plant.CellCode]bool{}
	for i := range in.Index.Plant.Cells {
		cells[in.Index.Plant.Cells[i].Cell] = true
	}
	b := newBoard(in, s, l, cells)
	list := make([]float64, len(l.Lanes))
	for i, lane := range l.Lanes {
		r := b.tier(Spot{Rack: lane.Rack, Level: lane.Level})
		if r == nil || b.loops[lane.Loop] == nil {
			continue
		}
		list[i] = b.effortOn(berth{loop: lane.Loop, n: lane.Containers}, r)
	}
	return list
}
