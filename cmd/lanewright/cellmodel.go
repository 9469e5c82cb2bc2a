package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"lanewright/planner"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/sizing"
	"lanewright/planner/structure"
)

// cellModelOptions are the options of the cell-model command.
type cellModelOptions struct {
	cell, out, goal string
	// most are the limits given; the plan's values stand for those that are not.
	most                             placement.ModelLimits
	unplacedGiven, costGiven, splits bool
	plan                             planOptions
}

// everyGoal is the value of --goal that writes a model for each.
const everyGoal = "all"

func (p *program) cellModelCommand() *cobra.Command {
	var o cellModelOptions
	cmd := &cobra.Command{
		Use:   "cell-model FILE... --cell CELL --out MODEL.mps",
		Short: "Write the lanes of a cell as a linear program that any solver can judge",
		Long: `cell-model plans the files and writes the placement of one cell as a mixed-integer
linear program in free MPS, an open format that solvers of linear programs read. What a
solver finds is the best that any layout can have: it judges the plan and its bounds.

The goals are strict and in order: containers without a lane (unplaced), cost of racks
added (cost), loops split over levels (splits), effort. A model minimises one of them
among the layouts that reach what --unplaced, --cost and --splits say in those before; the
values of the plan stand for those not given, -1 limits nothing. Without --goal it is
the first that the plan has not proved; --goal all writes a file for each. The notes at
the head of a file say what its columns mean and which command comes next.`,
		Example: `  lanewright cell-model plant.xlsx --cell MAST --out mast.mps
  lanewright cell-model plant.xlsx --cell MAST --goal cost --unplaced 20 --out mast.mps
  glpsol --freemps mast.mps --output mast.txt      or any other solver`,
		Args: files,
	}
	flags := cmd.Flags()
	flags.StringVar(&o.cell, "cell", "", "the cell whose lanes are modelled")
	flags.StringVar(&o.out, "out", "", "write the model to this file, - for standard output")
	flags.StringVar(&o.goal, "goal", "", "unplaced, cost, splits, effort or all (default the first that the plan has not proved)")
	flags.IntVar(&o.most.Unplaced, "unplaced", 0, "containers without a lane, at most (default those of the plan)")
	flags.Float64Var(&o.most.Cost, "cost", 0, "cost of racks added, at most; mm where no type has a cost (default that of the plan)")
	flags.IntVar(&o.most.Splits, "splits", 0, "loops on several levels, at most (default those of the plan)")
	o.plan.flags(flags)
	cmd.RunE = p.run(func(ctx context.Context, args []string) error {
		o.unplacedGiven, o.costGiven, o.splits = flags.Changed("unplaced"), flags.Changed("cost"), flags.Changed("splits")
		return p.cellModel(ctx, args, o)
	})
	return cmd
}

func (o cellModelOptions) check() error {
	switch {
	case o.cell == "":
		return usagef("cell-model needs --cell: the cell whose lanes are modelled")
	case o.out == "":
		return usagef("cell-model needs --out: the file to write, such as %s.mps, or - for standard output", o.cell)
	case o.out == "-" && o.goal == everyGoal:
		return usagef("--goal all writes several files; they can't go to standard output")
	case o.goal != "" && o.goal != everyGoal && !slices.Contains(placement.ModelGoals(), placement.ModelGoal(o.goal)):
		return usagef("--goal is %q; it is unplaced, cost, splits, effort or all", o.goal)
	}
	return nil
}

// files are those that may be written.
func (o cellModelOptions) files() (list []string) {
	if o.goal != everyGoal {
		return []string{o.out}
	}
	for _, g := range placement.ModelGoals() {
		list = append(list, o.fileOf(g))
	}
	return list
}

// fileOf is the file of a goal: --out, with the goal's number and name before
// its ending where there are several.
func (o cellModelOptions) fileOf(g placement.ModelGoal) string {
	if o.goal != everyGoal {
		return o.out
	}
	end := filepath.Ext(o.out)
	return fmt.Sprintf("%s-%d-%s%s", strings.TrimSuffix(o.out, end), 1+slices.Index(placement.ModelGoals(), g), g, end)
}

func (p *program) cellModel(ctx context.Context, names []string, o cellModelOptions) error {
	if err := o.check(); err != nil {
		return err
	}
	o.plan.outputs = o.files()
	return p.fromPlan(ctx, names, o.plan, func(input planner.Input, made *planner.Plan) error {
		w := cellModelWriter{program: p, o: o, names: names, made: made, in: placementInput(input.Plant, made)}
		if err := w.find(); err != nil {
			return err
		}
		for _, g := range w.goals() {
			if err := w.write(g); err != nil {
				return err
			}
		}
		return nil
	})
}

// placementInput is what the placement of a plan started from.
func placementInput(facts *plant.Plant, made *planner.Plan) placement.Input {
	x := plant.NewIndex(facts)
	in := placement.Input{Index: x, Racks: structure.Racks(x), Plant: made.Settings.Plant, Loops: make([]sizing.Loop, len(made.Loops))}
	for i := range made.Loops {
		in.Loops[i] = made.Loops[i].Loop
	}
	return in
}

// cellModelWriter writes the models of one cell of a plan.
type cellModelWriter struct {
	*program
	o     cellModelOptions
	names []string
	made  *planner.Plan
	in    placement.Input
	// bound and splits are what the plan has in the cell.
	bound  placement.Bound
	splits int
}

