package routing

import (
	"cmp"
	"slices"
	"time"

	"lanewright/planner/floor"
	"lanewright/planner/plant"
)

// vehicle is a vehicle type with the market its rounds start from.
type vehicle struct {
	*plant.Vehicle
	market plant.PointCode
	// home is the market's number in table.
	home  int
	table *floor.Table
	// parked is how the vehicle gets from where it stands to its market and back.
	parked parking
	// set are the settings of the run, bare the limits for no interval.
	set  plant.Settings
	bare limit
}

func (v *vehicle) code() plant.VehicleCode { return v.Vehicle.Vehicle }

// limit returns what a round of v may carry and take at an interval.
func (v *vehicle) limit(interval time.Duration) limit {
	l := v.bare
	l.round = busy(v.set, interval)
	return l
}

// fleet returns the vehicle types that can drive rounds, by code, with the
// quickest ways between their markets and points. A type whose market is not
// known is left out: plant.Check has reported it.
func fleet(in Input, points []plant.PointCode, threads int) []*vehicle {
	var markets []plant.PointCode
	for _, a := range in.Index.Plant.AislePoints {
		if a.Kind == plant.Market && !slices.Contains(markets, a.Point) {
			markets = append(markets, a.Point)
		}
	}
	var list []*vehicle
	for i := range in.Index.Plant.Vehicles {
		v := &in.Index.Plant.Vehicles[i]
		market := v.From
		if market == "" && len(markets) == 1 {
			market = markets[0]
		}
		if !in.Network.Has(market) || v.Speed <= 0 || in.Index.Vehicles[v.Vehicle] != v {
			continue
		}
		list = append(list, &vehicle{Vehicle: v, market: market, set: in.Plant, bare: newLimit(in.Plant, v)})
	}
	slices.SortFunc(list, func(a, b *vehicle) int { return cmp.Compare(a.code(), b.code()) })
	for _, v := range list {
		points = append(points, v.market)
		if in.Network.Has(v.Parking) {
			points = append(points, v.Parking)
		}
	}
	measure(in, list, points, threads)
	return list
}

// measure finds the quickest ways among points, once for each ride.
func measure(in Input, list []*vehicle, points []plant.PointCode, threads int) {
	slices.Sort(points)
	points = slices.Compact(points)
	tables := in.Tables
	if tables == nil {
		tables = new(floor.Tables)
	}
	for _, v := range list {
		v.table = tables.Quickest(in.Network, points, v.ride(), threads)
		v.home, _ = v.table.Index(v.market)
		v.parked = v.parking()
	}
}

// ride is how v moves over the floor.
func (v *vehicle) ride() floor.Ride { return floor.Ride{Speed: v.Speed, OnFoot: v.OnFoot} }

// roundTrip returns the way from the market to a point and back; ok is false
// where there is none.
func (v *vehicle) roundTrip(p plant.PointCode) (leg floor.Leg, ok bool) {
	there, okThere := v.table.Between(v.market, p)
	back, okBack := v.table.Between(p, v.market)
	if !okThere || !okBack {
		return floor.Leg{}, false
	}
	return there.Plus(back), true
}

// alone judges a round that serves demands at one point and nothing else.
func (v *vehicle) alone(p plant.PointCode, demands []Demand, interval time.Duration) (excess, bool) {
	trip, ok := v.roundTrip(p)
	if !ok {
		return excess{}, false
	}
	n := total(demands, interval)
	l := v.limit(interval)
	return l.worst(n, roundTime(v.Vehicle, trip.Time, 1, n.planned(l.z), n.empties))
}
