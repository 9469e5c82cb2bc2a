package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"

	"github.com/spf13/cobra"
)

func routingSetCommand() *cobra.Command {
	var o routingOptions
	var seeds int
	cmd := &cobra.Command{
		Use:   "routing-set DIR",
		Short: "Solve a folder of routing problems and print how far from the best known they end",
		Long: "routing-set solves the problems of a folder that its best-known.csv lists (columns set, instance, customers,\n" +
			"best_known, distance_rule) with several seeds each and prints a table of gaps, by problem and by family: the set,\n" +
			"and for sets of many sizes the number of stops.",
		Example: "  lanebench routing-set problems --seconds 2 --seeds 3",
		Args:    cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := o.check(); err != nil {
				return err
			}
			if seeds < 1 {
				return fmt.Errorf("--seeds must be 1 or more: got %d", seeds)
			}
			list, err := readBestKnown(args[0])
			if err != nil {
				return failed(err)
			}
			if err := printGaps(cmd, list, o, seeds); err != nil {
				return failed(err)
			}
			return nil
		},
	}
	o.add(cmd.Flags())
	cmd.Flags().IntVar(&seeds, "seeds", 3, "seeds for each problem, from --seed on")
	return cmd
}

// published is a problem with its best known value.
type published struct {
	file, name, family, rounding string
	best                         float64
}

// errBestKnown marks lists of best known values that can not be read.
var errBestKnown = errors.New("not a list of best known values")

func readBestKnown(dir string) ([]published, error) {
	name := filepath.Join(dir, "best-known.csv")
	file, err := os.Open(name)
	if err != nil {
		return nil, fmt.Errorf("read best known values: %w", err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if len(rows) == 0 {
		return nil, fmt.Errorf("%s: %w: it is empty", name, errBestKnown)
	}
	var list []published
	column := func(row []string, name string) string {
		if i := slices.Index(rows[0], name); i >= 0 {
			return row[i]
		}
		return ""
	}
	for i, row := range rows[1:] {
		stops, err := strconv.Atoi(column(row, "customers"))
		best, errBest := strconv.ParseFloat(column(row, "best_known"), 64)
		if errors.Join(err, errBest) != nil || best <= 0 {
			return nil, fmt.Errorf("%s:%d: %w: customers %q, best_known %q", name, i+2, errBestKnown, column(row, "customers"), column(row, "best_known"))
		}
		p := published{name: column(row, "instance"), family: family(column(row, "set"), stops), best: best, rounding: "integer"}
		p.file = filepath.Join(dir, p.name+".vrp")
		if column(row, "distance_rule") == "exact-double" {
			p.rounding = "exact"
		}
		list = append(list, p)
	}
	return list, nil
}

// family names the group that a problem's gap is counted in.
func family(set string, stops int) string {
	if set != "cvrp-x" {
		return set
	}
	switch {
	case stops <= 250:
		return set + " to 250"
	case stops < 560:
		return set + " 251-559"
	}
	return set + " from 560"
}

// gaps adds up gaps in percent.
type gaps struct {
	sum, worst float64
	count      int
	// failed counts runs without routes that keep all limits.
	failed int
}

func (g *gaps) add(o gaps) {
	g.sum, g.count, g.failed, g.worst = g.sum+o.sum, g.count+o.count, g.failed+o.failed, max(g.worst, o.worst)
}

func (g gaps) line(name string) string {
	return fmt.Sprintf("%-24s %4d runs  mean %6.3f %%  worst %6.3f %%  failed %d\n", name, g.count, g.sum/float64(max(g.count, 1)), g.worst, g.failed)
}

func printGaps(cmd *cobra.Command, list []published, o routingOptions, seeds int) error {
	families := map[string]*gaps{}
	var names []string
	for _, p := range list {
		var g gaps
		o.rounding = p.rounding
		first := o.seed
		for i := range seeds {
			run := o
			run.seed = first + uint64(i)
			f, _, err := run.solve(cmd.Context(), p.file)
			if err != nil {
				return err
			}
			if !f.Feasible {
				g.failed++
				continue
			}
			gap := 100 * (f.Value/p.best - 1)
			g.add(gaps{sum: gap, worst: gap, count: 1})
		}
		fmt.Fprint(cmd.OutOrStdout(), g.line(p.name))
		if families[p.family] == nil {
			families[p.family] = &gaps{}
			names = append(names, p.family)
		}
		families[p.family].add(g)
	}
	for _, name := range names {
		fmt.Fprint(cmd.OutOrStdout(), families[name].line(name))
	}
	return nil
}
