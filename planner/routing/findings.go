package routing

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
)

// Codes of findings about refill routes.
const (
	CodeNoVehicles        = "routes.no-vehicles"
	CodeNoMarket          = "routes.no-market"
	CodeNoAisles          = "routes.no-aisles"
	CodeNothingToRefill   = "routes.nothing-to-refill"
	CodeRackWithoutPoint  = "routes.rack-without-point"
	CodeStopUnreachable   = "routes.stop-unreachable"
	CodeNoRoundFits       = "routes.no-round-fits"
	CodeIntervalShortened = "routes.interval-shortened"
	CodeIntervalsDiffer   = "routes.intervals-differ"
	CodeRackSplit         = "routes.rack-split"
	CodeTooFewVehicles    = "routes.more-handlers-than-vehicles"
	CodeNoDeparture       = "routes.no-departure"
	CodeParking           = "routes.parking-unreachable"
	CodeMeetInAisle       = "routes.meet-in-aisle"
	CodeMarketFull        = "routes.market-full"
	CodeTurnAtStop        = "routes.turn-at-stop"
	CodeRuleBroken        = "routes.rule-broken"
	CodeTodayDoesNotFit   = "routes.today-does-not-fit"
	CodeTodayLacksRack    = "routes.today-lacks-rack"
	CodeTodayCompared     = "routes.today-compared"
	CodeMoreMoved         = "routes.more-moved-than-allowed"
)

func noVehicles(racks int) finding.Finding {
	return finding.Finding{
		Severity: finding.Note, Code: CodeNoVehicles,
		Summary: fmt.Sprintf("No refill routes were made for %s: there are no vehicles", count(racks, "rack")),
		Detail:  "Rounds need something that carries: a cart, a tow train, or a person with both hands, with its capacity, speed and times.",
		Remedy:  "Fill the sheets Vehicles, Aisle points and Aisles to have routes planned.",
	}
}

func noMarket(racks int) finding.Finding {
	return finding.Finding{
		Severity: finding.Warning, Code: CodeNoMarket,
		Summary: fmt.Sprintf("No refill routes were made for %s: no vehicle has a market to start from", count(racks, "rack")),
		Detail:  "Rounds start and end at a market, where full containers are loaded.",
		Remedy:  "Give the kind market to one aisle point; with several, name one for each vehicle type in From market.",
	}
}

func noAisles(racks int) finding.Finding {
	return finding.Finding{
		Severity: finding.Warning, Code: CodeNoAisles,
		Summary: fmt.Sprintf("No refill routes were made for %s: there are no aisles", count(racks, "rack")),
		Detail:  "Rounds drive along the rows of the sheet Aisles.",
		Remedy:  "Fill the sheet Aisles: From and To are enough, the length is then the straight line.",
	}
}

func nothingToRefill(x *plant.Index, s site) finding.Finding {
	f := rackFinding(x, s, finding.Note, CodeNothingToRefill)
	f.Summary = fmt.Sprintf("No round stops at rack %s: nothing on it is used", s.rack)
	f.Detail = "All its loops have a use of 0, so no container of it is ever emptied."
	f.Remedy = "Nothing to do, unless a product's units per day are missing."
	return f
}

func rackWithoutPoint(x *plant.Index, s site) finding.Finding {
	f := rackFinding(x, s, finding.Error, CodeRackWithoutPoint)
	f.Summary = fmt.Sprintf("No round can serve rack %s: its aisle point %q is not known", s.rack, s.point)
	f.Detail = "A rack is served at an aisle point. It gets no refill in this plan."
	f.Remedy = "Give the rack a point of the sheet Aisle points."
	return f
}

func (w *work) intervalShortened(s site, to time.Duration) finding.Finding {
	f := rackFinding(w.in.Index, s, finding.Warning, CodeIntervalShortened)
	f.Summary = fmt.Sprintf("Rack %s is served every %s instead of every %s", s.rack, minutes(to), minutes(s.interval))
	f.Detail = "What one of its loops needs at its own interval fits no round, even alone. At the shorter interval, the longest of the plant's choices that does, it fits. Being served more often is safe; it costs more rounds."
	f.Remedy = "Use a vehicle that carries more, or share the loop between racks, to keep the longer interval."
	f.Measure = &finding.Measure{Value: s.interval.Minutes(), Limit: to.Minutes(), Unit: "min"}
	return f
}

