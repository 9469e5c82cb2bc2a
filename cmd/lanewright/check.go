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
	cmd.Flags().StringVar(&o.annotated, "annotate", "", "write a copy of the workbook, or of other files as one workbook (.xlsx), with each finding at its cell, and a sheet that lists them")
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
		if err := p.annotate(ctx, names, o, result); err != nil {
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

// annotatable refuses standard input, which is read once only, and to write
// over what is read.
func annotatable(names []string, out string) error {
	if names[0] == "-" {
		return usagef("--annotate marks the cells of files: name a FILE, not standard input")
	}
	return distinct(names, out)
}

// annotate writes the workbook with its findings in it; of files of other
// kinds, or several, a copy as a workbook.
func (p *program) annotate(ctx context.Context, names []string, o checkOptions, read *importers.Result) error {
	if len(read.Sheets) == 0 {
		return usagef("--annotate: no sheet could be read, so there is no cell to mark; the findings say why")
	}
	name := filepath.Base(names[0])
	data, err := workbookAlone(names)
	if err != nil {
		return err
	}
	err = annotate.ErrNoWorkbook
	if data != nil {
		err = p.writeFile(o.annotated, func(w io.Writer) error {
			return annotate.Workbook(w, name, data, read.Findings)
		})
	}
	if errors.Is(err, annotate.ErrNoWorkbook) {
		return p.annotateCopy(ctx, names, o, read)
	}
	if err == nil {
		p.say("wrote %s", o.annotated)
	}
	return err
}

// workbookAlone is the content of a single file that is an archive, as every
// workbook is; nil where there is none.
func workbookAlone(names []string) ([]byte, error) {
	if at, err := os.Stat(names[0]); len(names) > 1 || err == nil && at.IsDir() {
		return nil, nil
	}
	data, err := os.ReadFile(names[0])
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", names[0], err)
	}
	if !bytes.HasPrefix(data, []byte("PK")) {
		return nil, nil
	}
	return data, nil
}

func (p *program) annotateCopy(ctx context.Context, names []string, o checkOptions, read *importers.Result) error {
	m, err := stated(o.mapping)
	if err != nil {
		return err
	}
	sheets, err := importers.OpenSheets(ctx, importers.Options{Mapping: m}, names...)
	if err != nil {
		return err
	}
	err = p.writeFile(o.annotated, func(w io.Writer) error { return annotate.Copy(w, sheets, read.Findings) })
	if err == nil {
		p.say("wrote %s: a copy of the rows as a workbook; what was handed in is as it was", o.annotated)
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
