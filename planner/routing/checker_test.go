package routing_test

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"time"

	"gonum.org/v1/gonum/stat/distuv"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
)

// checker recomputes a refill plan from the facts, by formulas of its own: it
// shares the planner's types and none of its arithmetic.
type checker struct {
	in     routing.Input
	z      float64
	number map[plant.PointCode]int
	ways   map[plant.VehicleCode][][]way
	wrong  []string
}

// way is in seconds and metres.
type way struct{ seconds, metres float64 }

// check returns what is wrong with a plan.
func check(in routing.Input, p routing.Plan) []string {
	c := &checker{in: in, number: map[plant.PointCode]int{}, ways: map[plant.VehicleCode][][]way{}}
	c.z = normal(in)
	for i, a := range in.Index.Plant.AislePoints {
		c.number[a.Point] = i
	}
	for _, v := range in.Index.Plant.Vehicles {
		c.ways[v.Vehicle] = c.floyd(v)
	}
	for _, r := range p.Routes {
		c.route(r)
	}
	c.once(p)
	c.handlers(p)
	c.loading(p)
	c.bounds(p)
	return c.wrong
}

func normal(in routing.Input) float64 {
	return distuv.UnitNormal.Quantile(in.Plant.ServiceLevel.Float64())
}

func (c *checker) expect(ok bool, format string, args ...any) {
	if !ok {
		c.wrong = append(c.wrong, fmt.Sprintf(format, args...))
	}
}

// near compares with a relative error of 1e-7.
func near(a, b float64) bool { return math.Abs(a-b) <= 1e-7*(1+math.Abs(a)+math.Abs(b)) }

// floyd finds all quickest ways, ties by length (Floyd, Algorithm 97,
// Communications of the ACM 5, 1962, 345).
func (c *checker) floyd(v plant.Vehicle) [][]way {
	n := len(c.number)
	d := make([][]way, n)
	for i := range d {
		d[i] = make([]way, n)
		for j := range d[i] {
			if i != j {
				d[i][j].seconds = math.Inf(1)
			}
		}
	}
	shorter := func(a, b way) bool {
		return a.seconds < b.seconds-1e-7 || math.Abs(a.seconds-b.seconds) <= 1e-7 && a.metres < b.metres-1e-9
	}
	edge := func(from, to plant.PointCode, w way) {
		if i, j := c.number[from], c.number[to]; shorter(w, d[i][j]) {
			d[i][j] = w
		}
	}
	shut := map[plant.PointCode]plant.PointCode{}
	for _, r := range c.in.Index.Plant.RouteRules {
		if r.Kind == plant.RuleClosed {
			shut[r.From], shut[r.To] = r.To, r.From
		}
	}
	for _, a := range c.in.Index.Plant.Aisles {
		if shut[a.From] == a.To || a.Traffic == plant.OnlyDriven && v.OnFoot || a.Traffic == plant.OnlyWalkers && !v.OnFoot {
			continue
		}
		from, to := c.in.Index.Points[a.From], c.in.Index.Points[a.To]
		metres := a.Length.Metres()
		if a.Length == 0 {
			metres = math.Hypot((from.Place.X - to.Place.X).Metres(), (from.Place.Y - to.Place.Y).Metres())
		}
		speed := v.Speed.MPS()
		if a.SpeedLimit > 0 {
			speed = math.Min(speed, a.SpeedLimit.MPS())
		}
		edge(a.From, a.To, way{metres / speed, metres})
		if !a.OneWay {
			edge(a.To, a.From, way{metres / speed, metres})
		}
	}
	for k := range n {
		for i := range n {
			for j := range n {
				if w := (way{d[i][k].seconds + d[k][j].seconds, d[i][k].metres + d[k][j].metres}); shorter(w, d[i][j]) {
					d[i][j] = w
				}
			}
		}
	}
	return d
}

// demandOf finds what a loop asks of a rack.
func (c *checker) demandOf(rack plant.RackCode, loop demand.Key) *routing.Demand {
	for i, d := range c.in.Demands {
		if d.Rack == rack && d.Loop == loop {
			return &c.in.Demands[i]
		}
	}
	return nil
}