// noteIntervals says which loops make a rack be served more often than the
// others on it need.
func (w *work) noteIntervals(s site) {
	var next time.Duration
	var names []string
	for _, d := range s.demands {
		switch {
		case d.Interval == s.interval:
			names = append(names, string(d.Loop.Part))
		case next == 0 || d.Interval < next:
			next = d.Interval
		}
	}
	if next == 0 {
		return
	}
	f := rackFinding(w.in.Index, s, finding.Note, CodeIntervalsDiffer)
	more := float64(time.Hour)/float64(s.interval) - float64(time.Hour)/float64(next)
	rounds := fmt.Sprintf("%.3g rounds", more)
	if more == 1 {
		rounds = "1 round"
	}
	f.Summary = fmt.Sprintf("Rack %s is served every %s because of %s; its other loops need it only every %s: %s more an hour",
		s.rack, minutes(s.interval), list(names), minutes(next), rounds)
	f.Detail = "A rack is served at the shortest interval of its loops. The others are then served more often than they were sized for, which is safe."
	f.Remedy = "Give the loops of a rack one interval, or keep those of short interval on racks of their own."
	f.Measure = &finding.Measure{Value: s.interval.Minutes(), Limit: next.Minutes(), Unit: "min"}
	w.plan.Findings = append(w.plan.Findings, f)
}

// noteSplits names the racks that more than one route serves.
func (w *work) noteSplits(served []site) {
	routes := map[plant.RackCode][]string{}
	for _, r := range w.plan.Routes {
		for _, s := range r.Stops {
			routes[s.Rack] = append(routes[s.Rack], r.Route)
		}
	}
	for _, s := range served {
		names := routes[s.rack]
		if len(names) < 2 {
			continue
		}
		delete(routes, s.rack)
		f := rackFinding(w.in.Index, s, finding.Note, CodeRackSplit)
		f.Summary = fmt.Sprintf("Rack %s is too much for one round: its loops are shared by routes %s", s.rack, list(names))
		f.Detail = "One round of the vehicle chosen can not carry or handle what all its loops need in one interval. Each loop is refilled by one of these routes."
		f.Remedy = "Nothing to do; a larger vehicle, a shorter interval or loops moved to another rack would save a stop."
		w.plan.Findings = append(w.plan.Findings, f)
	}
}

// noteVehicles compares the handlers of each vehicle type with its vehicles.
func (w *work) noteVehicles(handlers []staff) {
	for _, v := range w.fleet {
		n := 0
		for _, h := range handlers {
			if h.vehicle == v {
				n++
			}
		}
		if n <= v.Count {
			continue
		}
		w.plan.Findings = append(w.plan.Findings, finding.Finding{
			Severity: finding.Warning, Code: CodeTooFewVehicles, Origin: w.in.Index.Plant.At(v.Origin, "Count"),
			Subject: finding.Subject{Vehicle: string(v.code())},
			Summary: fmt.Sprintf("The routes need %s of type %s, and there %s", count(n, "vehicle"), v.code(), isAre(v.Count)),
			Detail: fmt.Sprintf("The routes of type %s are shared out among %s, each driving one vehicle, and are planned as if there were that many. The search found no way that needs fewer; it does not prove that there is none.",
				v.code(), count(n, "handler")),
			Remedy: fmt.Sprintf("Get %s more, or let handlers do with fewer: longer refill intervals make fewer rounds, cells that work the same shifts can share rounds, and a higher busy limit lets a handler drive more of them. A further vehicle type may take some of the rounds.",
				count(n-v.Count, "vehicle")),
			Measure: &finding.Measure{Value: float64(n), Limit: float64(v.Count), Unit: "vehicles"},
		})
	}
}

// noDepartures reports the shifts of r in which no round of it can end.
func noDepartures(shifts []plant.Shift, r Route) finding.List {
	var found finding.List
	for i, t := range r.Timetable {
		if len(t.Departures) > 0 {
			continue
		}
		found = append(found, finding.Finding{
			Severity: finding.Warning, Code: CodeNoDeparture, Origin: shifts[i].Origin, Subject: finding.Subject{Route: r.Route},
			Summary: fmt.Sprintf("Route %s never leaves in shift %s: its round of %s can not end in the %s worked", r.Route, t.Shift, minutes(r.Round), minutes(shifts[i].Net())),
			Detail:  "A round leaves only when it can end within the shift, after the earlier rounds of the same handler.",
			Remedy:  "Lengthen the shift, take it from the cells that do not work in it, or shorten the round.",
			Measure: &finding.Measure{Value: r.Round.Minutes(), Limit: shifts[i].Net().Minutes(), Unit: "min"},
		})
	}
	return found
}

// list joins names as people do, naming each once and at most six.
func list(names []string) string {
	names = slices.Clone(names)
	slices.Sort(names)
	names = slices.Compact(names)
	const most = 6
	if len(names) > most {
		return strings.Join(names[:most], ", ") + " and " + strconv.Itoa(len(names)-most) + " more"
	}
	return finding.And(names)
}

func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return strconv.Itoa(n) + " " + noun + "s"
}

func isAre(n int) string {
	switch n {
	case 0:
		return "is none"
	case 1:
		return "is 1"
	default:
		return "are " + strconv.Itoa(n)
	}
}
