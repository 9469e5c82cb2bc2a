package simulation

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
)

// Codes of the findings of this stage.
const (
	CodeRunsShort   = "simulation.runs-short"
	CodeVehicleFull = "simulation.vehicle-full"
	CodeRoundsLate  = "simulation.rounds-late"
	CodeRoundsApart = "simulation.rounds-apart"
	CodeReturnsFull = "simulation.returns-overfull"
	CodeTooMuch     = "simulation.too-much"
)

// TooMuch says of a plan that it was not played.
func TooMuch(err error) finding.Finding {
	return finding.Finding{
		Severity: finding.Warning, Code: CodeTooMuch,
		Summary: "The plan was not played: " + err.Error(),
		Detail:  "Every container that is opened, collected and brought is an event of its own. So many mean a rate, a pack or an interval in a wrong unit.",
		Remedy:  "Check the largest rates, the smallest packs and the shortest intervals, or set fewer simulation_weeks or simulation_replications.",
	}
}

// findings says what the play found wrong: loops that run short, and the routes
// and racks behind it.
func (sc *script) findings(r *Result) finding.List {
	var list finding.List
	for i := range r.Loops {
		if r.Loops[i].Verdict == Short {
			list = append(list, sc.runsShort(i, &r.Loops[i]))
		}
	}
	for i := range r.Routes {
		list = append(list, sc.routeFindings(i, r)...)
	}
	for i := range r.Racks {
		list = append(list, sc.returnsFull(&r.Racks[i])...)
	}
	return list
}

func (sc *script) runsShort(i int, l *LoopResult) finding.Finding {
	loop := &sc.loops[i]
	f := finding.Finding{
		Severity: finding.Warning, Code: CodeRunsShort, Origin: loop.Origin, Source: "planning rules, section 10",
		Subject: subject(l.Loop),
		Measure: &finding.Measure{Value: 100 * l.Rate, Limit: 100 * l.Allowed, Unit: "% of cycles"},
		Summary: fmt.Sprintf("Part %s at station %s of cell %s ran short in %s of its refill cycles; its service level leaves %s",
			l.Loop.Part, l.Loop.Station, l.Loop.Cell, percent(l.Rate), percent(l.Allowed)),
		Detail: fmt.Sprintf("Played over %d cycles: %s, %s long on average and at most %s. %s",
			l.Cycles, times(l.Shortages, "shortage"), minutes(l.ShortMean), minutes(l.ShortLongest), sc.because(loop, l)),
		Remedy: sc.remedy(loop, l),
	}
	if loop.Measure == plant.ServiceFillRate {
		f.Measure = &finding.Measure{Value: 100 * l.FillRate, Limit: 100 * (1 - l.Allowed), Unit: "% of pieces there when wanted"}
		f.Summary = fmt.Sprintf("Part %s at station %s of cell %s had %s of its pieces there when wanted; its service level asks for %s",
			l.Loop.Part, l.Loop.Station, l.Loop.Cell, percent(l.FillRate), percent(1-l.Allowed))
	}
	return f
}

// because says what most of the shortages came from.
func (sc *script) because(loop *loopPlan, l *LoopResult) string {
	switch route := routesOf(loop); l.Cause {
	case CauseCapacity:
		return fmt.Sprintf("Most of them began while its containers waited for a round of route %s with room: full rounds left %s of it behind.", route, times(l.LeftBehind, "signal"))
	case CauseLate:
		return fmt.Sprintf("Most of them began while rounds of route %s came late.", route)
	case CauseGap:
		return fmt.Sprintf("Most of them began where more than %s of working time lay between two rounds of route %s, as at the end of a shift or where shifts overlap; the loop is sized for a round every %s.", minutes(time.Duration(loop.interval)), route, minutes(time.Duration(loop.interval)))
	case CauseContainers:
		return fmt.Sprintf("It has %s in lanes where the rule asks for %d.", containers(loop.containers), loop.Rule)
	default:
		return fmt.Sprintf("Most of them began because more was used than the %s pieces that it covers.", number(loop.Covered.Float64()))
	}
}

// routesOf names the routes that serve a loop.
func routesOf(l *loopPlan) string {
	var names []string
	for _, h := range l.homes {
		if h.route != nil && !slices.Contains(names, h.route.Route.Route) {
			names = append(names, h.route.Route.Route)
		}
	}
	return strings.Join(names, " and ")
}

func (sc *script) remedy(loop *loopPlan, l *LoopResult) string {
	if l.Enough > 0 {
		return fmt.Sprintf("With %s, %d more than in its lanes, it was played without running short more often than allowed.", containers(l.Enough), l.Enough-l.Containers)
	}
	switch l.Cause {
	case CauseCapacity:
		return "Take loops off the route, run it at a shorter interval, or use a larger vehicle; more containers do not help."
	case CauseLate:
		return "Shorten the rounds of its handler: fewer stops, another handler, or a longer interval."
	case CauseContainers:
		return fmt.Sprintf("Give it lanes for %s.", containers(loop.Rule))
	default:
		return fmt.Sprintf("Even %d containers more were not enough in play: shorten the refill interval, or look at how its use varies.", tries)
	}
}

