package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"lanewright/cmd/lanebench/internal/vrp"
	"lanewright/planner/tours"
)

func routingCommand() *cobra.Command {
	var o routingOptions
	var file string
	cmd := &cobra.Command{
		Use:   "routing FILE...",
		Short: "Find short routes for a published routing problem",
		Long: "routing reads vehicle routing problems (TSPLIB: EUC_2D or EXPLICIT, CAPACITY, DISTANCE, SERVICE_TIME) and prints\n" +
			"the length of its routes as value and a length that none are below as bound, one line of JSON a problem.\n" +
			"Distances are rounded to whole numbers, or exact where the file limits the length of routes, unless --rounding\n" +
			"says which. SERVICE_TIME counts to the limit, not to the length.\n" +
			"Seconds are processor time of this process divided by --threads, where the system tells it, else wall-clock\n" +
			"time. The same steps and seed give the same routes on any number of threads; seconds do not.",
		Example: "  lanebench routing A-n32-k5.vrp --seconds 2\n  lanebench routing A-n32-k5.vrp --steps 100000 --routes A-n32-k5.sol",
		Args:    cobra.MinimumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := o.check(); err != nil {
				return err
			}
			if file != "" && len(args) > 1 {
				return errors.New("--routes takes one problem at a time")
			}
			for _, name := range args {
				if err := o.print(cmd, name, file); err != nil {
					return failed(err)
				}
			}
			return nil
		},
	}
	o.add(cmd.Flags())
	cmd.Flags().StringVar(&file, "routes", "", "file to write the routes to")
	return cmd
}

// routingOptions say how long to search and how.
type routingOptions struct {
	seconds float64
	steps   int
	threads int
	// trajectories is how many searches exchange their best; 0 lets them be as
	// many as threads where the time is limited, else one.
	trajectories int
	seed         uint64
	rounding     string
}

func (o *routingOptions) add(flags *pflag.FlagSet) {
	flags.Float64Var(&o.seconds, "seconds", 0, "seconds of processor time to search at most; 0 sets no limit of time")
	flags.IntVar(&o.steps, "steps", 0, "kicks to search; 0 is without end where --seconds is set, else 200000")
	flags.IntVar(&o.threads, "threads", 1, "goroutines that search")
	flags.IntVar(&o.trajectories, "trajectories", 0, "searches that exchange their best; 0 is --threads where only time is limited, else 1; give 2 to let two threads share --steps")
	flags.Uint64Var(&o.seed, "seed", 1, "seed of the random choices")
	flags.StringVar(&o.rounding, "rounding", "", "distances: integer or exact (default: exact where routes have a limit of length)")
}

func (o *routingOptions) check() error {
	switch {
	case !(o.seconds >= 0) || o.seconds > 1e6 || o.steps < 0:
		return fmt.Errorf("--seconds must be 0 to 1000000 and --steps 0 or more: got %v, %d", o.seconds, o.steps)
	case o.threads < 1 || o.trajectories < 0:
		return fmt.Errorf("--threads must be 1 or more and --trajectories 0 or more: got %d, %d", o.threads, o.trajectories)
	case !slices.Contains([]string{"", "integer", "exact"}, o.rounding):
		return fmt.Errorf("--rounding must be integer or exact: got %q", o.rounding)
	}
	o.settle()
	return nil
}

// settle chooses how many trajectories there are; more threads have no work.
func (o *routingOptions) settle() {
	if o.trajectories == 0 {
		o.trajectories = 1
		if o.steps == 0 && o.seconds > 0 {
			o.trajectories = o.threads
		}
	}
	o.threads = min(o.threads, o.trajectories)
}

// limits measure the budget from the processor time spent at start.
func (o *routingOptions) limits(start time.Duration) tours.Limits {
	l := tours.Limits{Steps: o.steps}
	if o.seconds == 0 && o.steps == 0 {
		l.Steps = 200_000
	}
	if o.seconds > 0 {
		l.Elapsed = func() float64 { return o.since(start) / o.seconds }
	}
	return l
}

// since is the processor time of one thread since start, in seconds.
func (o *routingOptions) since(start time.Duration) float64 {
	return (cpuTime() - start).Seconds() / float64(o.threads)
}

// solve reads and solves one problem.
func (o *routingOptions) solve(ctx context.Context, name string) (figures, [][]int32, error) {
	start := cpuTime()
	v, err := vrp.Read(name, o.rounding)
	if err != nil {
		return figures{}, nil, err
	}
	p, _ := v.Problem()
	r, err := tours.Solve(ctx, p, o.limits(start), tours.Settings{Seed: o.seed, Trajectories: o.trajectories, Threads: o.threads})
	if err != nil {
		return figures{}, nil, fmt.Errorf("%s: %w", name, err)
	}
	seconds := float64(int(o.since(start)*1000)) / 1000
	bound := v.Bound()
	routes := make([][]int32, len(r.Routes))
	for i := range r.Routes {
		routes[i] = r.Routes[i].Stops
	}
	return figures{
		Instance: v.Name, Value: v.Value(routes), Bound: &bound, Feasible: r.Feasible && v.Keeps(routes), Seconds: seconds, Seed: o.seed,
	}, routes, nil
}

// print solves one problem, prints its line and writes its routes to file.
func (o *routingOptions) print(cmd *cobra.Command, name, file string) error {
	f, routes, err := o.solve(cmd.Context(), name)
	if err != nil {
		return err
	}
	if file != "" {
		if err := os.WriteFile(file, []byte(routesText(routes, f.Value)), 0o600); err != nil {
			return fmt.Errorf("write routes: %w", err)
		}
	}
	return f.print(cmd)
}

// routesText lists routes as published collections do.
func routesText(routes [][]int32, value float64) string {
	var b strings.Builder
	for i, r := range routes {
		fmt.Fprintf(&b, "Route #%d:", i+1)
		for _, x := range r {
			fmt.Fprintf(&b, " %d", x)
		}
		b.WriteByte('\n')
	}
	fmt.Fprintf(&b, "Cost %v\n", value)
	return b.String()
}
