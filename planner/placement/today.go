package placement

import (
	"cmp"
	"slices"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
)

// todaySpot is a level on which a loop lies today.
type todaySpot struct {
	Spot
	containers, lanes int
	// unknown is true where the sheet does not say how many containers.
	unknown bool
}

// today reads the current layout: for each loop the levels it lies on, by rack
// and level. A row without a station means the first station, by code, that
// uses the part in the rack's cell and that the rack serves (else the first
// that uses it). A part that no loop of the cell uses keeps the station of its
// row.
func today(in Input) map[demand.Key][]todaySpot {
	users := map[demand.Key][]plant.StationCode{} // by part and cell
	for i := range in.Loops {
		k := in.Loops[i].Key
		at := demand.Key{Part: k.Part, Cell: k.Cell}
		users[at] = append(users[at], k.Station)
	}
	for _, list := range users {
		slices.Sort(list)
	}
	spots := map[demand.Key][]todaySpot{}
	for _, l := range in.Index.Plant.Current {
		r := in.Index.Racks[l.Rack]
		if r == nil {
			continue
		}
		k := demand.Key{Part: l.Part, Cell: r.Cell, Station: l.Station}
		if k.Station == "" {
			k.Station = meant(users[demand.Key{Part: l.Part, Cell: r.Cell}], r)
		}
		spots[k] = addSpot(spots[k], l)
	}
	for _, list := range spots {
		slices.SortFunc(list, func(a, b todaySpot) int {
			return cmp.Or(cmp.Compare(a.Rack, b.Rack), cmp.Compare(a.Level, b.Level))
		})
	}
	return spots
}

func meant(stations []plant.StationCode, r *plant.Rack) plant.StationCode {
	for _, s := range stations {
		if len(r.Stations) == 0 || slices.Contains(r.Stations, s) {
			return s
		}
	}
	if len(stations) > 0 {
		return stations[0]
	}
	return ""
}

func addSpot(list []todaySpot, l plant.CurrentLane) []todaySpot {
	i := slices.IndexFunc(list, func(s todaySpot) bool { return s.Rack == l.Rack && s.Level == l.Level })
	if i < 0 {
		list = append(list, todaySpot{Spot: Spot{l.Rack, l.Level, l.Lane}})
		i = len(list) - 1
	}
	s := &list[i]
	s.Lane = min(s.Lane, l.Lane)
	s.containers += l.Containers
	s.lanes++
	s.unknown = s.unknown || l.Containers == 0
	return list
}

// addToday marks the columns on which each loop lies today.
func (c *cell) addToday(spots map[demand.Key][]todaySpot) {
	C := len(c.cols)
	c.home = make([]bool, len(c.loops)*C)
	for i := range c.loops {
		for _, s := range spots[c.key(i)] {
			for col := range c.standingCols {
				if c.bases[c.cols[col].base].rack.Rack == s.Rack && c.cols[col].level.Level.Level == s.Level {
					c.home[i*C+col], c.loops[i].today = true, true
				}
			}
		}
	}
}