// routeFindings says what is wrong with a route, where loops suffer from it.
func (sc *script) routeFindings(i int, r *Result) finding.List {
	res, route := &r.Routes[i], &sc.routes[i]
	base := finding.Finding{Severity: finding.Warning, Subject: finding.Subject{Route: res.Route, Vehicle: string(route.Vehicle)}, Source: "planning rules, section 10"}
	var list finding.List
	if loops := suffering(sc, r, i, CauseCapacity); loops != "" {
		f := base
		f.Code = CodeVehicleFull
		f.Measure = &finding.Measure{Value: float64(res.FullRounds), Limit: float64(res.Rounds), Unit: "rounds"}
		f.Summary = fmt.Sprintf("Route %s leaves containers behind: %d of %d rounds were full, with %.4g signals left waiting on each", res.Route, res.FullRounds, res.Rounds, float64(res.LeftBehind)/float64(max(1, res.FullRounds)))
		f.Detail = fmt.Sprintf("A round carries %.4g containers on average, 95 %% of them no more than %d; the vehicle holds %s. For that reason these run short: %s.", res.LoadMean, res.Load95, vehicleHolds(route), loops)
		f.Remedy = "Run the route at a shorter interval, move racks to another route, or use a larger vehicle."
		list = append(list, f)
	}
	if loops := suffering(sc, r, i, CauseLate); loops != "" || 20*(res.Late+res.Dropped) > res.Rounds {
		f := base
		f.Code = CodeRoundsLate
		f.Measure = &finding.Measure{Value: float64(res.Late + res.Dropped), Limit: float64(res.Rounds + res.Dropped), Unit: "rounds"}
		f.Summary = fmt.Sprintf("Rounds of route %s leave late: %d of %d, by %s on average", res.Route, res.Late, res.Rounds, minutes(res.LateMean))
		if res.Dropped > 0 {
			f.Summary += fmt.Sprintf("; %d more could not be driven within their shift", res.Dropped)
		}
		f.Detail = fmt.Sprintf("A round takes %s on average, 95 %% of them no more than %s; those of its handler must fit one after the other into an interval of %s.", minutes(res.RoundMean), minutes(res.Round95), minutes(route.Interval))
		if loops != "" {
			f.Detail += " For that reason these run short: " + loops + "."
		}
		f.Remedy = "Give the handler fewer stops or fewer routes, or a longer interval."
		list = append(list, f)
	}
	if loops := suffering(sc, r, i, CauseGap); loops != "" {
		f := base
		f.Code = CodeRoundsApart
		f.Measure = &finding.Measure{Value: res.GapMost.Minutes(), Limit: route.Interval.Minutes(), Unit: "min"}
		f.Summary = fmt.Sprintf("Rounds of route %s are up to %s of working time apart, its loops are sized for %s", res.Route, minutes(res.GapMost), minutes(route.Interval))
		f.Detail = "The last round of a shift must end in it, and the next shift begins to count anew; where shifts overlap, both use containers between two rounds of one. What is emptied in between waits longer than an interval. For that reason these run short: " + loops + "."
		f.Remedy = "Let the plan cover the ends of shifts (setting cover_shift_ends), choose an interval that divides the working time of the shift, or shorten the round."
		list = append(list, f)
	}
	return list
}

func vehicleHolds(r *routePlan) string {
	if r.mass < 0 {
		return fmt.Sprint(r.containers)
	}
	return fmt.Sprintf("%d, or %.4g kg", r.containers, r.mass)
}

// suffering names the loops of a route that run short for a cause.
func suffering(sc *script, r *Result, route int, c Cause) string {
	const most = 5
	var names []string
	for i := range r.Loops {
		l := &r.Loops[i]
		if l.Verdict == Short && l.Cause == c && sc.loops[i].homes[0].route != nil && sc.loops[i].homes[0].route.index == route {
			names = append(names, fmt.Sprintf("%s at %s/%s", l.Loop.Part, l.Loop.Cell, l.Loop.Station))
		}
	}
	if more := len(names) - most; more > 0 {
		names = append(names[:most], fmt.Sprintf("and %d more", more))
	}
	return strings.Join(names, ", ")
}

// returnsFull says where empties find no room on the return lanes oftener than the
// plant's service level leaves.
func (sc *script) returnsFull(rack *RackResult) finding.List {
	share := float64(rack.Overfull) / float64(max(1, rack.Visits))
	allowed := 1 - sc.in.Plant.ServiceLevel.Float64()
	if low, _ := wilson(share, float64(rack.Visits)/4, normalQuantile(1-0.01/float64(len(sc.racks)))); rack.RoomMM == 0 || low <= allowed {
		return nil
	}
	f := finding.Finding{
		Severity: finding.Warning, Code: CodeReturnsFull, Subject: finding.Subject{Rack: string(rack.Rack)}, Source: "planning rules, section 10",
		Measure: &finding.Measure{Value: rack.MostMM, Limit: rack.RoomMM, Unit: "mm"},
		Summary: fmt.Sprintf("Before %s of the visits to rack %s more empties waited than its return lanes hold", percent(share), rack.Rack),
		Detail:  fmt.Sprintf("They were up to %.0f mm long, its return lanes hold %.0f mm.", rack.MostMM, rack.RoomMM),
		Remedy:  "Visit the rack more often, or add a return lane or level.",
	}
	if r := sc.in.Index.Racks[rack.Rack]; r != nil {
		f.Origin, f.Subject.Cell = r.Origin, string(r.Cell)
	}
	return finding.List{f}
}

func subject(k demand.Key) finding.Subject {
	return finding.Subject{Part: string(k.Part), Cell: string(k.Cell), Station: string(k.Station)}
}

func percent(share float64) string { return fmt.Sprintf("%.3g %%", 100*share) }

func number(v float64) string { return fmt.Sprintf("%.6g", v) }

// minutes writes a time as people do: in minutes, a long one in hours.
func minutes(d time.Duration) string {
	if d >= 10*time.Hour {
		return fmt.Sprintf("%.3g h", d.Hours())
	}
	return fmt.Sprintf("%.3g min", d.Minutes())
}

func times(n int64, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func containers(n int) string { return times(int64(n), "container") }
