package routing

import (
	"math"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// travel returns the largest of the bounds on the metres of one round of each
// route; at least so many routes return to a market.
func (d *bounder) travel(routes int) units.Length {
	trips := map[plant.PointCode]units.Length{}
	farthest, back := units.Length(0), units.Length(math.MaxInt64)
	for _, p := range d.points {
		trip := units.Length(math.MaxInt64)
		for _, m := range d.markets {
			there, okThere := d.ways.Between(m, p)
			home, okHome := d.ways.Between(p, m)
			if okThere && okHome {
				trip = min(trip, there.Length+home.Length)
				back = min(back, home.Length)
			}
		}
		trips[p] = trip
		farthest = max(farthest, trip)
	}
	return max(farthest, d.radial(trips), units.Length(routes)*back+max(d.entered(), d.tree()))
}

// radial: a route is at least as long as the trip to each of its racks, so also
// as their mean, each weighted with the share of the route that it fills. The
// shares of a route add up to at most 1, by its load, its mass and its time.
func (d *bounder) radial(trips map[plant.PointCode]units.Length) units.Length {
	shortest := d.sites[0].interval
	for _, s := range d.sites {
		shortest = min(shortest, s.interval)
	}
	var byLoad, byMass, byWay, byTrip float64
	for i, s := range d.sites {
		trip := float64(trips[s.point])
		byLoad += trip * d.least[i].part
		for _, x := range s.demands {
			byMass += trip * x.Rate * x.Share.Float64() * x.Gross.KG() * shortest.Minutes() / d.mass
		}
		byWay += trip * d.least[i].way / d.busy
		byTrip += trip * d.least[i].trip / d.busy
	}
	return units.Length(max(byLoad, byMass, byWay, byTrip) * (1 - slack))
}

// entered: every point is entered at least once, from the nearest other point
// or market.
func (d *bounder) entered() units.Length {
	var all units.Length
	for i := range d.points {
		nearest := units.Length(math.MaxInt64)
		for j := range d.ways.Len() {
			if leg, ok := d.ways.Leg(j, i); ok && i != j {
				nearest = min(nearest, leg.Length)
			}
		}
		all += nearest
	}
	return all
}

// tree: the ways of all routes without the last of each join the markets with
// every point, so they are no shorter than the shortest tree that does, each
// joint counted in its shorter direction (Prim, Shortest connection networks
// and some generalizations, Bell System Technical Journal 36, 1957, 1389-1401).
func (d *bounder) tree() units.Length {
	joint := make([]units.Length, len(d.points))
	for i := range joint {
		joint[i] = math.MaxInt64
		for m := range d.markets {
			joint[i] = min(joint[i], d.either(i, len(d.points)+m))
		}
	}
	var all units.Length
	joined := make([]bool, len(d.points))
	for range d.points {
		next := -1
		for i := range d.points {
			if !joined[i] && (next < 0 || joint[i] < joint[next]) {
				next = i
			}
		}
		joined[next] = true
		all += joint[next]
		for i := range d.points {
			if !joined[i] {
				joint[i] = min(joint[i], d.either(next, i))
			}
		}
	}
	return all
}

// either returns the shorter of the ways between two rows of ways.
func (d *bounder) either(i, j int) units.Length {
	way := units.Length(math.MaxInt64)
	if leg, ok := d.ways.Leg(i, j); ok {
		way = leg.Length
	}
	if leg, ok := d.ways.Leg(j, i); ok {
		way = min(way, leg.Length)
	}
	return way
}