// route recomputes the load, the time and the stops of one route.
func (c *checker) route(r routing.Route) {
	v := c.in.Index.Vehicles[r.Vehicle]
	ways := c.ways[r.Vehicle]
	var mean, variance, mass, massVariance, empties, metres, driven, worked float64
	at := c.number[r.Market]
	interval := r.Interval.Minutes()
	for _, s := range r.Stops {
		leg := ways[at][c.number[s.Point]]
		at = c.number[s.Point]
		metres += leg.metres
		driven += leg.seconds
		c.expect(near((driven+worked)/60, s.Arrive.Minutes()), "route %s arrives at %s after %v, not %v s", r.Route, s.Rack, s.Arrive, driven+worked)
		var here, back float64
		shortest := math.Inf(1)
		for _, loop := range s.Loops {
			d := c.demandOf(s.Rack, loop)
			if d == nil {
				c.expect(false, "route %s refills %v, which is not on rack %s", r.Route, loop, s.Rack)
				continue
			}
			share := d.Share.Float64()
			e := share * d.Rate * interval
			part := e - math.Floor(e)
			x := part*(1-part) + share*share*d.Variance*interval
			g := d.Gross.KG()
			here += e
			variance += x
			mass += e * g
			massVariance += x * g * g
			if d.Returnable {
				back += e
			}
			shortest = math.Min(shortest, d.Interval.Minutes())
		}
		c.expect(interval <= shortest, "route %s serves %s every %v min, needed every %v", r.Route, s.Rack, interval, shortest)
		c.expect(near(here, s.Containers) && near(back, s.Empties), "stop %s of route %s: %v and %v, not %v and %v", s.Rack, r.Route, s.Containers, s.Empties, here, back)
		mean, empties = mean+here, empties+back
		worked += v.StopTime.Seconds() + here*v.UnloadTime.Seconds() + back*v.EmptyTime.Seconds()
	}
	home := ways[at][c.number[r.Market]]
	metres, driven = metres+home.metres, driven+home.seconds
	planned := mean + c.z*math.Sqrt(variance)
	kilograms := mass + c.z*math.Sqrt(massVariance)
	round := driven + float64(len(r.Stops))*v.StopTime.Seconds() + planned*(v.LoadTime+v.UnloadTime).Seconds() + empties*v.EmptyTime.Seconds()
	c.expect(near(r.LoadMean, mean) && near(r.LoadPlanned, planned) && near(r.MassPlanned.KG(), kilograms), "load of route %s: %v, %v, %v, not %v, %v, %v", r.Route, r.LoadMean, r.LoadPlanned, r.MassPlanned, mean, planned, kilograms)
	c.expect(near(r.Travel.Metres(), metres) && near(r.Round.Seconds(), round), "route %s: %v m and %v, not %v m and %v s", r.Route, r.Travel.Metres(), r.Round, metres, round)
	const more = 1 + 1e-6
	share := c.in.Plant.LoadLimit.Float64()
	c.expect(planned <= float64(v.Containers)*share*more, "route %s carries %v of %v containers", r.Route, planned, v.Containers)
	c.expect(v.MassLimit == 0 || kilograms <= v.MassLimit.KG()*share*more, "route %s carries %v kg of %v", r.Route, kilograms, v.MassLimit)
	c.expect(round/60 <= interval*c.in.Plant.BusyLimit.Float64()*more, "route %s takes %v min of %v", r.Route, round/60, interval)
}

