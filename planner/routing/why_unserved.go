package routing

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"lanewright/planner/demand"
	"lanewright/planner/floor"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Missing says why loops of a rack are on no round, and what would change that.
type Missing struct {
	Unserved
	// Changes were tried one by one: with each of them alone a round serves the loops.
	// The least comes first of each kind.
	Changes []Change
}

// Change is one change of the facts.
type Change struct {
	// Kind is "interval", "capacity", "mass-limit", "share", "aisle" or "speed".
	Kind string
	// Text says it to people.
	Text string
}

// Unserved explains the loops of a rack that the plan leaves without a round.
func (r *Reasons) Unserved(rack plant.RackCode) []Missing {
	r.mu.Lock()
	defer r.mu.Unlock()
	var list []Missing
	for _, u := range r.laid.unserved {
		if u.Rack == rack {
			list = append(list, Missing{u, r.laid.changes(u)})
		}
	}
	return list
}

func (l *laid) changes(u Unserved) []Change {
	all := sites(l.in)
	at, ok := slices.BinarySearchFunc(all, u.Rack, func(s site, code plant.RackCode) int { return cmp.Compare(s.rack, code) })
	if !ok || len(l.fleet) == 0 {
		return nil
	}
	s := all[at]
	s.demands = slices.DeleteFunc(slices.Clone(s.demands), func(d Demand) bool { return !slices.Contains(u.Loops, d.Loop) })
	switch u.Reason {
	case CodeStopUnreachable:
		return l.aisles(s)
	case CodeNoRoundFits:
		return slices.Concat(l.intervalChange(s), l.vehicleChanges(s), l.shareChange(s))
	default:
		return nil
	}
}

// aisles lists the aisles that would let each vehicle type get there and back; one
// that is enough for both ways comes first.
func (l *laid) aisles(s site) []Change {
	var list []Change
	for _, v := range l.fleet {
		there := l.in.Network.Mends(v.market, s.point, v.ride())
		back := l.in.Network.Mends(s.point, v.market, v.ride())
		for _, m := range slices.Concat(there, back) {
			p := mended(l.in.Index.Plant, m)
			if m.Obstacle == floor.Turning || !serves(p, v, s.point) {
				continue
			}
			list = append(list, Change{"aisle", fmt.Sprintf("Vehicle type %s gets there and back when the way from %s to %s (%.4g m) is open to it in both directions.", v.code(), m.From, m.To, m.Length.Metres())})
		}
	}
	slices.SortStableFunc(list, func(a, b Change) int { return cmp.Compare(a.Text, b.Text) })
	return slices.Compact(list)
}

// mended is a plant with a wide aisle more, open to all and in both directions, in
// place of those that are there.
func mended(p *plant.Plant, m floor.Mend) *plant.Plant {
	q := *p
	between := func(a, b plant.PointCode) bool { return a == m.From && b == m.To || a == m.To && b == m.From }
	q.Aisles = slices.DeleteFunc(slices.Clone(p.Aisles), func(a plant.Aisle) bool { return between(a.From, a.To) })
	q.Aisles = append(q.Aisles, plant.Aisle{From: m.From, To: m.To, Length: m.Length})
	q.RouteRules = slices.DeleteFunc(slices.Clone(p.RouteRules), func(r plant.RouteRule) bool { return r.Kind == plant.RuleClosed && between(r.From, r.To) })
	return &q
}

// serves reports whether a vehicle gets to a point and back over the aisles of p.
func serves(p *plant.Plant, v *vehicle, point plant.PointCode) bool {
	network, _ := floor.New(p)
	t := network.Quickest([]plant.PointCode{v.market, point}, v.ride(), 1)
	_, there := t.Between(v.market, point)
	_, back := t.Between(point, v.market)
	return there && back
}

// all reports whether each loop of s fits a round of v alone at an interval.
func (v *vehicle) all(s site, interval time.Duration) bool {
	return !slices.ContainsFunc(s.demands, func(d Demand) bool {
		_, ok := v.alone(s.point, []Demand{d}, interval)
		return !ok
	})
}

