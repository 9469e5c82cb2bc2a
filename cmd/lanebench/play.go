package main

import (
	"context"
	"fmt"
	"runtime"
	"time"

	"github.com/spf13/cobra"

	"lanewright/importers"
	"lanewright/planner"
	"lanewright/planner/simulation"
)

// playCommand measures the playing of a plan.
func playCommand() *cobra.Command {
	s := simulation.DefaultSettings()
	threads := runtime.GOMAXPROCS(0)
	use := string(s.Use)
	cmd := &cobra.Command{
		Use:   "play FILE...",
		Short: "Plan a plant and measure how fast the plan is played",
		Args:  cobra.MinimumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			s.Use = simulation.Use(use)
			return play(cmd, args, s, threads)
		},
	}
	flags := cmd.Flags()
	flags.IntVar(&s.Weeks, "weeks", s.Weeks, "weeks that are counted")
	flags.IntVar(&s.WarmUp, "warm-up", s.WarmUp, "weeks before them")
	flags.IntVar(&s.Replications, "replications", s.Replications, "plays")
	flags.IntVar(&threads, "threads", threads, "threads")
	flags.StringVar(&use, "use", use, "model, random or levelled")
	return cmd
}

func play(cmd *cobra.Command, files []string, s simulation.Settings, threads int) error {
	ctx := context.Background()
	phases := map[string]float64{}
	read, err := importers.ReadFiles(ctx, files...)
	if err != nil {
		return failed(err)
	}
	start := time.Now()
	plan, err := planner.Run(ctx, planner.Input{Plant: &read.Plant, Findings: read.Findings}, planner.DefaultSettings(&read.Plant), planner.Options{Threads: threads})
	if err != nil {
		return failed(err)
	}
	phases["plan"] = since(start)
	start = time.Now()
	r, err := planner.Play(ctx, &read.Plant, plan, s, planner.Options{Threads: threads})
	if err != nil {
		return failed(err)
	}
	phases["play"] = since(start)
	proved := 0
	for _, l := range r.Loops {
		if l.Verdict == simulation.Proved {
			proved++
		}
	}
	played := float64(len(r.Loops))
	return figures{
		Instance: fmt.Sprintf("%s: %d events, %.3g million a second", plan.Plant, r.Events, float64(r.Events)/1e6/max(phases["play"], 1e-9)),
		Value:    float64(proved), Bound: &played, Feasible: true, Seconds: phases["play"], Seed: r.Seed, Phases: phases, PeakMiB: peakMemory(),
	}.print(cmd)
}
