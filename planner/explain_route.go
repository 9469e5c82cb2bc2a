package planner

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// Told is what is told of a route or a rack, in the order in which a colleague would.
type Told struct {
	Title    string
	Sections []Section
}

// mostOthers is how many other routes are told of for one stop.
const mostOthers = 6

// Route tells of one route who drives it, where its time goes, why each stop is
// on it, what it takes from the market and when it leaves; ok is false where the plan
// has no such route.
func (why *Reasons) Route(route string) (t Told, ok bool) {
	in := why.routed()
	for _, r := range why.plan.Routes {
		if r.Route != route {
			continue
		}
		t.Title = "Route " + route
		spent, _ := why.rounds().Time(route)
		t.Sections = why.inUnits([]Section{roundOf(in, r), timeOf(r, spent), stopsOf(why.rounds(), r), takeOf(why, route), departuresOf(r)})
		return t, true
	}
	return t, false
}

// Rack tells of one rack why each of its stops is on its route and not on
// another, and what would let the loops be served that no round serves; ok is false
// where the plan has no such rack.
func (why *Reasons) Rack(rack plant.RackCode) (t Told, ok bool) {
	t.Title = "Rack " + string(rack)
	for _, w := range why.rounds().Rack(rack) {
		t.Sections = append(t.Sections, whyOf(w))
	}
	for _, m := range why.rounds().Unserved(rack) {
		t.Sections = append(t.Sections, missingOf(m))
	}
	if len(t.Sections) > 0 {
		why.inUnits(t.Sections)
		return t, true
	}
	none := Section{Title: "Its rounds"}
	none.say("No round stops at it: nothing lies on it that is refilled.")
	t.Sections = []Section{none}
	return t, slices.ContainsFunc(why.plan.Racks, func(r structure.Rack) bool { return r.Rack == rack })
}

func roundOf(in routing.Input, r routing.Route) Section {
	x := in.Index
	s := Section{Title: "The round"}
	s.say(fmt.Sprintf("Handler %s drives it every %s with %s from market %s: %s, %s m.",
		r.Handler, wait(r.Interval), r.Vehicle, r.Market, counted(len(r.Stops), "stop"), people(r.Travel.Metres())))
	v := x.Vehicles[r.Vehicle]
	if v == nil {
		return s
	}
	s.say(fmt.Sprintf("A round is planned for %s containers, %s in the mean, and the vehicle has room for %d.", people(r.LoadPlanned), people(r.LoadMean), v.Containers),
		Value{Name: "containers", Text: fmt.Sprint(v.Containers), Origin: x.Plant.At(v.Origin, "Containers")},
		Value{Name: "load limit", Text: share100(in.Plant.LoadLimit), Setting: "load_limit"})
	return s
}

// timeOf tells where the time of a round goes, and what is left of the interval.
func timeOf(r routing.Route, t routing.Spent) Section {
	s := Section{Title: "Where its time goes"}
	if t.Round == 0 {
		return s
	}
	part := func(d time.Duration) string {
		return fmt.Sprintf("%s (%.0f %%)", wait(d), 100*float64(d)/float64(t.Round))
	}
	s.say(fmt.Sprintf("A round takes %s at the planned load: driving %s, stopping %s, loading at the market %s, unloading %s, empties %s.",
		wait(t.Round), part(t.Driving), part(t.Stopping), part(t.Loading), part(t.Unloading), part(t.Empties)))
	if t.Others > 0 {
		s.say(fmt.Sprintf("In each interval of %s %s also spends %s on other routes and waits %s.", wait(t.Interval), r.Handler, wait(t.Others), wait(t.Waiting)))
	} else {
		s.say(fmt.Sprintf("Of the interval of %s that leaves %s of waiting; %s drives no other route.", wait(t.Interval), wait(t.Waiting), r.Handler))
	}
	return s
}

// stopsOf tells for each stop what it costs and the next best route.
func stopsOf(why *routing.Reasons, r routing.Route) Section {
	s := Section{Title: "Its stops"}
	for i, stop := range r.Stops {
		for _, w := range why.Rack(stop.Rack) {
			if w.Route == r.Route && w.Stop == i+1 {
				s.say(fmt.Sprintf("Stop %d is rack %s, after %s: %s containers a round. %s %s", i+1, stop.Rack, wait(stop.Arrive), people(stop.Containers), saves(w), nextBest(w)))
			}
		}
	}
	return s
}

