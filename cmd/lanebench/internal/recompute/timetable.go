package recompute

import (
	"fmt"
	"math"
	"strings"
)

// post is a handler in one shift.
type post struct {
	rounds []driving
	busy   float64
}

// driving is a round from the start of loading to the return, in net minutes.
type driving struct {
	route    string
	from, to float64
}

// timetable checks the departures of each route, and that the rounds of one
// handler never overlap within a shift. It is limited to intervals of whole
// minutes.
func (j *judge) timetable() {
	posts := map[string]*post{}
	types := map[string]string{}
	for _, r := range j.plan.Routes {
		if t := types[r.Handler]; t != "" && t != r.VehicleType {
			j.say("handler %s drives vehicles of types %s and %s", r.Handler, t, r.VehicleType)
		}
		types[r.Handler] = r.VehicleType
		if len(r.Stops) == 0 || j.rackOf[r.Stops[0].Rack] == nil || r.IntervalMin != math.Trunc(r.IntervalMin) {
			continue
		}
		shifts := j.shiftsOf(r)
		offset, ok := j.offsetOf(r, shifts)
		if !ok {
			j.say("route %s (handler %s): departures %s are not those of any start within its interval", r.Route, r.Handler, strings.Join(r.Departures, " "))
			continue
		}
		for _, s := range shifts {
			name := r.Handler + " in shift " + s.name
			if posts[name] == nil {
				posts[name] = &post{}
			}
			j.drive(name, posts[name], r, s, offset)
		}
	}
}

// shiftsOf returns the shifts of the cells that r stops at, which must agree.
func (j *judge) shiftsOf(r planRoute) []*workShift {
	shifts := j.facts.cellShifts(j.rackOf[r.Stops[0].Rack].Cell)
	for _, stop := range r.Stops {
		rack := j.rackOf[stop.Rack]
		if rack != nil && names(j.facts.cellShifts(rack.Cell)) != names(shifts) {
			j.say("route %s stops at racks %s and %s, whose cells work different shifts", r.Route, r.Stops[0].Rack, stop.Rack)
		}
	}
	return shifts
}

func names(shifts []*workShift) string {
	text := ""
	for _, s := range shifts {
		text += s.name + ", "
	}
	return text
}

// offsetOf finds the net minutes from shift start to a route's first departure
// that explain all of its departures. The first round must be back in the first
// interval, unless it leaves at shift start.
func (j *judge) offsetOf(r planRoute, shifts []*workShift) (int, bool) {
	for offset := 0; offset == 0 || float64(offset)+r.RoundMin-j.loading(r) <= r.IntervalMin+1e-9; offset++ {
		if strings.Join(departures(r, shifts, offset), " ") == strings.Join(r.Departures, " ") {
			return offset, true
		}
	}
	return 0, false
}

// departures are the clock times, each once, that an offset gives a route:
// minute by minute through the worked minutes of its shifts.
func departures(r planRoute, shifts []*workShift, offset int) []string {
	var out []string
	seen := map[string]bool{}
	for _, s := range shifts {
		net, total := 0, float64(s.net())
		for m, on := range s.on {
			if !on {
				continue
			}
			if leaves(r, net, offset, total) {
				at := (s.start + m) % (24 * 60)
				if text := fmt.Sprintf("%02d:%02d", at/60, at%60); !seen[text] {
					seen[text] = true
					out = append(out, text)
				}
			}
			net++
		}
	}
	return out
}

// leaves says whether a round starts in a net minute of a shift.
func leaves(r planRoute, net, offset int, total float64) bool {
	return net >= offset && (net-offset)%int(r.IntervalMin) == 0 && float64(net)+r.RoundMin <= total+1e-9
}

// loading is the minutes for which a round loads before it leaves.
func (j *judge) loading(r planRoute) float64 {
	return r.LoadPlanned * j.facts.by["Vehicles"][r.VehicleType].num("Load time", 0) / 60
}

// drive adds a route's rounds to one shift of its handler, who does one thing at a
// time. A shift that is long enough for a round must have one.
func (j *judge) drive(name string, p *post, r planRoute, s *workShift, offset int) {
	total := s.net()
	rounds := 0
	for net := range total {
		if !leaves(r, net, offset, float64(total)) {
			continue
		}
		rounds++
		begins := float64(net) - j.loading(r)
		mine := driving{r.Route, begins, begins + r.RoundMin}
		for _, other := range p.rounds {
			if mine.from < other.to-1e-6 && other.from < mine.to-1e-6 {
				j.say("handler %s is on routes %s and %s from net minute %.2f on", name, other.route, r.Route, max(mine.from, other.from))
				return
			}
		}
		p.rounds = append(p.rounds, mine)
	}
	if rounds == 0 && r.RoundMin <= float64(total) {
		j.say("route %s never leaves in shift %s, which is long enough", r.Route, s.name)
	}
	p.busy += r.RoundMin / r.IntervalMin
	if limit := j.facts.share("Busy limit of a handler", "85"); p.busy > limit+1e-6 {
		j.say("handler %s is busy for %v of the time, limit %v", name, p.busy, limit)
	}
}

// handlers checks that the rounds of each handler fit one after the other into
// the shortest of their intervals, within the busy limit.
func (j *judge) handlers() {
	rounds, shortest := map[string]float64{}, map[string]float64{}
	for _, r := range j.plan.Routes {
		rounds[r.Handler] += r.RoundMin
		if s, ok := shortest[r.Handler]; !ok || r.IntervalMin < s {
			shortest[r.Handler] = r.IntervalMin
		}
	}
	limit := j.facts.share("Busy limit of a handler", "85")
	for h, s := range shortest {
		if rounds[h] > s*limit+1e-6 {
			j.say("handler %s: rounds of %v min in an interval of %v", h, rounds[h], s)
		}
	}
}
