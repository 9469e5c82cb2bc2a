// Command lanebench makes plants of any size and measures what the planner
// needs for them. Every command prints one line of JSON with what it did, cells
// a table.
package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"time"

	"github.com/spf13/cobra"
)

func main() {
	err := root().Execute()
	switch {
	case err == nil:
	case errors.Is(err, errFailed):
		os.Exit(3)
	default:
		os.Exit(2)
	}
}

// errFailed marks errors that are not the command line's fault.
var errFailed = errors.New("failed")

func failed(err error) error { return fmt.Errorf("%w: %w", errFailed, err) }

func root() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "lanebench",
		Short: "Make benchmark plants and measure the planner",
		Long: "lanebench writes made-up plants as workbooks or folders of CSV files and runs the planner on them.\n" +
			"The same size and seed always give the same plant. Each command prints one line of JSON, cells a table.",
		SilenceUsage: true,
	}
	cmd.AddCommand(plantCommand(), cellCommand(), skerrowCommand(), runCommand(), playCommand(), cellsCommand(), packingCommand(), cuttingCommand(), routingCommand(), routingSetCommand(), answersCommand())
	return cmd
}

// figures is the line that every command prints.
type figures struct {
	Instance string `json:"instance"`
	// Value is what was made or reached; Bound what nothing can beat, nil
	// where there is none.
	Value    float64  `json:"value"`
	Bound    *float64 `json:"bound"`
	Feasible bool     `json:"feasible"`
	Seconds  float64  `json:"seconds"`
	Seed     uint64   `json:"seed"`
	// Phases are seconds by phase, CPU the processor's, all threads together, and
	// PeakMiB the largest resident memory, for runs of the planner only.
	Phases  map[string]float64 `json:"phases,omitempty"`
	CPU     map[string]float64 `json:"cpu,omitempty"`
	PeakMiB float64            `json:"peak_mib,omitempty"`
}

func (f figures) print(cmd *cobra.Command) error {
	if err := json.NewEncoder(cmd.OutOrStdout()).Encode(f); err != nil {
		return fmt.Errorf("print result: %w", err)
	}
	return nil
}

// since is the seconds that passed, to the millisecond.
func since(start time.Time) float64 {
	return float64(time.Since(start).Milliseconds()) / 1000
}
