package main

import (
	"context"
	"fmt"
	"io"
	"strconv"

	"github.com/spf13/cobra"

	"lanewright/api/wire"
	"lanewright/importers"
)

// checkOptions are the options of the check command.
type checkOptions struct {
	json    bool
	mapping string
}

func (p *program) checkCommand() *cobra.Command {
	var o checkOptions
	cmd := &cobra.Command{
		Use:   "check FILE...",
		Short: "Say what is wrong with a plant's files",
		Long: `check reads a plant's files and lists its findings: what can't be used (errors),
what somebody should decide (warnings), what somebody may want to know (notes),
each with the place it stands at and how to repair it. Then it counts, sheet by
sheet, the rows that were used and those that were not. Nothing is stored.`,
		Example: `  lanewright check plant.xlsx
  lanewright check parts.csv --json > findings.json
  lanewright explain CODE          what a finding's code means`,
		Args: files,
		RunE: p.run(func(ctx context.Context, args []string) error {
			return p.check(ctx, args, o)
		}),
	}
	cmd.Flags().BoolVar(&o.json, "json", false, "print findings and rows as one JSON document")
	mappingFlag(cmd.Flags(), &o.mapping)
	return cmd
}

func (p *program) check(ctx context.Context, names []string, o checkOptions) error {
	result, err := p.read(ctx, names, o.mapping)
	if err != nil {
		return err
	}
	if o.json {
		err = p.writeJSON(wire.NewCheck(result))
	} else {
		writeFindings(p.out, result.Findings)
		writeLedger(p.out, result.Sheets)
		fmt.Fprintln(p.out, severities(result.Findings))
	}
	if err == nil && result.Findings.HasErrors() {
		return errInput
	}
	return err
}

// writeLedger counts rows: every row read was used, reported or skipped.
func writeLedger(w io.Writer, sheets []importers.Ledger) {
	if len(sheets) == 0 {
		return
	}
	rows := [][]string{{"file", "sheet", "read as", "rows", "used", "reported", "skipped"}}
	for _, s := range sheets {
		rows = append(rows, []string{s.File, s.Sheet, s.Kind,
			strconv.Itoa(s.Rows), strconv.Itoa(s.Used), strconv.Itoa(s.Reported), strconv.Itoa(s.Skipped)})
	}
	table(w, rows)
	fmt.Fprintln(w)
}
