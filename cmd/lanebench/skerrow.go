package main

import (
	"fmt"
	"os"
	"time"

	"github.com/spf13/cobra"

	"lanewright/cmd/lanebench/internal/skerrow"
)

func skerrowCommand() *cobra.Command {
	var out string
	cmd := &cobra.Command{
		Use:     "skerrow --out FILE.xlsx",
		Short:   "Write the workbook of Skerrow Lantern Works, the made-up plant of the demo",
		Example: "  lanebench skerrow --out testdata/plants/skerrow/skerrow.xlsx",
		Args:    cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			start := time.Now()
			if err := writeSkerrow(out); err != nil {
				return failed(fmt.Errorf("write %s: %w", out, err))
			}
			return figures{
				Instance: "skerrow", Value: float64(rows(skerrow.Tables())), Feasible: true, Seconds: since(start), Seed: skerrow.Seed,
			}.print(cmd)
		},
	}
	cmd.Flags().StringVar(&out, "out", "", "workbook to write (required)")
	cobra.CheckErr(cmd.MarkFlagRequired("out"))
	return cmd
}

func writeSkerrow(name string) error {
	f, err := os.Create(name)
	if err != nil {
		return err
	}
	if err := skerrow.Write(f); err != nil {
		_ = f.Close()
		return err
	}
	return f.Close()
}
