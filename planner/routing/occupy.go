package routing

import (
	"time"

	"lanewright/planner/floor"
	"lanewright/planner/plant"
)

// place is where two rounds may be in each other's way: a single-file stretch of
// aisles, or a market with a number of loading places.
type place struct {
	// strip counts the single-file stretches from 1; 0 is the market.
	strip  int
	market plant.PointCode
}

// hold is the time that a round is in a place, counted from its departure. Loading
// precedes the departure, so a hold of the market begins before it.
type hold struct {
	place
	from, to time.Duration
}

// occupier knows where rounds are when.
type occupier struct {
	network *floor.Network
	index   *plant.Index
	guides  map[floor.Ride]*floor.Guide
}

func newOccupier(in Input) *occupier {
	return &occupier{in.Network, in.Index, map[floor.Ride]*floor.Guide{}}
}

// places is how many may be in a place at once; 0 is not known.
func (o *occupier) places(p place) int {
	if p.strip > 0 {
		return 1
	}
	return o.index.Points[p.market].Places
}

// holds lists the times of a round in the market and in each single-file stretch,
// at its mean load, as Stop.Arrive is reckoned. Aisles that follow one another in
// one stretch are one hold, a stop between them included.
func (o *occupier) holds(t tour) []hold {
	list := []hold{{place{market: t.vehicle.market}, -t.loading, 0}}
	if len(o.network.Strips()) == 0 {
		return list
	}
	at, from := time.Duration(0), t.vehicle.market
	in := 0 // the stretch that the last aisle lay in
	for i := range t.legs {
		to := t.vehicle.market
		if i < len(t.stops) {
			to = t.stops[i].point
		}
		steps, _ := o.guide(t.vehicle.ride()).Way(from, to)
		for _, s := range steps {
			switch {
			case s.Strip > 0 && s.Strip == in:
				list[len(list)-1].to = at + s.Time
			case s.Strip > 0:
				list = append(list, hold{place{strip: s.Strip}, at, at + s.Time})
			}
			at, in = at+s.Time, s.Strip
		}
		if i < len(t.stops) {
			at += t.standing(t.stops[i])
		}
		from = to
	}
	return list
}

// standing is the time at a stop at its mean load.
func (t tour) standing(s stop) time.Duration {
	v := t.vehicle
	return v.StopTime + whole(s.need.mean*float64(v.UnloadTime)+s.need.empties*float64(v.EmptyTime))
}

func (o *occupier) guide(r floor.Ride) *floor.Guide {
	if o.guides[r] == nil {
		o.guides[r] = o.network.Guide(r)
	}
	return o.guides[r]
}
