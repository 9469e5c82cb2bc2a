package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"

	"github.com/spf13/cobra"

	"lanewright/api/wire"
	"lanewright/importers"
	"lanewright/importers/annotate"
)

// checkOptions are the options of the check command.
type checkOptions struct {
	json               bool
	mapping, annotated string
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
  lanewright check plant.xlsx --annotate marked.xlsx
  lanewright explain CODE          what a finding's code means`,
		Args: files,
		RunE: p.run(func(ctx context.Context, args []string) error {
			return p.check(ctx, args, o)
		}),
	}
	cmd.Flags().BoolVar(&o.json, "json", false, "print findings and rows as one JSON document")
	cmd.Flags().StringVar(&o.annotated, "annotate", "", "write a copy of the workbook (.xlsx) with each finding at its cell, and a sheet that lists them")
	mappingFlag(cmd.Flags(), &o.mapping)
	return cmd
}

func (p *program) check(ctx context.Context, names []string, o checkOptions) error {
	if o.annotated != "" {
		if err := annotatable(names, o.annotated); err != nil {
			return err
		}
	}
	result, err := p.read(ctx, names, o.mapping)
	if err != nil {
		return err
	}
	if o.annotated != "" {
		if err := p.annotate(names[0], o.annotated, result); err != nil {
			return err
		}
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

// annotatable refuses what is no single workbook, and to write over it.
func annotatable(names []string, out string) error {
	if len(names) != 1 || names[0] == "-" {
		return usagef("--annotate marks the cells of one workbook: name one FILE")
	}
	return distinct(names, out)
}

// annotate writes a copy of the workbook with its findings in it.
func (p *program) annotate(name, out string, read *importers.Result) error {
	data, err := os.ReadFile(name)
	if err != nil {
		return fmt.Errorf("read %s: %w", name, err)
	}
	if len(read.Sheets) == 0 || !bytes.HasPrefix(data, []byte("PK")) {
		return usagef("--annotate marks the cells of a workbook (.xlsx); %s is none that can be read", filepath.Base(name))
	}
	err = p.writeFile(out, func(w io.Writer) error {
		return annotate.Workbook(w, filepath.Base(name), data, read.Findings)
	})
	if errors.Is(err, annotate.ErrNoWorkbook) {
		return usagef("--annotate: %s: %w", filepath.Base(name), err)
	}
	if err != nil {
		return err
	}
	p.say("wrote %s", out)
	return nil
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
