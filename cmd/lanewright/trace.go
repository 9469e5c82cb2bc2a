package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strconv"
	"time"

	"github.com/spf13/pflag"

	"lanewright/api/plot"
	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/plant"
	"lanewright/planner/simulation"
)

// traceOptions say which loop is followed, when, and where it is drawn.
type traceOptions struct {
	which
	replication int
	day, plot   string
}

// allDays is the value of --day that means the whole counted time.
const allDays = "all"

func (o *traceOptions) flags(flags *pflag.FlagSet) {
	flags.StringVar(&o.part, "trace", "", "follow this part instead, event by event")
	flags.StringVar(&o.cell, "cell", "", "the cell of --trace, where the part is used in several")
	flags.StringVar(&o.station, "station", "", "the station of --trace, where the part is used at several")
	flags.IntVar(&o.replication, "replication", 1, "the replication that --trace follows, counted from 1")
	flags.StringVar(&o.day, "day", "", "the day that --trace shows, such as 2027-03-22, or all (default the first on which it runs short, else the first)")
	flags.StringVar(&o.plot, "plot", "", "draw the trace into this file (.svg)")
}

func (o traceOptions) check() error {
	if o.part == "" {
		for _, f := range [][2]string{{"cell", o.cell}, {"station", o.station}, {"day", o.day}, {"plot", o.plot}} {
			if f[1] != "" {
				return usagef("--%s needs --trace PART", f[0])
			}
		}
		return nil
	}
	if _, err := time.Parse(time.DateOnly, o.day); err != nil && o.day != "" && o.day != allDays {
		return usagef("--day is %q; a day is written 2027-03-22, or all", o.day)
	}
	return nil
}

// traceLoop plays one replication of a loop and shows what it lived through.
func (p *program) traceLoop(ctx context.Context, facts *plant.Plant, made *planner.Plan, o simulateOptions) error {
	play := made.Settings.Simulation
	if o.trace.replication < 1 || o.trace.replication > play.Replications {
		return usagef("--replication is %d; there are %d", o.trace.replication, play.Replications)
	}
	loop, ok, err := p.loop(made, o.trace.which, "--trace")
	if err != nil || !ok {
		return err
	}
	trace, err := simulation.TraceLoop(ctx, planner.SimulationInput(facts, made), play, made.Settings.Plant.Seed, loop.Key, o.trace.replication-1)
	if errors.Is(err, simulation.ErrNotPlayed) {
		return usagef("part %s at station %s of cell %s can't be followed: it has no lane, or no round serves it", loop.Part, loop.Station, loop.Cell)
	}
	if err != nil {
		return err
	}
	window, err := o.trace.window(trace)
	if err != nil {
		return err
	}
	return p.showDrawn(o.json, o.trace.plot, func(w io.Writer) error { return plot.Trace(w, trace, window) },
		func() any { return wire.NewTrace(trace, o.trace.replication, play.Weeks) },
		func(w io.Writer) {
			writeTrace(w, loop, trace, window)
			if play.From.IsZero() {
				fmt.Fprintln(w, "the dates are those of ordinary weeks without a change of clocks; --from begins on a day of yours")
			}
		})
}

// window is the time that is shown: all, or the shifts of one day.
func (o traceOptions) window(t simulation.Trace) (plot.Window, error) {
	whole := plot.Whole(t)
	if o.day == allDays || len(t.Shifts) == 0 {
		return whole, nil
	}
	day := o.day
	if day == "" {
		day = plot.FirstDay(t)
	}
	w, ok := plot.Day(t, day)
	if !ok {
		return w, usagef("--day is %s; no shift of its cell starts then within %s to %s", day, whole.From.Format(time.DateOnly), whole.To.Format(time.DateOnly))
	}
	return w, nil
}

// writeTrace shows the events of a window to people, an event to a line.
func writeTrace(w io.Writer, l planner.Loop, t simulation.Trace, window plot.Window) {
	fmt.Fprintf(w, "Part %s at station %s of cell %s, replication %d: %s of %d pieces, a round every %s, response %s\n\n",
		l.Part, l.Station, l.Cell, t.Replication+1, plural(t.Containers, "container"), t.Pack, clock(l.Interval), clock(l.Response))
	rows := [][]string{{"time", "event", "round", "on hand", "missing", "full", "signals", "under way"}}
	day := ""
	for _, at := range t.Points {
		if at.At.Before(window.From) || at.At.After(window.To) {
			continue
		}
		moment := at.At.In(window.From.Location())
		if d := moment.Format("Mon 2006-01-02"); d != day {
			rows, day = append(rows, []string{d, "", "", "", "", "", "", ""}), d
		}
		rows = append(rows, []string{
			moment.Format("15:04:05"), happened(at), at.Round, fmt.Sprintf("%.0f", at.OnHand), lacking(at.Missing),
			strconv.Itoa(at.Full), strconv.Itoa(at.Signals), strconv.Itoa(at.UnderWay),
		})
	}
	table(w, rows)
	fmt.Fprintf(w, "\n%s\n", shortTimes(t))
}

// shortTimes says how often pieces were missing in the whole replication.
func shortTimes(t simulation.Trace) string {
	times, missing := 0, false
	for _, at := range t.Points {
		if at.Missing > 0 && !missing {
			times++
		}
		missing = at.Missing > 0
	}
	text := "runs short " + plural(times, "time") + " in the whole replication"
	if missing {
		text += ", the last time to its end"
	}
	return text
}

// happened says an event in words.
func happened(p simulation.Point) string {
	switch p.Event {
	case simulation.EventOpen:
		return "a container is opened"
	case simulation.EventShort:
		return "RUNS SHORT"
	case simulation.EventVisit:
		return visited(p)
	case simulation.EventDeliver:
		return fmt.Sprintf("%d full brought", p.Brought)
	case simulation.EventStart:
		return "counting begins"
	case simulation.EventEnd:
		return "counting ends"
	default:
		return string(p.Event)
	}
}

func visited(p simulation.Point) string {
	switch {
	case p.Left > 0:
		return fmt.Sprintf("a round takes %d of %d signals", p.Taken, p.Taken+p.Left)
	case p.Taken > 0:
		return "a round takes " + plural(p.Taken, "signal")
	default:
		return "a round finds no signal"
	}
}

func lacking(pieces float64) string {
	if pieces == 0 {
		return "-"
	}
	return fmt.Sprintf("%.0f", pieces)
}
