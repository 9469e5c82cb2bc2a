package planner

import (
	"lanewright/planner/demand"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
)

// PinsOf tells where the pinned loops of a cell must lie: those of the sheets, as edits
// left them. Level and lane are 0 where any will do; of a loop with several pins the
// first is told.
func (l *Laid) PinsOf(cell plant.CellCode) map[demand.Key]placement.Spot {
	pins := map[demand.Key]placement.Spot{}
	list := l.desk.index.Plant.Pins
	if l.touches(cell) {
		list = l.Pins
	}
	for _, s := range l.by[cell].loops {
		for _, pin := range list {
			if pin.Part == s.Part && (pin.Station == "" || pin.Station == s.Station) && l.cellOf(pin.Rack) == cell {
				pins[s.Key] = placement.Spot{Rack: pin.Rack, Level: pin.Level, Lane: pin.Lane}
				break
			}
		}
	}
	if l.touches(cell) {
		return pins
	}
	for _, e := range l.desk.plan.Held {
		switch e := e.(type) {
		case placement.PinLoop:
			if e.Loop.Cell == cell {
				pins[e.Loop] = e.To
			}
		case placement.UnpinLoop:
			delete(pins, e.Loop)
		}
	}
	return pins
}
