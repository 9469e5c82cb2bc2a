package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"time"

	"github.com/spf13/cobra"

	"lanewright/cmd/lanebench/internal/scale"
	"lanewright/planner/demand"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/sizing"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// trial is how made-up cells are placed.
type trial struct {
	first uint64
	seeds int
	bare  bool
	fill  int64
	steps int
	proof int
	each  bool
}

func cellsCommand() *cobra.Command {
	var parts []int
	t := trial{first: 1, seeds: 10, fill: 100, steps: placement.DefaultSettings().Steps, proof: placement.DefaultSettings().ProofSteps}
	cmd := &cobra.Command{
		Use:   "cells",
		Short: "Place made-up cells of some sizes and print how near the proved bounds they come",
		Long: "cells places one-cell plants, one seed after another, on one thread and prints a table with a row for each size.\n" +
			"Times are of the placement alone. Gaps are over the proved bound: of cost and effort summed over the\n" +
			"cells, and the largest of effort. Proved is the share of cells proved optimal.",
		Example: "  lanebench cells --parts 20,60,150,300 --seeds 10\n  lanebench cells --bare --fill 90",
		Args:    cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if t.seeds < 1 || t.fill < 1 || t.fill > 100 || slices.ContainsFunc(parts, func(n int) bool { return n < 1 }) {
				return errors.New("--parts and --seeds must be 1 or more, --fill 1 to 100")
			}
			w := cmd.OutOrStdout()
			_, err := fmt.Fprintln(w, "| loops | s, mean | s, most | unplaced (bound) | cost gap | split loops | effort gap | largest | proved |\n"+
				"| --- | --- | --- | --- | --- | --- | --- | --- | --- |")
			for _, n := range parts {
				if err == nil {
					err = t.print(w, n, t.place(cmd.Context(), n))
				}
			}
			if err != nil {
				return fmt.Errorf("print result: %w", err)
			}
			return nil
		},
	}
	cmd.Flags().IntSliceVar(&parts, "parts", []int{20, 60, 150, 300}, "sizes of cells")
	cmd.Flags().IntVar(&t.seeds, "seeds", t.seeds, "cells of each size")
	cmd.Flags().Uint64Var(&t.first, "first", t.first, "seed of the first cell of each size")
	cmd.Flags().BoolVar(&t.bare, "bare", false, "take out the racks that stand: all racks are added")
	cmd.Flags().Int64Var(&t.fill, "fill", t.fill, "fill limit in percent")
	cmd.Flags().IntVar(&t.steps, "steps", t.steps, "search steps per loop; 0 is the quick mode")
	cmd.Flags().IntVar(&t.proof, "proof-steps", t.proof, "steps of each cell's proof")
	cmd.Flags().BoolVar(&t.each, "each", false, "print a row for each cell too: its seed stands behind its loops")
	return cmd
}

// reached is what cells of one size came to.
type reached struct {
	bounds  []placement.Bound
	seconds []float64
	splits  []int
}

func (t trial) place(ctx context.Context, parts int) reached {
	var r reached
	for seed := range t.seeds {
		in := t.input(parts, t.first+uint64(seed))
		s := placement.DefaultSettings()
		s.Steps, s.ProofSteps = t.steps, t.proof
		start := time.Now()
		l := placement.Place(ctx, in, s, 1, 1, nil)
		r.seconds = append(r.seconds, time.Since(start).Seconds())
		r.bounds = append(r.bounds, l.Bounds...)
		split := 0
		for _, f := range l.Findings {
			if f.Code == placement.CodeSplit {
				split++
			}
		}
		r.splits = append(r.splits, split)
	}
	return r
}

// print writes the line of a size, before it those of its cells where they are wanted.
func (t trial) print(w io.Writer, parts int, r reached) error {
	if t.each {
		for i := range r.bounds {
			one := reached{r.bounds[i : i+1], r.seconds[i : i+1], r.splits[i : i+1]}
			if _, err := fmt.Fprintln(w, one.row(fmt.Sprintf("%d: %d", parts, t.first+uint64(i)))); err != nil {
				return err
			}
		}
	}
	_, err := fmt.Fprintln(w, r.row(strconv.Itoa(parts)))
	return err
}

// input makes up a cell and sizes its loops.
func (t trial) input(parts int, seed uint64) placement.Input {
	p := scale.Cell(parts, seed)
	if t.bare {
		p.Racks = nil
	}
	p.Settings.FillLimit = units.R(t.fill, 100)
	x := plant.NewIndex(p)
	used, _ := demand.Loops(x, p.Settings)
	loops, _ := sizing.Size(x, used)
	return placement.Input{Index: x, Loops: loops, Racks: structure.Racks(x), Plant: p.Settings}
}

// row is a line of the table.
func (r reached) row(name string) string {
	var unplaced, least, proved, splits int
	var cost, costBound, effort, effortBound, largest, sum float64
	for i, b := range r.bounds {
		sum, splits = sum+r.seconds[i], splits+r.splits[i]
		unplaced, least = unplaced+b.Unplaced, least+b.UnplacedBound
		cost, costBound = cost+b.AddedCost, costBound+b.AddedCostBound
		effort, effortBound = effort+b.Effort, effortBound+b.EffortBound
		largest = max(largest, gap(b.Effort, b.EffortBound))
		if b.Optimal {
			proved++
		}
	}
	n := len(r.bounds)
	return fmt.Sprintf("| %s | %.3f | %.3f | %d (%d) | %.1f %% | %d | %.2f %% | %.2f %% | %d of %d |", name, sum/float64(max(1, n)), slices.Max(slices.Concat(r.seconds, []float64{0})),
		unplaced, least, gap(cost, costBound), splits, gap(effort, effortBound), largest, proved, n)
}

// gap is how far a value lies over its bound, in percent.
func gap(value, bound float64) float64 {
	if value <= bound {
		return 0
	}
	return 100 * (value/bound - 1)
}
