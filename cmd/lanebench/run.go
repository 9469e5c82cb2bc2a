package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"github.com/spf13/cobra"

	"lanewright/importers"
	"lanewright/planner"
	"lanewright/planner/finding"
	"lanewright/planner/placement"
	"lanewright/planner/routing"
)

func runCommand() *cobra.Command {
	var seed uint64
	var threads int
	var steps struct{ placement, routing int }
	cmd := &cobra.Command{
		Use:   "run FILE...",
		Short: "Read and plan a plant, and print the seconds of each phase and the peak memory",
		Long: "run reads a folder or workbook and plans it. Value is the number of containers without a lane, bound what\n" +
			"no layout can beat, phases the wall-clock seconds, cpu those of the processor, which other work on the machine\n" +
			"does not lengthen, peak_mib the largest resident memory of this process.",
		Example: "  lanebench plant --cells 250 --loops 20000 --out large && lanebench run large",
		Args:    cobra.MinimumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			f, err := measure(cmd.Context(), args, func(s *planner.Settings) {
				s.Placement.Steps, s.Routing.Steps = steps.placement, steps.routing
				if seed > 0 {
					s.Plant.Seed = seed
				}
			}, threads)
			if err != nil {
				return failed(err)
			}
			return f.print(cmd)
		},
	}
	cmd.Flags().Uint64Var(&seed, "seed", 0, "seed of the search; 0 takes the plant's own")
	cmd.Flags().IntVar(&steps.placement, "steps", placement.DefaultSettings().Steps, "search steps of placement per loop; 0 is its quick mode")
	cmd.Flags().IntVar(&steps.routing, "routing-steps", routing.DefaultSettings().Steps, "search steps of routing per stop")
	cmd.Flags().IntVar(&threads, "threads", 2, "goroutines that search; they change nothing in the plan")
	return cmd
}

// measure reads and plans with settings set by set, timing each phase.
func measure(ctx context.Context, names []string, set func(*planner.Settings), threads int) (figures, error) {
	watch := newStopwatch()
	watch.phase("read")
	read, err := importers.ReadFiles(ctx, names...)
	if err != nil {
		return figures{}, err
	}
	if n := read.Findings.Count(finding.Error); n > 0 {
		return figures{}, fmt.Errorf("%s has %d errors, the first: %s", names[0], n, read.Findings[0].Summary)
	}
	settings := planner.DefaultSettings(&read.Plant)
	set(&settings)
	plan, err := planner.Run(ctx, planner.Input{Plant: &read.Plant, Findings: read.Findings}, settings,
		planner.Options{Threads: threads, Progress: func(stage string, _, _ int) { watch.phase(stage) }})
	if err != nil {
		return figures{}, err
	}
	watch.phase("done")
	bound := 0
	for _, c := range plan.Cells {
		bound += c.UnplacedBound
	}
	least := float64(bound)
	return figures{
		Instance: filepath.Base(names[0]), Value: float64(plan.Summary().ContainersUnplaced), Bound: &least, Feasible: len(plan.Unserved) == 0,
		Seconds: since(watch.start), Seed: settings.Plant.Seed, Phases: seconds(watch.spent), CPU: seconds(watch.cpu), PeakMiB: peakMemory(),
	}, nil
}

// stopwatch adds up time of the clock and of the processor by phase; a phase lasts
// until another starts. Any goroutine may name the phase.
type stopwatch struct {
	mu         sync.Mutex
	start, at  time.Time
	used       time.Duration
	now        string
	spent, cpu map[string]time.Duration
}

func newStopwatch() *stopwatch {
	t := time.Now()
	return &stopwatch{start: t, at: t, used: cpuTime(), spent: map[string]time.Duration{}, cpu: map[string]time.Duration{}}
}

func (w *stopwatch) phase(name string) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if name == w.now {
		return
	}
	t, used := time.Now(), cpuTime()
	if w.now != "" {
		w.spent[w.now] += t.Sub(w.at)
		w.cpu[w.now] += used - w.used
	}
	w.now, w.at, w.used = name, t, used
}

// seconds are times in seconds, to the millisecond.
func seconds(spent map[string]time.Duration) map[string]float64 {
	list := make(map[string]float64, len(spent))
	for name, d := range spent {
		list[name] = float64(d.Milliseconds()) / 1000
	}
	return list
}

// peakMemory is the largest resident memory of this process in MiB, where the
// system tells it (Linux); else 0.
func peakMemory() float64 {
	status, err := os.ReadFile("/proc/self/status")
	if err != nil {
		return 0
	}
	for line := range strings.Lines(string(status)) {
		var kib float64
		if n, _ := fmt.Sscanf(line, "VmHWM: %f kB", &kib); n == 1 {
			return float64(int(kib/102.4)) / 10
		}
	}
	return 0
}
