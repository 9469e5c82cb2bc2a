package structure

import (
	"cmp"
	"slices"

	"lanewright/planner/floor"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Racks resolves the racks that stand in the plant, ordered by code. A rack
// whose type is unknown is left out: plant.Check has reported it. Where a code
// stands twice the first row counts.
func Racks(x *plant.Index) []Rack {
	stations := cellStations(x)
	racks := make([]Rack, 0, len(x.Plant.Racks))
	for i := range x.Plant.Racks {
		r := &x.Plant.Racks[i]
		t := x.RackTypes[r.RackType]
		if t == nil || x.Racks[r.Rack] != r {
			continue
		}
		rack := Rack{Rack: r.Rack, Type: t, Cell: r.Cell, Point: r.AislePoint, Stations: stations[r.Cell]}
		if len(r.Stations) > 0 {
			rack.Stations = slices.Compact(slices.Sorted(slices.Values(r.Stations)))
		}
		rack.stand(x, r.Place)
		rack.Levels = levels(t, r.FixedLanes)
		racks = append(racks, rack)
	}
	slices.SortFunc(racks, func(a, b Rack) int { return cmp.Compare(a.Rack, b.Rack) })
	return racks
}

// cellStations lists the stations of each cell by code.
func cellStations(x *plant.Index) map[plant.CellCode][]plant.StationCode {
	m := map[plant.CellCode][]plant.StationCode{}
	for _, s := range x.Plant.Stations {
		m[s.Cell] = append(m[s.Cell], s.Station)
	}
	for cell, list := range m {
		slices.Sort(list)
		m[cell] = slices.Compact(list)
	}
	return m
}

// stand puts r at place or, where that is nil, at the mean of the stations it
// serves that have coordinates.
func (r *Rack) stand(x *plant.Index, place *plant.Place) {
	if place != nil {
		r.Place, r.Known = *place, true
		return
	}
	var sumX, sumY units.Ratio
	n := int64(0)
	for _, code := range r.Stations {
		s := x.Stations[plant.StationKey{Cell: r.Cell, Station: code}]
		if s == nil || s.Place == nil {
			continue
		}
		sumX, sumY = sumX.Add(s.Place.X.Ratio()), sumY.Add(s.Place.Y.Ratio())
		n++
	}
	if n == 0 {
		return
	}
	r.Place, r.Known = plant.Place{X: mean(sumX, n), Y: mean(sumY, n)}, true
}

// mean returns sum/n to the nearest nanometre.
func mean(sum units.Ratio, n int64) units.Length {
	l, _ := units.Lengths(sum.Div(units.Int(n)), units.Nanometre)
	return l
}

// levels joins a type's levels with the guides that can not be moved.
func levels(t *plant.RackType, fixed []plant.FixedLanes) []Level {
	list := make([]Level, len(t.Levels))
	for i, l := range t.Levels {
		list[i].Level = l
		for _, f := range fixed {
			if f.Level == l.Level {
				list[i].Fixed = f.Widths
			}
		}
	}
	return list
}

// Propose returns a rack of type t, named code, as the planner would add it to
// cell: it serves every station of the cell, stands where the cell's new racks
// stand (default: the mean of its stations' coordinates) and is refilled from
// the cell's aisle point for new racks (default: the point nearest to its place
// in a straight line, ties by code; none where its place is not known).
func Propose(x *plant.Index, cell plant.CellCode, t *plant.RackType, code plant.RackCode) Rack {
	r := Rack{Rack: code, Type: t, Cell: cell, Proposed: true, Levels: levels(t, nil)}
	for _, s := range x.Plant.Stations {
		if s.Cell == cell {
			r.Stations = append(r.Stations, s.Station)
		}
	}
	slices.Sort(r.Stations)
	r.Stations = slices.Compact(r.Stations)
	var place *plant.Place
	if c := x.Cells[cell]; c != nil {
		place, r.Point = c.NewRack, c.NewRackPoint
	}
	r.stand(x, place)
	if r.Point == "" && r.Known {
		r.Point = nearest(x, r.Place)
	}
	return r
}

// As is a proposed rack of another type at the same place.
func (r Rack) As(t *plant.RackType) Rack {
	r.Type, r.Levels = t, levels(t, nil)
	return r
}

// nearest returns the aisle point nearest to p in a straight line, ties by
// code; empty where there are no points.
func nearest(x *plant.Index, p plant.Place) plant.PointCode {
	var best plant.PointCode
	var least units.Length
	for _, a := range x.Plant.AislePoints {
		d := floor.Straight(a.Place, p)
		if best == "" || d < least || (d == least && a.Point < best) {
			best, least = a.Point, d
		}
	}
	return best
}
