package planner

import (
	"lanewright/planner/demand"
	"lanewright/planner/floor"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
)

// PlantMap is what a plan makes of the plant's floor.
type PlantMap struct {
	// Racks are in the order of the plan's racks.
	Racks []RackUse
	// Ways are in the order of the plan's routes.
	Ways []RouteWay
}

// RackUse is how much a rack is used.
type RackUse struct {
	Rack plant.RackCode
	// Used and Free count supply lanes with a part and without.
	Used, Free int
	// PerHour is containers brought to it per net hour, in the mean.
	PerHour float64
	// Effort is the effort of its lanes in kg per net hour.
	Effort float64
	// Lift is the greatest lifting index of refilling it or picking from it; 0 where
	// nothing on it is judged, infinite where a lift is not recommended at any mass.
	Lift float64
}

// RouteWay is the way of one round over the floor.
type RouteWay struct {
	Route string
	// Points are the aisle points passed, from the market and back to it. Where no
	// way is known between two stops they follow one another.
	Points []plant.PointCode
}

// MapOf lays a plan over the floor of the plant it was made for.
func MapOf(facts *plant.Plant, p *Plan) PlantMap {
	x := plant.NewIndex(facts)
	return PlantMap{Racks: rackUses(facts, x, p), Ways: routeWays(facts, x, p)}
}

func rackUses(facts *plant.Plant, x *plant.Index, p *Plan) []RackUse {
	list := make([]RackUse, len(p.Racks))
	of := make(map[plant.RackCode]*RackUse, len(list))
	for i, r := range p.Racks {
		list[i].Rack = r.Rack
		of[r.Rack] = &list[i]
	}
	rates, held := map[demand.Key]float64{}, map[demand.Key]int{}
	for i := range p.Loops {
		rates[p.Loops[i].Key] = 60 * p.Loops[i].Rate.Float64() / float64(max(1, p.Loops[i].Pack))
		held[p.Loops[i].Key] = p.Loops[i].Containers
	}
	efforts := placement.Efforts(laid(x, p), p.Settings.Placement, layoutOf(p))
	for i, l := range p.Lanes {
		u := of[l.Rack]
		switch {
		case u == nil || l.Kind == plant.Return:
		case l.Empty():
			u.Free++
		default:
			u.Used++
			u.Effort += efforts[i]
			u.PerHour += rates[l.Loop] * float64(l.Containers) / float64(max(1, held[l.Loop]))
		}
	}
	for _, l := range Lifts(facts, p).Lifts {
		if u := of[plant.RackCode(l.Subject.Rack)]; u != nil {
			u.Lift = max(u.Lift, l.Refill, l.Pick)
		}
	}
	return list
}

// routeWays follows each route from stop to stop as its vehicle drives.
func routeWays(facts *plant.Plant, x *plant.Index, p *Plan) []RouteWay {
	network, _ := floor.New(facts)
	guides := map[floor.Ride]*floor.Guide{}
	list := make([]RouteWay, len(p.Routes))
	for i, r := range p.Routes {
		v := x.Vehicles[r.Vehicle]
		if v == nil {
			list[i] = RouteWay{r.Route, nil}
			continue
		}
		ride := floor.Ride{Speed: v.Speed, OnFoot: v.OnFoot}
		if guides[ride] == nil {
			guides[ride] = network.Guide(ride)
		}
		list[i] = RouteWay{r.Route, wayOf(guides[ride], r)}
	}
	return list
}

func wayOf(g *floor.Guide, r routing.Route) []plant.PointCode {
	points := []plant.PointCode{r.Market}
	goTo := func(to plant.PointCode) {
		from := points[len(points)-1]
		steps, ok := g.Way(from, to)
		for _, s := range steps {
			points = append(points, s.To)
		}
		if !ok {
			points = append(points, to)
		}
	}
	for _, s := range r.Stops {
		goTo(s.Point)
	}
	goTo(r.Market)
	return points
}
