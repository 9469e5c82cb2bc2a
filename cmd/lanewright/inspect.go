package main

import (
	"context"
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"lanewright/api/wire"
	"lanewright/importers/sheet"
)

func (p *program) inspectCommand() *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "inspect FILE",
		Short: "Show what a file holds, before any meaning is read",
		Long: `inspect opens a file and lists its sheets with their rows and cells, hidden ones
too. It says why a file can't be read: encrypted, cut short, an old .xls, a picture.`,
		Example: `  lanewright inspect plant.xlsx
  lanewright inspect - < plant.xlsx --json`,
		Args: oneFile,
		RunE: p.run(func(ctx context.Context, args []string) error {
			return p.inspect(ctx, args[0], asJSON)
		}),
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print it as one JSON document")
	return cmd
}

func oneFile(cmd *cobra.Command, args []string) error {
	if err := files(cmd, args); err != nil {
		return err
	}
	if len(args) > 1 {
		return usagef("%s takes one FILE, not %d", cmd.CommandPath(), len(args))
	}
	return nil
}

func (p *program) inspect(ctx context.Context, name string, asJSON bool) error {
	found, err := p.inspection(ctx, name)
	if err != nil {
		return err
	}
	if asJSON {
		err = p.writeJSON(wire.NewInspection(found))
	} else {
		writeInspection(p.out, found)
	}
	if err == nil && found.Refused != nil {
		return errInput
	}
	return err
}

func (p *program) inspection(ctx context.Context, name string) (sheet.Inspection, error) {
	if name != "-" {
		return sheet.Inspect(ctx, name, sheet.DefaultLimits())
	}
	data, err := p.piped()
	if err != nil {
		return sheet.Inspection{}, err
	}
	return sheet.InspectBytes(ctx, standardInput, data, sheet.DefaultLimits())
}

func writeInspection(w io.Writer, found sheet.Inspection) {
	fmt.Fprintf(w, "%s: %s\n", found.File, found.Format)
	if r := found.Refused; r != nil {
		fmt.Fprintf(w, "can't be read: %s (%s)\n", r.Summary, r.Code)
		return
	}
	if found.Date1904 {
		fmt.Fprintln(w, "dates count from 1904")
	}
	rows := [][]string{{"sheet", "state", "rows", "cells", "merged"}}
	for _, s := range found.Sheets {
		rows = append(rows, []string{s.Name, s.State, strconv.Itoa(s.Rows), strconv.Itoa(s.Cells), strconv.Itoa(s.Merges)})
	}
	table(w, rows)
	for _, s := range found.Sheets {
		if odd := oddities(s); odd != "" {
			fmt.Fprintf(w, "%s: %s\n", s.Name, odd)
		}
	}
}

// oddities lists what somebody who looks at the sheet may not see.
func oddities(s sheet.SheetInspection) string {
	var list []string
	add := func(n int, noun string) {
		if n > 0 {
			list = append(list, plural(n, noun))
		}
	}
	add(s.HiddenRows, "hidden row")
	add(s.HiddenColumns, "hidden column")
	if s.Filtered {
		list = append(list, "a filter")
	}
	add(s.Formulas, "formula")
	if s.NoValue > 0 {
		list = append(list, fmt.Sprintf("%d of them without a saved result", s.NoValue))
	}
	add(s.Errors, "error value")
	return strings.Join(list, ", ")
}
