package vrp

import (
	"fmt"
	"math/rand/v2"

	"lanewright/planner/floor"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Floor makes up so many stops on the aisles of a plant, whose legs are the shortest
// ways in decimetres. Aisles lie in a grid, 6 to 14 m apart; oneWay (0 to 1) is the
// chance that one of them may be driven in one direction only, from end to end. Those
// along the walls may be driven both ways, so that every stop can be reached and left.
// The depot is in a corner; a route takes about ten stops.
func Floor(stops int, oneWay float64, seed uint64) *Instance {
	rnd := rand.New(rand.NewPCG(seed, 4))
	side := 2
	for 4*side*side < 5*(stops+1) { // a fifth of the crossings has no stop
		side++
	}
	p := &plant.Plant{}
	xs, ys := spread(rnd, side), spread(rnd, side)
	for y := range side {
		for x := range side {
			p.AislePoints = append(p.AislePoints, plant.AislePoint{Point: crossing(x, y), Place: plant.Place{X: xs[x], Y: ys[y]}})
		}
	}
	for i := range side {
		along := func(j int) plant.PointCode { return crossing(j, i) }
		across := func(j int) plant.PointCode { return crossing(i, j) }
		inside := i > 0 && i < side-1
		p.Aisles = append(p.Aisles, line(rnd, side, along, inside && rnd.Float64() < oneWay)...)
		p.Aisles = append(p.Aisles, line(rnd, side, across, inside && rnd.Float64() < oneWay)...)
	}
	points := []plant.PointCode{crossing(0, 0)}
	for _, i := range rnd.Perm(side*side - 1)[:stops] {
		points = append(points, crossing((i+1)%side, (i+1)/side))
	}
	v := &Instance{Name: fmt.Sprintf("floor-n%d-o%.0f-s%d", stops+1, 100*oneWay, seed), Capacity: 500}
	v.Demand, v.Service = make([]int64, stops+1), make([]float64, stops+1)
	for a := 1; a <= stops; a++ {
		v.Demand[a] = int64(1 + rnd.IntN(100))
	}
	v.Table = ways(p, points)
	return v
}

func crossing(x, y int) plant.PointCode { return plant.PointCode(fmt.Sprintf("%d-%d", x, y)) }

// spread are the places of aisles side by side.
func spread(rnd *rand.Rand, n int) []units.Length {
	list := make([]units.Length, n)
	for i := 1; i < n; i++ {
		list[i] = list[i-1] + units.Length(60+rnd.IntN(81))*decimetre
	}
	return list
}

const decimetre = units.Metre / 10

// line are the parts of an aisle from wall to wall.
func line(rnd *rand.Rand, side int, at func(int) plant.PointCode, oneWay bool) []plant.Aisle {
	var list []plant.Aisle
	back := rnd.IntN(2) == 0
	for i := 1; i < side; i++ {
		a := plant.Aisle{From: at(i - 1), To: at(i), OneWay: oneWay}
		if back {
			a.From, a.To = a.To, a.From
		}
		list = append(list, a)
	}
	return list
}

// ways are the shortest ways among points, in rows.
func ways(p *plant.Plant, points []plant.PointCode) []float64 {
	network, _ := floor.New(p)
	t := network.Shortest(points, 1)
	table := make([]float64, 0, len(points)*len(points))
	for i := range points {
		for j := range points {
			leg, _ := t.Leg(i, j)
			table = append(table, float64(leg.Length/decimetre))
		}
	}
	return table
}
