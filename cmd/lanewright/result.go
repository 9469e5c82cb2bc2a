package main

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"lanewright/planner"
	"lanewright/planner/simulation"
)

// writeResult shows what a play measured: the verdict first, then what is behind
// it.
func writeResult(w io.Writer, made *planner.Plan, r simulation.Result) {
	fmt.Fprintf(w, "%s\n\n", wrap(verdict(r), ""))
	fmt.Fprintln(w, wrap(played(made, r), ""))
	writeShort(w, r)
	writePlayedRoutes(w, r)
	writeOverfull(w, made, r)
	fmt.Fprintln(w)
}

// verdict is the headline: how many loops are proved, which run short, which could
// not be played.
func verdict(r simulation.Result) string {
	count := map[simulation.Verdict]int{}
	var short []string
	for _, l := range r.Loops {
		count[l.Verdict]++
		if l.Verdict == simulation.Short {
			short = append(short, pointOfUse(string(l.Loop.Part), string(l.Loop.Cell), string(l.Loop.Station)))
		}
	}
	text := fmt.Sprintf("%d of %s proved", count[simulation.Proved], plural(len(r.Loops), "loop"))
	switch n := len(short); {
	case n == 1:
		text += "; 1 runs short: " + short[0]
	case n > 1:
		text += fmt.Sprintf("; %d run short: %s", n, some(short, 5))
	}
	if n := count[simulation.NotPlayed]; n > 0 {
		text += fmt.Sprintf("; %d not played, for want of a lane, a round or any use", n)
	}
	return text + "."
}

func pointOfUse(part, cell, station string) string { return part + " at " + cell + "/" + station }

// some joins the first few of a list and says how many more there are.
func some(list []string, most int) string {
	if more := len(list) - most; more > 0 {
		return fmt.Sprintf("%s and %d more", strings.Join(list[:most], ", "), more)
	}
	return strings.Join(list, ", ")
}

// played says what the verdict rests on.
func played(made *planner.Plan, r simulation.Result) string {
	uses := map[simulation.Use]string{
		simulation.UseModel: "each loop used by its own demand model", simulation.UseRandom: "products built in random order",
		simulation.UseLevelled: "products spread evenly over the day",
	}
	s := r.Settings
	text := fmt.Sprintf("%s, facts %.12s, seed %d: played %s of %s after %s of run-in, %s; %d events.",
		made.Plant, made.Revision, r.Seed, plural(s.Replications, "time"), plural(s.Weeks, "week"), plural(s.WarmUp, "week"), uses[s.Use], r.Events)
	for _, l := range r.Loops {
		if l.Ideal {
			return text + " The plan has no routes: rounds came to each loop at its own interval, never late and never full."
		}
	}
	return text
}

func writeShort(w io.Writer, r simulation.Result) {
	rows := [][]string{{"runs short", "cell", "station", "cycles short", "likely between", "allowed", "times", "mean", "longest", "containers", "would need", "mostly because"}}
	for _, l := range r.Loops {
		if l.Verdict != simulation.Short {
			continue
		}
		rows = append(rows, []string{
			string(l.Loop.Part), string(l.Loop.Cell), string(l.Loop.Station),
			hundredth(l.Rate), hundredth(l.Low) + " and " + hundredth(l.High), hundredth(l.Allowed),
			shortages(l), clock(l.ShortMean), clock(l.ShortLongest),
			strconv.Itoa(l.Containers), enough(l), l.Cause.Words(),
		})
	}
	if len(rows) > 1 {
		list(w, rows)
	}
}

// hundredth writes a share as a percentage.
func hundredth(share float64) string { return fmt.Sprintf("%.2f %%", 100*share) }

// shortages counts those that came to an end.
func shortages(l simulation.LoopResult) string {
	if l.Shortages == 0 {
		return "never ends"
	}
	return strconv.FormatInt(l.Shortages, 10)
}

// enough is the number of containers with which a loop was proved in play.
func enough(l simulation.LoopResult) string {
	if l.Enough == 0 {
		return "more don't help"
	}
	return strconv.Itoa(l.Enough)
}

func writePlayedRoutes(w io.Writer, r simulation.Result) {
	if len(r.Routes) == 0 {
		return
	}
	rows := [][]string{{"route", "rounds", "late", "by", "dropped", "round", "95 % within", "carries", "95 % up to", "holds", "left behind"}}
	for _, t := range r.Routes {
		rows = append(rows, []string{
			t.Route, strconv.FormatInt(t.Rounds, 10), strconv.FormatInt(t.Late, 10), late(t), strconv.FormatInt(t.Dropped, 10),
			clock(t.RoundMean), clock(t.Round95), fmt.Sprintf("%.1f", t.LoadMean), strconv.Itoa(t.Load95), strconv.Itoa(t.Capacity),
			strconv.FormatInt(t.LeftBehind, 10),
		})
	}
	list(w, rows)
}

func late(t simulation.RouteResult) string {
	if t.Late == 0 {
		return "-"
	}
	return clock(t.LateMean)
}

// writeOverfull lists the racks before whose visits more empties waited than their
// return lanes hold, oftener than the plant's service level leaves, the worst
// first.
func writeOverfull(w io.Writer, made *planner.Plan, r simulation.Result) {
	allowed := 1 - made.Settings.Plant.ServiceLevel.Float64()
	var racks []simulation.RackResult
	seldom := 0
	for _, k := range r.Racks {
		switch {
		case overfull(k) > allowed:
			racks = append(racks, k)
		case k.Overfull > 0:
			seldom++
		}
	}
	slices.SortStableFunc(racks, func(a, b simulation.RackResult) int { return cmp.Compare(overfull(b), overfull(a)) })
	rows := [][]string{{"empties overflow at", "visits", "too many", "of visits", "longest", "return lanes hold"}}
	for _, k := range racks {
		rows = append(rows, []string{
			string(k.Rack), strconv.FormatInt(k.Visits, 10), strconv.FormatInt(k.Overfull, 10),
			hundredth(overfull(k)), millimetres(k.MostMM), millimetres(k.RoomMM),
		})
	}
	if len(racks) > 0 {
		list(w, rows)
	}
	if seldom > 0 {
		fmt.Fprintf(w, "\nempties overflow at %s besides, within the %s of visits that the service level leaves\n", plural(seldom, "rack"), hundredth(allowed))
	}
}

func overfull(k simulation.RackResult) float64 {
	return float64(k.Overfull) / float64(max(1, k.Visits))
}

func millimetres(mm float64) string { return fmt.Sprintf("%.0f mm", mm) }

// proof is the line of the plan's summary that says what its play showed.
func proof(p *planner.Plan) []string {
	if p.Proof == nil {
		return nil
	}
	count := map[simulation.Verdict]int{}
	for _, l := range p.Proof.Loops {
		count[l.Verdict]++
	}
	return []string{"proved", strconv.Itoa(count[simulation.Proved]),
		fmt.Sprintf("%s short in play, %d not played", plural(count[simulation.Short], "loop"), count[simulation.NotPlayed])}
}