func saves(w routing.Why) string {
	return fmt.Sprintf("Without it a round would be %s and %s shorter.", metresText(w.Saved), clockText(w.SavedTime))
}

// nextBest tells the route that could take a stop at least cost, or why none can.
func nextBest(w routing.Why) string {
	switch {
	case len(w.Others) == 0:
		return "There is no other route."
	case w.Others[0].Forbidden == "":
		return "Next best: " + otherText(w.Others[0])
	default:
		return "No other route can take it as the routes are. Nearest: " + otherText(w.Others[0])
	}
}

// otherText tells what another route would cost, or what forbids it.
func otherText(o routing.OtherRoute) string {
	if o.Forbidden != "" {
		return fmt.Sprintf("route %s can not, because %s.", o.Route, o.Forbidden)
	}
	return fmt.Sprintf("route %s as stop %d, %s and %s in all.", o.Route, o.Stop, more(o.More, metresText), more(o.MoreTime, clockText))
}

// more writes "12 m more", "12 m less", "no more".
func more[T units.Length | time.Duration](x T, text func(T) string) string {
	switch {
	case x > 0:
		return text(x) + " more"
	case x < 0:
		return text(-x) + " less"
	default:
		return text(0) + " more"
	}
}

func metresText(l units.Length) string { return fmt.Sprintf("%.4g m", l.Metres()) }

func clockText(d time.Duration) string { return fmt.Sprintf("%.0f s", d.Seconds()) }

func whyOf(w routing.Why) Section {
	s := Section{Title: fmt.Sprintf("Why it is stop %d of route %s", w.Stop, w.Route)}
	s.say(saves(w))
	for i, o := range w.Others {
		if i == mostOthers {
			s.say(fmt.Sprintf("%s more cost more or can not.", counted(len(w.Others)-i, "route")))
			break
		}
		s.say(strings.ToUpper(otherText(o)[:1]) + otherText(o)[1:])
	}
	if len(w.Others) == 0 {
		s.say("There is no other route.")
	}
	return s
}

func missingOf(m routing.Missing) Section {
	s := Section{Title: "Why no round serves " + routing.LoopNames(m.Loops)}
	s.say(m.Detail + ".")
	if len(m.Changes) == 0 {
		s.say("Nothing that was tried would help alone.")
		return s
	}
	s.say("Each of these alone would help; all were tried.")
	for _, c := range m.Changes {
		s.say(c.Text)
	}
	return s
}

// takeOf lists what a round takes from the market.
func takeOf(t *Reasons, route string) Section {
	s := Section{Title: "What a round takes from the market, in picking order"}
	picks, _ := t.Take(route)
	for _, k := range picks {
		where := k.Address
		if where == "" {
			where = "no address"
		}
		s.say(fmt.Sprintf("%s: %s in %s, %s a round; to %s.", where, k.Part, k.Container, people(k.Containers), dropsText(k.Drops)))
	}
	return s
}

// dropsText names the lanes of a pick, those of one level together.
func dropsText(drops []Drop) string {
	var texts []string
	for i, d := range drops {
		if i > 0 && d.Stop == drops[i-1].Stop && d.Level == drops[i-1].Level && d.Station == drops[i-1].Station {
			texts[len(texts)-1] += fmt.Sprintf(", %d", d.Lane)
			continue
		}
		texts = append(texts, fmt.Sprintf("stop %d, rack %s, level %d, lane %d", d.Stop, d.Rack, d.Level, d.Lane))
	}
	return strings.Join(texts, "; ")
}

func departuresOf(r routing.Route) Section {
	s := Section{Title: "When it leaves"}
	for _, t := range r.Timetable {
		var times []string
		for _, d := range t.Departures {
			times = append(times, time.Time{}.Add(d).Format("15:04"))
		}
		if len(times) == 0 {
			times = []string{"never"}
		}
		s.say(fmt.Sprintf("Shift %s: %s.", t.Shift, strings.Join(times, ", ")))
	}
	return s
}
