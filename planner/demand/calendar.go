package demand

import (
	"time"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// NetDay returns the net minutes of one working day under shifts: the net
// minutes of a week (overlapping shifts add up) over the weekdays on which any
// shift starts. Shifts count by the wall clock, so a change of clocks changes
// nothing here. It is 0 when nothing is worked.
func NetDay(shifts []plant.Shift) units.Ratio {
	var week time.Duration
	var worked [7]bool
	for _, s := range shifts {
		net := s.Net()
		for d, on := range s.Days {
			if on {
				week += net
				worked[d] = true
			}
		}
	}
	days := int64(0)
	for _, on := range worked {
		if on {
			days++
		}
	}
	if days == 0 {
		return units.Ratio{}
	}
	return units.Minutes(week).Div(units.Int(days))
}
