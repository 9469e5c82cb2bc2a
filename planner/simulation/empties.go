package simulation

import (
	"lanewright/planner/plant"
	"lanewright/planner/structure"
)

// rackPlan is a rack and the room for empties on it.
type rackPlan struct {
	code plant.RackCode
	// room is the length of its return lanes, in mm; clear the least height above
	// one, 0 where there is none.
	room  float64
	clear float64
}

// layRacks reads the return lanes of every rack.
func (sc *script) layRacks() {
	sc.rackAt = make(map[plant.RackCode]int, len(sc.in.Racks))
	for i := range sc.in.Racks {
		sc.rack(sc.in.Racks[i].Rack)
	}
	for _, lane := range sc.in.Lanes {
		i := sc.rack(lane.Rack)
		if i >= len(sc.in.Racks) || lane.Kind != plant.Return {
			continue
		}
		if level := levelOf(&sc.in.Racks[i], lane.Level); level != nil {
			r := &sc.racks[i]
			r.room += level.LaneLength.MM()
			if c := level.ClearHeight.MM(); r.clear == 0 || c < r.clear {
				r.clear = c
			}
		}
	}
}

// rack returns the place of a rack; one that the plan does not list gets one too.
func (sc *script) rack(code plant.RackCode) int {
	i, ok := sc.rackAt[code]
	if !ok {
		i = len(sc.racks)
		sc.rackAt[code] = i
		sc.racks = append(sc.racks, rackPlan{code: code})
	}
	return i
}

func levelOf(r *structure.Rack, level int) *structure.Level {
	for i := range r.Levels {
		if r.Levels[i].Level.Level == level {
			return &r.Levels[i]
		}
	}
	return nil
}

// empty is an emptied container of a loop on a return lane: its length in mm, its
// height, and the height that another one nested on it adds, 0 where none is.
type empty struct{ along, height, nested float64 }

func newEmpty(box *plant.Container, side plant.FlowSide) empty {
	along, _ := box.Along(side)
	e := empty{along: along.MM(), height: box.Height.MM()}
	if nests := box.Nests.Float64(); nests > 0 && nests < 1 {
		e.nested = nests * e.height
	}
	return e
}

// lying returns the length of return lane that so many empties take when they are
// nested as high as the rack allows.
func (r *rackPlan) lying(e *empty, n int) float64 {
	stack := 1
	for e.nested > 0 && stack < n && e.height+float64(stack)*e.nested <= r.clear {
		stack++
	}
	return float64((n+stack-1)/stack) * e.along
}