// intervalChange is the longest interval of whole minutes, shorter than the rack's or
// up to double of it, at which a round serves the loops.
func (l *laid) intervalChange(s site) []Change {
	start := s.interval.Truncate(time.Minute)
	fits := func(i time.Duration) bool {
		return slices.ContainsFunc(l.fleet, func(v *vehicle) bool { return v.all(s, i) })
	}
	for i := start; i > 0; i -= time.Minute {
		if fits(i) {
			return []Change{{"interval", fmt.Sprintf("An interval of %s instead of %s lets a round serve it.", minutes(i), minutes(s.interval))}}
		}
	}
	for i := start + time.Minute; i <= 2*s.interval; i += time.Minute {
		if fits(i) {
			return []Change{{"interval", fmt.Sprintf("An interval of %s instead of %s lets a round serve it.", minutes(i), minutes(s.interval))}}
		}
	}
	return nil
}

// vehicleChanges tries, for each vehicle type, the least larger capacity, mass limit
// and speed with which it serves the loops at the rack's interval.
func (l *laid) vehicleChanges(s site) []Change {
	var list []Change
	for _, v := range l.fleet {
		if _, ok := v.roundTrip(s.point); !ok {
			continue
		}
		with := func(change func(*plant.Vehicle)) bool {
			facts := *v.Vehicle
			change(&facts)
			u := *v
			u.Vehicle, u.bare = &facts, newLimit(v.set, &facts)
			if facts.Speed != v.Speed {
				u.table = l.in.Network.Quickest([]plant.PointCode{v.market, s.point}, floor.Ride{Speed: facts.Speed, OnFoot: facts.OnFoot}, 1)
			}
			return u.all(s, s.interval)
		}
		if n, ok := leastThat(v.Containers, 20*v.Containers, func(n int) bool { return with(func(f *plant.Vehicle) { f.Containers = n }) }); ok {
			list = append(list, Change{"capacity", fmt.Sprintf("Vehicle type %s with room for %d containers instead of %d serves it every %s.", v.code(), n, v.Containers, minutes(s.interval))})
		}
		if kg := int(v.MassLimit.KG()); kg > 0 {
			if n, ok := leastThat(kg, 20*kg, func(n int) bool {
				return with(func(f *plant.Vehicle) { f.MassLimit = units.Mass(n) * units.Kilogram })
			}); ok {
				list = append(list, Change{"mass-limit", fmt.Sprintf("Vehicle type %s with a mass limit of %d kg instead of %d kg serves it every %s.", v.code(), n, kg, minutes(s.interval))})
			}
		}
		tenth := units.MetrePerSecond / 10
		if n, ok := leastThat(int(v.Speed/tenth), 50, func(n int) bool { return with(func(f *plant.Vehicle) { f.Speed = max(v.Speed, units.Speed(n)*tenth) }) }); ok {
			list = append(list, Change{"speed", fmt.Sprintf("Vehicle type %s at %.4g m/s instead of %.4g m/s serves it every %s.", v.code(), float64(n)/10, v.Speed.MPS(), minutes(s.interval))})
		}
	}
	return list
}

// leastThat is the least number above low, up to high, for which ok holds, which must
// hold for all above it; false where it holds for none.
func leastThat(low, high int, ok func(int) bool) (int, bool) {
	if high <= low || !ok(high) {
		return 0, false
	}
	for low+1 < high {
		if middle := (low + high) / 2; ok(middle) {
			high = middle
		} else {
			low = middle
		}
	}
	return high, true
}

// shareChange tries to share the loops evenly between several racks at one point.
func (l *laid) shareChange(s site) []Change {
	for n := int64(2); n <= 4; n++ {
		part := s
		part.demands = nil
		for _, d := range s.demands {
			d.Share = d.Share.Mul(units.R(1, n))
			part.demands = append(part.demands, d)
		}
		if slices.ContainsFunc(l.fleet, func(v *vehicle) bool { return v.all(part, s.interval) }) {
			return []Change{{"share", fmt.Sprintf("Shared evenly between %d racks, each is served every %s.", n, minutes(s.interval))}}
		}
	}
	return nil
}

// LoopNames lists loops for people: "4711 at 10".
func LoopNames(keys []demand.Key) string {
	var names []string
	for _, k := range keys {
		names = append(names, fmt.Sprintf("%s at %s", k.Part, k.Station))
	}
	if len(names) == 0 {
		return "nothing"
	}
	return list(names)
}
