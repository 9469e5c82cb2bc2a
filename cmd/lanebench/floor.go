package main

import (
	"errors"
	"fmt"
	"os"
	"time"

	"github.com/spf13/cobra"

	"lanewright/cmd/lanebench/internal/vrp"
)

func floorCommand() *cobra.Command {
	var stops int
	var oneWay float64
	var seed uint64
	var out string
	cmd := &cobra.Command{
		Use:   "floor --stops N --one-way PERCENT --seed K --out FILE",
		Short: "Write a made-up routing problem on the aisles of a plant",
		Long: "floor writes a problem for the command routing: stops at the crossings of a grid of aisles, of which about so many\n" +
			"percent may be driven in one direction only, and a table of the shortest ways in decimetres. It prints the number\n" +
			"of stops as value and a length that no routes are below as bound.",
		Example: "  lanebench floor --stops 200 --one-way 60 --seed 1 --out floor.vrp && lanebench routing floor.vrp --seconds 10",
		Args:    cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if stops < 1 || stops > 5000 || !(oneWay >= 0 && oneWay <= 100) {
				return fmt.Errorf("--stops must be 1 to 5000 and --one-way 0 to 100: got %d, %v", stops, oneWay)
			}
			if out == "" {
				return errors.New("--out must name a file")
			}
			start := time.Now()
			v := vrp.Floor(stops, oneWay/100, seed)
			if err := os.WriteFile(out, []byte(v.Text()), 0o600); err != nil {
				return failed(err)
			}
			bound := v.Bound()
			return figures{Instance: v.Name, Value: float64(stops), Bound: &bound, Feasible: true, Seconds: since(start), Seed: seed}.print(cmd)
		},
	}
	cmd.Flags().IntVar(&stops, "stops", 200, "number of stops")
	cmd.Flags().Float64Var(&oneWay, "one-way", 60, "percent of the aisles that are one-way")
	addOutput(cmd, &seed, &out)
	return cmd
}
