package routing

import (
	"math"
	"time"

	"lanewright/planner/floor"
	"lanewright/planner/tours"
	"lanewright/planner/units"
)

// home stands for the market among the numbers of stops, which count from 1.
const home = 0

// problem is one group's stops on one vehicle type.
type problem struct {
	vehicle *vehicle
	group   *group
	limit   limit
	// stops[i] is stop number i+1.
	stops []stop
	// rows are the rows in the table that are needed, place is which of them by stop
	// number: many racks stand at few points.
	rows  []int
	place []int32
	// far is twice the longest round to one stop: more than a detour saves.
	far units.Length
	// near are the nearest stops of each, where they were asked for.
	near []int32
	// asked are the questions to the engine, by aim.
	asked [2]*tours.Problem
	wishes
}

func newProblem(g *group, v *vehicle, stops []stop, w wishes) *problem {
	p := &problem{vehicle: v, group: g, stops: stops, limit: v.limit(g.interval), rows: []int{v.home}, place: []int32{home}, wishes: w}
	places := map[int]int32{v.home: home}
	for _, s := range stops {
		row, _ := v.table.Index(s.point)
		at, ok := places[row]
		if !ok {
			at = int32(len(p.rows))
			places[row], p.rows = at, append(p.rows, row)
		}
		p.place = append(p.place, at)
	}
	for i := range stops {
		p.far = max(p.far, 2*p.leg(home, i+1).Plus(p.leg(i+1, home)).Length)
	}
	return p
}

// priced is p with another raised price.
func (p *problem) priced(price units.Length) *problem {
	q := *p
	q.raised, q.asked = price, [2]*tours.Problem{}
	return &q
}

// leg returns the way from stop a to stop b; either may be home.
func (p *problem) leg(a, b int) floor.Leg {
	leg, _ := p.vehicle.table.Leg(p.rows[p.place[a]], p.rows[p.place[b]])
	return leg
}

// legs is what a measure says of all ways between places.
func (p *problem) legs(measure func(floor.Leg) int64) []int32 {
	list := make([]int32, 0, len(p.rows)*len(p.rows))
	for _, from := range p.rows {
		for _, to := range p.rows {
			leg, _ := p.vehicle.table.Leg(from, to)
			list = append(list, clamp(measure(leg)))
		}
	}
	return list
}

// aim is what a search for routes makes small.
type aim int

const (
	// byWork: the time of all rounds, which is what handlers are needed for.
	byWork aim = iota
	// byWay: routes, then metres.
	byWay
)

// Loads are asked for in these units: 10^-6 containers and 10^-5 kg, so that squares
// of what a vehicle carries stay far below 2^63.
const (
	perContainer = 1e6
	perKilogram  = 1e5
)

// tick is the unit of time: 10 µs, longer where an interval would not fit the
// engine's numbers.
func (p *problem) tick() time.Duration {
	return max(10*time.Microsecond, p.limit.round>>29+1)
}

// ask writes p for the engine. Times and loads are rounded up and limits down, so
// that what it finds keeps the limits of the plan but for errors below its units.
func (p *problem) ask(a aim) *tours.Problem {
	if p.asked[a] == nil {
		p.asked[a] = p.question(a)
	}
	return p.asked[a]
}

// forget frees the questions, which are large: they are written again where they are
// needed.
func (p *problem) forget() { p.asked = [2]*tours.Problem{} }

func (p *problem) question(a aim) *tours.Problem {
	v, tick := p.vehicle, p.tick()
	q := &tours.Problem{
		Stops: len(p.stops), Places: p.place, Service: make([]int64, len(p.place)),
		MaxTime: int64(float64(p.limit.round) * (1 + tolerance) / float64(tick)), Side: p.side(a),
	}
	q.Times = p.legs(func(l floor.Leg) int64 { return up(float64(l.Time) / float64(tick)) })
	for i, s := range p.stops {
		q.Service[i+1] = up(float64(roundTime(v.Vehicle, 0, 1, s.need.mean, s.need.empties)) / float64(tick))
	}
	q.Loads = p.loads(float64(v.LoadTime+v.UnloadTime) / float64(tick) / perContainer)
	if q.Costs = q.Times; a == byWay {
		q.Costs = p.legs(func(l floor.Leg) int64 { return int64(l.Length / units.Millimetre) })
	}
	q.Fixed = p.fixed(a)
	return q
}

// fixed is what a route costs beside its way (not so much that the engine would rather
// breach a limit): enough to have as few as there can be,
// or the time that two routes handle more than one for what they carry at times.
func (p *problem) fixed(a aim) int64 {
	if a == byWay {
		return int64(p.far/units.Millimetre) + 1
	}
	v := p.vehicle
	return up(max(p.limit.z, 0) * math.Sqrt(p.limit.containers) * float64(v.LoadTime+v.UnloadTime) / float64(p.tick()))
}

// loads are the containers and, where the vehicle has a limit, the mass. Handling is
// the time of a unit of containers.
func (p *problem) loads(handling float64) []tours.Load {
	w := len(p.stops) + 1
	list := []tours.Load{{Z: p.limit.z, Capacity: down(p.limit.containers * perContainer), Handling: handling, Mean: make([]int64, w), Variance: make([]int64, w)}}
	if !math.IsInf(p.limit.mass, 1) {
		list = append(list, tours.Load{Z: p.limit.z, Capacity: down(p.limit.mass * perKilogram), Mean: make([]int64, w), Variance: make([]int64, w)})
	}
	for i, s := range p.stops {
		list[0].Mean[i+1], list[0].Variance[i+1] = up(s.need.mean*perContainer), near(s.need.variance*perContainer*perContainer)
		if len(list) > 1 {
			list[1].Mean[i+1], list[1].Variance[i+1] = up(s.need.mass*perKilogram), near(s.need.massVariance*perKilogram*perKilogram)
		}
	}
	return list
}

// most is what no number of a load passes; no stop that fits a round comes near it.
const most = 1 << 56

// up and down round to a whole number unless x is one but for an error of float64.
func up(x float64) int64   { return int64(math.Ceil(min(x, most) - 1e-3)) }
func down(x float64) int64 { return int64(math.Floor(min(x, most) + 1e-3)) }
func near(x float64) int64 { return int64(math.Round(min(x, most))) }

// clamp keeps the cost of a leg in the engine's range. A leg of more passes every
// limit by far.
func clamp(x int64) int32 { return int32(min(x, 1<<30)) }
