package routing_test

import (
	"fmt"
	"math/rand/v2"
	"time"

	"lanewright/planner/demand"
	"lanewright/planner/floor"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// size says how large a random plant is.
type size struct {
	columns, rows int
	racks         int
	loops         int
	// vehicles is the number of vehicle types, 1 to 3.
	vehicles int
	// intervals to choose each loop's from.
	intervals []time.Duration
	// used is the mean number of containers of a loop per hour.
	used float64
}

const metre = units.Metre

// grid returns a plant whose aisles are a grid of 10 m by 8 m: every second
// row is one way, some aisles have a speed limit, the market is in one corner.
func grid(r *rand.Rand, columns, rows int) *plant.Plant {
	p := &plant.Plant{Name: "Skerrow Lantern Works", Settings: plant.DefaultSettings()}
	for y := range rows {
		for x := range columns {
			kind := plant.Crossing
			if x+y == 0 {
				kind = plant.Market
			}
			p.AislePoints = append(p.AislePoints, plant.AislePoint{
				Point: point(x, y), Kind: kind, Place: plant.Place{X: units.Length(x) * 10 * metre, Y: units.Length(y) * 8 * metre},
			})
		}
	}
	for y := range rows {
		for x := range columns {
			if x+1 < columns {
				a := plant.Aisle{From: point(x, y), To: point(x+1, y), OneWay: y%2 == 1}
				if a.OneWay && y%4 == 1 {
					a.From, a.To = a.To, a.From
				}
				if r.IntN(6) == 0 {
					a.SpeedLimit = units.MetrePerSecond / 2
				}
				p.Aisles = append(p.Aisles, a)
			}
			if y+1 < rows {
				p.Aisles = append(p.Aisles, plant.Aisle{From: point(x, y), To: point(x, y+1)})
			}
		}
	}
	return p
}

func point(x, y int) plant.PointCode { return plant.PointCode(fmt.Sprintf("P%02d-%02d", x, y)) }

// vehicles are the types that random plants choose from.
var vehicles = []plant.Vehicle{
	{Vehicle: "TRAIN", Count: 4, Containers: 30, MassLimit: 600 * units.Kilogram, Speed: 5 * units.MetrePerSecond / 4, StopTime: 25 * time.Second, LoadTime: 6 * time.Second, UnloadTime: 9 * time.Second, EmptyTime: 4 * time.Second},
	{Vehicle: "CART", Count: 6, Containers: 12, Speed: units.MetrePerSecond, StopTime: 15 * time.Second, LoadTime: 5 * time.Second, UnloadTime: 7 * time.Second, EmptyTime: 3 * time.Second},
	{Vehicle: "TROLLEY", Count: 2, Containers: 18, MassLimit: 250 * units.Kilogram, Speed: 6 * units.MetrePerSecond / 5, StopTime: 20 * time.Second, LoadTime: 6 * time.Second, UnloadTime: 8 * time.Second},
}

// random makes the input of a random plant.
func random(r *rand.Rand, s size) routing.Input {
	p := grid(r, s.columns, s.rows)
	p.Vehicles = append(p.Vehicles, vehicles[:s.vehicles]...)
	p.Shifts = []plant.Shift{
		{Shift: "early", Start: 6 * time.Hour, End: 14 * time.Hour, Breaks: []plant.Break{{Start: 10 * time.Hour, Length: 30 * time.Minute}}},
		{Shift: "late", Start: 14 * time.Hour, End: 22 * time.Hour, Breaks: []plant.Break{{Start: 18 * time.Hour, Length: 30 * time.Minute}}},
	}
	p.Cells = []plant.Cell{{Cell: "ASSEMBLY"}}
	var racks []structure.Rack
	var demands []routing.Demand
	for i := range s.racks {
		rack := structure.Rack{
			Rack: plant.RackCode(fmt.Sprintf("R%04d", i+1)), Cell: "ASSEMBLY",
			Point: point(r.IntN(s.columns), r.IntN(s.rows)),
		}
		racks = append(racks, rack)
		for j := range 1 + r.IntN(s.loops) {
			demands = append(demands, routing.Demand{
				Loop: demand.Key{Part: plant.PartCode(fmt.Sprintf("L%05d", 100*i+j)), Cell: "ASSEMBLY", Station: "S1"},
				Rack: rack.Rack, Share: units.Int(1),
				Rate: s.used * (0.2 + 1.6*r.Float64()) / 60, Variance: s.used * r.Float64() / 600,
				Interval: s.intervals[r.IntN(len(s.intervals))],
				Gross:    units.Mass(2+r.IntN(12)) * units.Kilogram, Returnable: r.IntN(4) > 0,
			})
		}
	}
	return input(p, racks, demands)
}

func input(p *plant.Plant, racks []structure.Rack, demands []routing.Demand) routing.Input {
	network, _ := floor.New(p)
	return routing.Input{Plant: p.Settings, Index: plant.NewIndex(p), Network: network, Racks: racks, Demands: demands}
}

var hourly = []time.Duration{time.Hour}
