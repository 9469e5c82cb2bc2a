// Package scale makes up plants of any size for benchmarks: the same size and
// seed give the same plant. They are plausible, not clever: cells of two rows
// of racks on a grid of aisles, products that share cells, mostly enough
// lanes and here and there too few.
package scale

import (
	"fmt"
	"math/rand/v2"

	"lanewright/planner/plant"
	"lanewright/planner/search"
	"lanewright/planner/units"
)

// Plant makes up a plant with so many cells and loops (points of use). Both
// are 1 or more; there are at least as many loops as cells, else the loops
// are raised to that. Its size grows in proportion to both.
func Plant(cells, loops int, seed uint64) *plant.Plant {
	cells = max(cells, 1)
	loops = max(loops, cells)
	m := newMaker(fmt.Sprintf("Scale plant %d x %d, seed %d", cells, loops, seed), seed)
	m.products(6 + cells/4)
	sizes := m.shares(cells, loops)
	grid := newFloor(sizes)
	for i, n := range sizes {
		m.cell(i, n, grid)
	}
	grid.draw(m.p)
	m.vehicles(cells)
	return m.p
}

// Cell makes up a plant of one cell with so many parts, each used at one
// station.
func Cell(parts int, seed uint64) *plant.Plant {
	p := Plant(1, max(parts, 1), seed)
	p.Name = fmt.Sprintf("One cell of %d parts, seed %d", max(parts, 1), seed)
	return p
}

// maker builds one plant.
type maker struct {
	p    *plant.Plant
	seed uint64
	// common are the parts (by place in the list) that several stations may
	// use: labels, screws, caps.
	common []int
	used   map[use]bool
	boxes  map[plant.ContainerCode]plant.Container
	// perHour is the containers that all loops use in an hour, about.
	perHour float64
}

// use is a part at a station.
type use struct {
	part plant.PartCode
	at   plant.StationKey
}

func newMaker(name string, seed uint64) *maker {
	s := plant.DefaultSettings()
	s.Seed = seed
	m := &maker{
		seed: seed, used: map[use]bool{}, boxes: map[plant.ContainerCode]plant.Container{},
		p: &plant.Plant{Name: name, Settings: s, Shifts: shifts(), Containers: containers(), RackTypes: rackTypes()},
	}
	for _, c := range m.p.Containers {
		m.boxes[c.Container] = c
	}
	return m
}

// stream is the random stream of one thing, so that adding another changes
// nothing about it.
func (m *maker) stream(name string, i int) *rand.Rand {
	return search.Stream(m.seed, fmt.Sprintf("scale/%s/%d", name, i))
}

// shares splits loops over cells, each within about a third of the mean.
func (m *maker) shares(cells, loops int) []int {
	r := m.stream("shares", 0)
	weights := make([]int, cells)
	total := 0
	for i := range weights {
		weights[i] = 70 + r.IntN(61)
		total += weights[i]
	}
	sizes := make([]int, cells)
	given, seen := 0, 0
	spare := loops - cells
	for i, w := range weights {
		seen += w
		upTo := spare * seen / total
		sizes[i] = 1 + upTo - given
		given = upTo
	}
	return sizes
}

// products makes up what the plant builds: a few runners, many small ones, a
// fifth of them perfectly level.
func (m *maker) products(n int) {
	for i := range n {
		r := m.stream("product", i)
		p := plant.Product{
			Product:     plant.ProductCode(fmt.Sprintf("P%03d", i+1)),
			Description: fmt.Sprintf("Assembly, version %d", i+1),
			UnitsPerDay: units.Int(int64(40 + r.IntN(120)*(1+r.IntN(3)))),
		}
		if r.IntN(5) > 0 {
			p.Variation = units.R(int64(5+r.IntN(21)), 100)
		}
		m.p.Products = append(m.p.Products, p)
	}
}

// vehicles gives the plant enough of two kinds at each market.
func (m *maker) vehicles(cells int) {
	for _, point := range m.p.AislePoints {
		if point.Kind != plant.Market {
			continue
		}
		m.p.Vehicles = append(m.p.Vehicles,
			vehicle("TRAIN-"+string(point.Point), point.Point, 4+int(m.perHour/12), 40, 900),
			vehicle("CART-"+string(point.Point), point.Point, 2+cells/4, 12, 200))
	}
}
