package routing

import (
	"math"
	"slices"
	"time"

	"lanewright/planner/floor"
	"lanewright/planner/units"
)

// home stands for the market in the search: stops count from 1.
const home = 0

// nearest is how many neighbours of a stop the search looks at.
const nearest = 24

// problem is one group's stops on one vehicle type, in the frozen form that the
// search reads: whole numbers in flat slices.
type problem struct {
	vehicle *vehicle
	group   *group
	limit   limit
	// stops[i] is stop number i+1.
	stops []stop
	// loads and row are by stop number; row is the stop's row in the table.
	loads []load
	row   []int
	// near lists the nearest stops of each, k for every number from 1.
	near []int32
	k    int
	// open is the cost that a further route has in the search: more than any
	// detour can save.
	open units.Length
	// capacity and mass are the limits in the units of load.
	capacity, mass int64
	// noMass is true where the vehicle has no mass limit.
	noMass bool
}

// load is a need in whole numbers, so that adding and taking away leave no
// error behind: 10^-9 containers, 10^-9 containers², mg, 10^-9 kg².
type load struct {
	mean, variance, mass, massVariance, empties int64
	stops                                       int
}

func newLoad(n need) load {
	return load{billionths(n.mean), billionths(n.variance), billionths(n.mass / 1000), billionths(n.massVariance), billionths(n.empties), 1}
}

// billionths scales x. No stop that fits a round alone comes near the clamp.
func billionths(x float64) int64 { return int64(math.Round(min(x*1e9, 1<<58))) }

func (l load) plus(o load) load {
	return load{l.mean + o.mean, l.variance + o.variance, l.mass + o.mass, l.massVariance + o.massVariance, l.empties + o.empties, l.stops + o.stops}
}

func (l load) minus(o load) load {
	return load{l.mean - o.mean, l.variance - o.variance, l.mass - o.mass, l.massVariance - o.massVariance, l.empties - o.empties, l.stops - o.stops}
}

func newProblem(g *group, v *vehicle, stops []stop) *problem {
	p := &problem{vehicle: v, group: g, stops: stops, limit: v.limit(g.interval), k: min(nearest, len(stops)-1)}
	p.capacity = billionths(p.limit.containers * (1 + tolerance))
	p.mass, p.noMass = billionths(p.limit.mass*(1+tolerance)/1000), math.IsInf(p.limit.mass, 1)
	p.loads, p.row = []load{{}}, []int{v.home}
	for _, s := range stops {
		row, _ := v.table.Index(s.point)
		p.loads, p.row = append(p.loads, newLoad(s.need)), append(p.row, row)
	}
	p.neighbours()
	for i := range stops {
		p.open = max(p.open, 2*p.trip(int32(i+1)).Length)
	}
	return p
}

// leg returns the way from stop a to stop b; either may be home.
func (p *problem) leg(a, b int32) floor.Leg {
	leg, _ := p.vehicle.table.Leg(p.row[a], p.row[b])
	return leg
}

// trip returns the round that serves stop a alone.
func (p *problem) trip(a int32) floor.Leg { return p.leg(home, a).Plus(p.leg(a, home)) }

// round returns the time of a round of load l that drives for drive.
func (p *problem) round(l load, drive time.Duration) time.Duration {
	planned := float64(l.mean)*1e-9 + p.limit.z*math.Sqrt(float64(l.variance)*1e-9)
	return roundTime(p.vehicle.Vehicle, drive, l.stops, planned, float64(l.empties)*1e-9)
}

// carries reports whether l keeps the limits of containers and mass.
func (p *problem) carries(l load) bool {
	if float64(l.mean)+p.limit.z*math.Sqrt(float64(l.variance)*1e9) > float64(p.capacity) {
		return false
	}
	return p.noMass || float64(l.mass)+p.limit.z*math.Sqrt(float64(l.massVariance)*1e3) <= float64(p.mass)
}

// neighbours lists for each stop the nearest others, by the shorter of the two
// ways, then by number.
func (p *problem) neighbours() {
	n := len(p.stops)
	p.near = make([]int32, 0, n*p.k)
	list := make([]neighbour, 0, p.k+1)
	for a := int32(1); a <= int32(n); a++ {
		list = list[:0]
		for b := int32(1); b <= int32(n); b++ {
			if a == b {
				continue
			}
			way := min(p.leg(a, b).Length, p.leg(b, a).Length)
			if len(list) == p.k && (p.k == 0 || way >= list[p.k-1].way) {
				continue
			}
			at := len(list)
			for at > 0 && list[at-1].way > way {
				at--
			}
			list = slices.Insert(list, at, neighbour{b, way})[:min(len(list)+1, p.k)]
		}
		for _, x := range list {
			p.near = append(p.near, x.stop)
		}
	}
}

type neighbour struct {
	stop int32
	way  units.Length
}

// nearTo returns the nearest stops of a.
func (p *problem) nearTo(a int32) []int32 { return p.near[int(a-1)*p.k : int(a)*p.k] }
