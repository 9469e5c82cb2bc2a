package main

import (
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"lanewright/cmd/lanebench/internal/scale"
	"lanewright/importers/export"
	"lanewright/planner/plant"
)

func plantCommand() *cobra.Command {
	var cells, loops int
	var seed uint64
	var out string
	cmd := &cobra.Command{
		Use:   "plant --cells N --loops N --seed K --out DIR",
		Short: "Write a made-up plant as a folder of CSV files",
		Example: "  lanebench plant --cells 14 --loops 450 --seed 1 --out small\n" +
			"  lanebench plant --cells 250 --loops 20000 --seed 1 --out large",
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if cells < 1 || loops < cells {
				return fmt.Errorf("--cells must be 1 or more and --loops at least as many: got %d cells, %d loops", cells, loops)
			}
			name := fmt.Sprintf("plant-c%d-l%d", cells, loops)
			return write(cmd, name, seed, out, func() *plant.Plant { return scale.Plant(cells, loops, seed) })
		},
	}
	cmd.Flags().IntVar(&cells, "cells", 14, "number of cells")
	cmd.Flags().IntVar(&loops, "loops", 450, "number of loops: parts at stations")
	addOutput(cmd, &seed, &out)
	return cmd
}

func cellCommand() *cobra.Command {
	var parts int
	var seed uint64
	var out string
	cmd := &cobra.Command{
		Use:     "cell --parts N --seed K --out DIR",
		Short:   "Write one made-up cell as a folder of CSV files",
		Example: "  lanebench cell --parts 60 --seed 1 --out cell",
		Args:    cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if parts < 1 {
				return fmt.Errorf("--parts must be 1 or more: got %d", parts)
			}
			name := fmt.Sprintf("cell-p%d", parts)
			return write(cmd, name, seed, out, func() *plant.Plant { return scale.Cell(parts, seed) })
		},
	}
	cmd.Flags().IntVar(&parts, "parts", 60, "number of parts")
	addOutput(cmd, &seed, &out)
	return cmd
}

func addOutput(cmd *cobra.Command, seed *uint64, out *string) {
	cmd.Flags().Uint64Var(seed, "seed", 1, "seed of the random choices")
	cmd.Flags().StringVar(out, "out", "", "folder to write, made when missing (required)")
	cobra.CheckErr(cmd.MarkFlagRequired("out"))
}

// write builds a plant, writes its folder and prints how many rows that were.
func write(cmd *cobra.Command, instance string, seed uint64, out string, build func() *plant.Plant) error {
	start := time.Now()
	tables := export.Workbook(build())
	if err := export.WriteFolder(out, tables); err != nil {
		return failed(err)
	}
	return figures{Instance: instance, Value: float64(rows(tables)), Feasible: true, Seconds: since(start), Seed: seed}.print(cmd)
}

func rows(tables []export.Table) int {
	n := 0
	for _, t := range tables {
		n += len(t.Rows)
	}
	return n
}