// once wants each demand on exactly one route, or left out with a reason that
// stands in the findings.
func (c *checker) once(p routing.Plan) {
	type at struct {
		rack plant.RackCode
		loop demand.Key
	}
	times := map[at]int{}
	for _, r := range p.Routes {
		for _, s := range r.Stops {
			for _, l := range s.Loops {
				times[at{s.Rack, l}]++
			}
		}
	}
	codes := map[string]bool{}
	for _, f := range p.Findings {
		codes[f.Code] = true
	}
	for _, u := range p.Unserved {
		c.expect(codes[u.Reason] && u.Detail != "", "rack %s is left out for %q, which no finding explains", u.Rack, u.Reason)
		for _, l := range u.Loops {
			times[at{u.Rack, l}]++
		}
	}
	for _, d := range c.in.Demands {
		c.expect(times[at{d.Rack, d.Loop}] == 1, "loop %v on rack %s is there %d times", d.Loop, d.Rack, times[at{d.Rack, d.Loop}])
		delete(times, at{d.Rack, d.Loop})
	}
	c.expect(len(times) == 0, "loops that nobody asked for: %v", times)
}

// drive is one round of a handler in net minutes of a shift, from the start of loading
// to the return.
type drive struct {
	route    string
	from, to float64
}

// handlers expands all departures of each handler and wants no two rounds of
// one shift to overlap, loading included, and all rounds of a handler to fit one after
// the other into the busy limit of the shortest of their intervals.
func (c *checker) handlers(p routing.Plan) {
	type post struct {
		handler string
		shift   plant.ShiftCode
	}
	drives := map[post][]drive{}
	type sum struct{ shortest, rounds float64 }
	sums := map[string]sum{}
	first := map[string]routing.Route{}
	for _, r := range p.Routes {
		f, again := first[r.Handler]
		if !again {
			first[r.Handler] = r
		}
		c.expect(!again || f.Vehicle == r.Vehicle && f.Market == r.Market, "handler %s has routes %s and %s, which do not belong together", r.Handler, f.Route, r.Route)
		all := sums[r.Handler]
		if !again {
			all.shortest = r.Interval.Minutes()
		}
		all.shortest = min(all.shortest, r.Interval.Minutes())
		loading := c.loadingTime(r)
		all.rounds += r.Round.Minutes()
		sums[r.Handler] = all
		c.expect(all.rounds <= c.in.Plant.BusyLimit.Float64()*all.shortest*(1+1e-6), "handler %s: rounds of %v min, the shortest interval is %v", r.Handler, all.rounds, all.shortest)
		offset := c.offset(r)
		for _, t := range r.Timetable {
			c.departures(r, t, offset)
			at := post{r.Handler, t.Shift}
			for _, d := range t.Departures {
				n := float64(slices.Index(c.minutes(t.Shift), d))
				drives[at] = append(drives[at], drive{r.Route, n - loading, n - loading + r.Round.Minutes()})
			}
		}
	}
	for at, list := range drives {
		slices.SortFunc(list, func(a, b drive) int { return cmp.Compare(a.from, b.from) })
		for i := range list[1:] {
			c.expect(list[i].to <= list[i+1].from+1e-6, "handler %s, shift %s: round %v overlaps %v", at.handler, at.shift, list[i], list[i+1])
		}
	}
	c.expect(p.Bounds.Handlers == len(first), "%d handlers are named, %d counted", len(first), p.Bounds.Handlers)
}

// loadingTime is the minutes for which a round loads before it leaves.
func (c *checker) loadingTime(r routing.Route) float64 {
	return math.Max(r.LoadPlanned, 0) * c.in.Index.Vehicles[r.Vehicle].LoadTime.Minutes()
}

// loading wants a finding for each market at which more rounds of a shift load at the
// same moment than it has places, or than one where that is not known, with their
// number: at the moment when the last of them begins.
func (c *checker) loading(p routing.Plan) {
	type at struct {
		market plant.PointCode
		shift  plant.ShiftCode
	}
	spans := map[at][][2]int64{} // nanoseconds of net time
	for _, r := range p.Routes {
		takes := int64(math.Round(math.Max(r.LoadPlanned, 0) * float64(c.in.Index.Vehicles[r.Vehicle].LoadTime)))
		for _, t := range r.Timetable {
			clock := c.minutes(t.Shift)
			for _, d := range t.Departures {
				leaves := int64(time.Duration(slices.Index(clock, d)) * time.Minute)
				spans[at{r.Market, t.Shift}] = append(spans[at{r.Market, t.Shift}], [2]int64{leaves - takes, leaves})
			}
		}
	}
	most := map[string]float64{}
	for k, list := range spans {
		for _, a := range list {
			n := 1.0
			for _, b := range list {
				if b[0] <= a[0] && a[0] < b[1] {
					n++
				}
			}
			if a[0] < a[1] {
				n-- // itself
			}
			most[string(k.market)] = max(most[string(k.market)], n)
		}
	}
	said := map[string]float64{}
	for _, f := range p.Findings {
		if f.Code == routing.CodeMarketFull {
			said[f.Subject.Point] = f.Measure.Value
		}
	}
	for m, n := range most {
		if n <= float64(max(1, c.in.Index.Points[plant.PointCode(m)].Places)) {
			n = 0
		}
		c.expect(said[m] == n, "%v rounds load at %s at once, %v are said to", n, m, said[m])
	}
}

