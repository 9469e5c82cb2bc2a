package routing

import (
	"cmp"
	"slices"
	"time"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
)

// site is a rack that rounds must serve: what lies on it and how often.
type site struct {
	rack  plant.RackCode
	cell  plant.CellCode
	point plant.PointCode
	// demands are ordered by loop.
	demands []Demand
	// interval is the shortest of the loops' intervals, or a shorter one from
	// the plant's choices where that did not fit a round.
	interval time.Duration
	shifts   []plant.Shift
}

// sites gathers the demands of each rack, ordered by rack. A rack that in.Racks
// lacks has no point.
func sites(in Input) []site {
	demands := slices.Clone(in.Demands)
	slices.SortStableFunc(demands, func(a, b Demand) int {
		return cmp.Or(cmp.Compare(a.Rack, b.Rack), a.Loop.Compare(b.Loop))
	})
	var list []site
	for _, d := range demands {
		if len(list) == 0 || list[len(list)-1].rack != d.Rack {
			list = append(list, site{rack: d.Rack, interval: d.Interval})
		}
		s := &list[len(list)-1]
		s.demands = append(s.demands, d)
		s.interval = min(s.interval, d.Interval)
	}
	for _, r := range in.Racks {
		i, ok := slices.BinarySearchFunc(list, r.Rack, func(s site, code plant.RackCode) int { return cmp.Compare(s.rack, code) })
		if ok {
			list[i].cell, list[i].point, list[i].shifts = r.Cell, r.Point, shifts(in.Index, r.Cell)
		}
	}
	return list
}

// shifts returns the shifts in which a cell's racks are served, by start, then
// code; a plant without shifts works the default one.
func shifts(x *plant.Index, cell plant.CellCode) []plant.Shift {
	if s := x.CellShifts(cell); len(s) > 0 {
		return s
	}
	if s := x.AllShifts(); len(s) > 0 {
		return s
	}
	return []plant.Shift{plant.DefaultShift()}
}

// used reports whether anything on s is used at all.
func (s site) used() bool {
	return slices.ContainsFunc(s.demands, func(d Demand) bool { return d.Rate > 0 && d.Share.Sign() > 0 })
}

// keys returns the loops of demands, each once.
func keys(demands []Demand) []demand.Key {
	list := make([]demand.Key, 0, len(demands))
	for _, d := range demands {
		list = append(list, d.Loop)
	}
	return slices.Compact(list)
}

// group is the sites whose rounds may be joined: those served at the same
// interval in the same shifts. A round is a promise for each of its racks, kept
// in every shift it is driven in; mixing would drive past racks nobody works
// at. This is our rule; the planning rules leave it open.
type group struct {
	interval time.Duration
	shifts   []plant.Shift
	name     string
	sites    []site
}

// groups sorts sites into groups, by interval and the shifts' names.
func groups(list []site) []group {
	var out []group
	for _, s := range list {
		name := shiftNames(s.shifts)
		i := slices.IndexFunc(out, func(g group) bool { return g.interval == s.interval && g.name == name })
		if i < 0 {
			out = append(out, group{interval: s.interval, shifts: s.shifts, name: name})
			i = len(out) - 1
		}
		out[i].sites = append(out[i].sites, s)
	}
	slices.SortFunc(out, func(a, b group) int {
		return cmp.Or(cmp.Compare(a.interval, b.interval), cmp.Compare(a.name, b.name))
	})
	return out
}

func shiftNames(shifts []plant.Shift) string {
	name := ""
	for _, s := range shifts {
		name += string(s.Shift) + "\n"
	}
	return name
}