// find looks up the cell in the plan.
func (w *cellModelWriter) find() error {
	b, err := named("cell", w.o.cell, w.made.Cells, func(b placement.Bound) string { return string(b.Cell) })
	w.bound, w.splits = b, splitLoops(w.made, b.Cell)
	return err
}

// splitLoops counts the loops of a cell that lie on more than one level.
func splitLoops(made *planner.Plan, cell plant.CellCode) int {
	first, split := map[string]string{}, map[string]bool{}
	for _, l := range made.Lanes {
		if l.Empty() || l.Loop.Cell != cell {
			continue
		}
		loop, level := fmt.Sprintf("%q", l.Loop), fmt.Sprintf("%q %d", l.Rack, l.Level)
		if before, known := first[loop]; known && before != level {
			split[loop] = true
		}
		first[loop] = level
	}
	return len(split)
}

// goals lists the goals to write.
func (w *cellModelWriter) goals() []placement.ModelGoal {
	switch {
	case w.o.goal == everyGoal:
		return placement.ModelGoals()
	case w.o.goal != "":
		return []placement.ModelGoal{placement.ModelGoal(w.o.goal)}
	case w.bound.Unplaced != w.bound.UnplacedBound:
		return []placement.ModelGoal{placement.GoalUnplaced}
	case w.bound.AddedCost != w.bound.AddedCostBound:
		return []placement.ModelGoal{placement.GoalCost}
	}
	return []placement.ModelGoal{placement.GoalEffort}
}

// limits are the limits on the goals before g: those given, else the plan's
// values. A model of cost has the plan's as its most: no better layout is dearer.
func (w *cellModelWriter) limits(g placement.ModelGoal) placement.ModelLimits {
	most := placement.ModelLimits{Unplaced: placement.NoLimit, Cost: placement.NoLimit, Splits: placement.NoLimit}
	rank := slices.Index(placement.ModelGoals(), g)
	if rank > 0 || w.o.unplacedGiven {
		most.Unplaced = pick(w.o.unplacedGiven, w.o.most.Unplaced, w.bound.Unplaced)
	}
	if rank > 1 || w.o.costGiven || rank == 1 && !w.o.unplacedGiven {
		most.Cost = pick(w.o.costGiven, w.o.most.Cost, w.bound.AddedCost)
	}
	if rank > 2 || w.o.splits {
		most.Splits = pick(w.o.splits, w.o.most.Splits, w.splits)
	}
	return most
}

func pick[T any](given bool, value, other T) T {
	if given {
		return value
	}
	return other
}

// write writes the model of one goal and says so.
func (w *cellModelWriter) write(g placement.ModelGoal) error {
	most := w.limits(g)
	m, err := placement.CellModel(w.in, w.made.Settings.Placement, w.bound.Cell, g, most)
	if errors.Is(err, placement.ErrManyRacks) {
		return usagef("%w: limit the racks added with --cost", err)
	}
	if err != nil {
		return err
	}
	next := w.next(g, most)
	m.Notes = append([]string{w.planned(), next}, m.Notes...)
	name := w.o.fileOf(g)
	if err := w.writeFile(name, m.WriteMPS); err != nil || name == "-" {
		return err
	}
	fmt.Fprintf(w.out, "cell %s, goal %s: %s, %s\n%s\n%s\nwrote %s\n", w.bound.Cell, g, plural(len(m.Columns), "column"), plural(len(m.Rows), "row"), w.planned(), next, name)
	return nil
}

// planned says what the plan has in the cell and what it proved.
func (w *cellModelWriter) planned() string {
	b := &w.bound
	return fmt.Sprintf("The plan of seed %d: %d without a lane (bound %d), cost %s (bound %s), %d split, effort %s (bound %s).",
		w.made.Settings.Plant.Seed, b.Unplaced, b.UnplacedBound, figure(b.AddedCost), figure(b.AddedCostBound), w.splits, figure(b.Effort), figure(b.EffortBound))
}

func figure(v float64) string { return strconv.FormatFloat(v, 'g', 10, 64) }

// next is the command that writes the model of the goal after g, to be given
// the optimum of this one.
func (w *cellModelWriter) next(g placement.ModelGoal, most placement.ModelLimits) string {
	all := placement.ModelGoals()
	rank := slices.Index(all, g)
	if rank == len(all)-1 {
		return "This is the last goal."
	}
	parts := []string{"lanewright", "cell-model"}
	for _, name := range w.names {
		parts = append(parts, shell(name))
	}
	for _, s := range w.o.plan.set {
		parts = append(parts, "--set", shell(s))
	}
	if seed := w.o.plan.seed; seed != nil {
		parts = append(parts, "--seed", strconv.FormatUint(*seed, 10))
	}
	if w.o.plan.mapping != "" {
		parts = append(parts, "--mapping", shell(w.o.plan.mapping))
	}
	parts = append(parts, "--cell", shell(string(w.bound.Cell)), "--out", "NEXT.mps", "--goal", string(all[rank+1]))
	before := []string{strconv.Itoa(most.Unplaced), strconv.FormatFloat(most.Cost, 'g', -1, 64), strconv.Itoa(most.Splits)}
	for k := range rank {
		parts = append(parts, "--"+string(all[k]), before[k])
	}
	return fmt.Sprintf("When its optimum is known, next: %s --%s OPTIMUM", strings.Join(parts, " "), g)
}