// minutes returns the clock time of each net minute of a shift.
func (c *checker) minutes(shift plant.ShiftCode) []time.Duration {
	s := c.in.Index.Shifts[shift]
	if s == nil {
		one := plant.DefaultShift()
		s = &one
	}
	var clock []time.Duration
	for m := s.Start; m < s.End; m += time.Minute {
		if !slices.ContainsFunc(s.Breaks, func(b plant.Break) bool { return m >= b.Start && m < b.Start+b.Length }) {
			clock = append(clock, m)
		}
	}
	return clock
}

// parking returns the minutes from where a route's vehicle is parked to its market,
// whole as departures are, and back.
func (c *checker) parking(r routing.Route) (out, back float64) {
	v := c.in.Index.Vehicles[r.Vehicle]
	at, known := c.number[v.Parking]
	if !known {
		return 0, 0
	}
	ways, market := c.ways[r.Vehicle], c.number[r.Market]
	out, back = ways[at][market].seconds/60, ways[market][at].seconds/60
	if math.IsInf(out, 1) || math.IsInf(back, 1) {
		return 0, 0
	}
	return math.Ceil(out - 1e-9), back
}

// offset returns the net minutes after which a route first leaves, which must
// let it be back in its first interval after coming from the parking.
func (c *checker) offset(r routing.Route) float64 {
	out, _ := c.parking(r)
	for _, t := range r.Timetable {
		if len(t.Departures) > 0 {
			n := float64(slices.Index(c.minutes(t.Shift), t.Departures[0]))
			c.expect(n >= out && (n == out || n-out+r.Round.Minutes()-c.loadingTime(r) <= r.Interval.Minutes()+1e-9), "route %s first leaves after %v min", r.Route, n)
			return n
		}
	}
	return out
}

// departures walks a shift minute by minute. A shift long enough for a round has
// one.
func (c *checker) departures(r routing.Route, t routing.ShiftTimes, offset float64) {
	clock := c.minutes(t.Shift)
	out, back := c.parking(r)
	i := 0
	for n := offset; n+r.Round.Minutes()+back <= float64(len(clock))+1e-9; n += r.Interval.Minutes() {
		ok := i < len(t.Departures) && t.Departures[i] == clock[int(n)]
		c.expect(ok, "route %s, shift %s: departure %d should be at %v", r.Route, t.Shift, i, clock[int(n)])
		i++
	}
	c.expect(i == len(t.Departures), "route %s, shift %s: %d departures instead of %d", r.Route, t.Shift, len(t.Departures), i)
	c.expect(i > 0 || out+r.Round.Minutes()+back > float64(len(clock)), "route %s never leaves in shift %s", r.Route, t.Shift)
}

func (c *checker) bounds(p routing.Plan) {
	var metres float64
	for _, r := range p.Routes {
		metres += r.Travel.Metres()
	}
	b := p.Bounds
	c.expect(b.Routes == len(p.Routes) && near(b.Travel.Metres(), metres), "sums %d and %v, not %d and %v m", b.Routes, b.Travel, len(p.Routes), metres)
	c.expect(b.RoutesBound <= b.Routes && b.HandlersBound <= b.Handlers && b.TravelBound <= b.Travel, "a bound is beaten: %+v", b)
}
