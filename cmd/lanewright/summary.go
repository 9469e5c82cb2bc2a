package main

import (
	"fmt"
	"io"
	"strconv"
	"time"

	"lanewright/planner"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
)

// writeSummary shows a plan to people: its sums, its cells and its routes.
func writeSummary(w io.Writer, made *planner.Plan) {
	s := made.Summary()
	fmt.Fprintf(w, "%s, facts %.12s, seed %d, rules %s\n\n", made.Plant, made.Revision, made.Settings.Plant.Seed, made.Version)
	rows := [][]string{
		{"loops", strconv.Itoa(s.Loops), fmt.Sprintf("%d with a lane for each container", s.LoopsPlaced)},
		{"containers", strconv.Itoa(s.Containers), fmt.Sprintf("%d without a lane", s.ContainersUnplaced)},
		{"lanes", strconv.Itoa(s.LanesUsed), fmt.Sprintf("%d free, %d for empties", s.LanesFree, s.ReturnLanes)},
		{"racks", strconv.Itoa(s.Racks), fmt.Sprintf("%d of them proposed", s.RacksProposed)},
		{"routes", strconv.Itoa(s.Routes), plural(s.Handlers, "handler") + withoutVehicle(made) + unserved(made)},
		{"moves", strconv.Itoa(s.Moves), plural(s.MovedContainers, "container")},
		{"findings", strconv.Itoa(s.Errors + s.Warnings + s.Notes), severities(made.Findings)},
	}
	if line := proof(made); line != nil {
		rows = append(rows, line)
	}
	table(w, rows)
	writeCells(w, made)
	writeRoutes(w, made)
	fmt.Fprintln(w)
}

// withoutVehicle says how many handlers a plan has that no vehicle is there for: what
// somebody asks first when one is away.
func withoutVehicle(made *planner.Plan) string {
	lacking := 0.0
	for _, f := range made.Findings {
		if f.Code == routing.CodeTooFewVehicles {
			lacking += f.Measure.Value - f.Measure.Limit
		}
	}
	if lacking == 0 {
		return ""
	}
	return fmt.Sprintf(", %.0f of them without a vehicle", lacking)
}

// unserved says how many loops no round serves.
func unserved(made *planner.Plan) string {
	n := made.LoopsUnserved()
	if n == 0 {
		return ""
	}
	return fmt.Sprintf("; no round serves %s on %s", plural(n, "loop"), plural(len(made.Unserved), "rack"))
}

// lanes counts the lanes of a cell over all width classes.
type lanes struct{ needed, placed int }

// writeCells shows for each cell what an engineer balances: lanes needed and
// got, and how far the layout is from what no layout can beat.
func writeCells(w io.Writer, made *planner.Plan) {
	if len(made.Cells) == 0 {
		return
	}
	count := map[plant.CellCode]lanes{}
	for _, b := range made.Balance {
		l := count[b.Cell]
		count[b.Cell] = lanes{l.needed + b.Needed, l.placed + b.Placed}
	}
	rows := [][]string{{"cell", "lanes needed", "got", "containers without", "bound", "effort", "bound"}}
	for _, c := range made.Cells {
		l := count[c.Cell]
		rows = append(rows, []string{
			string(c.Cell), strconv.Itoa(l.needed), strconv.Itoa(l.placed),
			strconv.Itoa(c.Unplaced), strconv.Itoa(c.UnplacedBound), kilograms(c.Effort), kilograms(c.EffortBound),
		})
	}
	list(w, rows)
}

func kilograms(perHour float64) string { return fmt.Sprintf("%.1f kg/h", perHour) }

func writeRoutes(w io.Writer, made *planner.Plan) {
	if len(made.Routes) == 0 {
		return
	}
	rows := [][]string{{"route", "vehicle", "handler", "every", "round", "busy", "stops", "containers", "metres"}}
	for _, r := range made.Routes {
		rows = append(rows, []string{
			r.Route, string(r.Vehicle), r.Handler, clock(r.Interval), clock(r.Round),
			fmt.Sprintf("%.0f %%", 100*r.Busy()), strconv.Itoa(len(r.Stops)),
			fmt.Sprintf("%.1f", r.LoadMean), fmt.Sprintf("%.0f", r.Travel.Metres()),
		})
	}
	list(w, rows)
}

// rowsShown is how many cells or routes people get to read.
const rowsShown = 40

// list writes a table below a heading, cut where it gets too long to read.
func list(w io.Writer, rows [][]string) {
	fmt.Fprintln(w)
	table(w, rows[:min(len(rows), rowsShown+1)])
	if more := len(rows) - 1 - rowsShown; more > 0 {
		fmt.Fprintf(w, "and %d more; the plan document (--out) and the report (--report) have all\n", more)
	}
}

func clock(d time.Duration) string {
	if d >= 10*time.Hour {
		return fmt.Sprintf("%.1f h", d.Hours())
	}
	return fmt.Sprintf("%.1f min", d.Minutes())
}
