package main

import (
	"context"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"lanewright/importers/export"
)

func (p *program) templateCommand() *cobra.Command {
	var folder, force bool
	cmd := &cobra.Command{
		Use:   "template OUT.xlsx",
		Short: "Write an empty plant workbook to fill in",
		Long: `template writes an empty plant workbook: every sheet and column that is read, with
what belongs there. With --csv it writes a folder of CSV files instead, one to a
sheet. Only a few sheets are needed; lanewright check says which are missing.`,
		Example: `  lanewright template plant.xlsx
  lanewright template plant --csv`,
		Args: oneName("the file to write, such as plant.xlsx"),
		RunE: p.run(func(_ context.Context, args []string) error {
			return p.template(args[0], folder, force)
		}),
	}
	cmd.Flags().BoolVar(&folder, "csv", false, "write a folder of CSV files")
	cmd.Flags().BoolVar(&force, "force", false, "write over a file that exists")
	return cmd
}

// oneName accepts one argument and says what it is where it is missing.
func oneName(what string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) != 1 {
			return usagef("%s needs %s", cmd.CommandPath(), what)
		}
		return nil
	}
}

func (p *program) template(name string, folder, force bool) error {
	if !force && name != "-" && exists(name, folder) {
		return usagef("%s is there already; --force writes over it", name)
	}
	if folder {
		if err := export.WriteFolder(name, export.Template()); err != nil {
			return err
		}
	} else {
		if ext := strings.ToLower(filepath.Ext(name)); ext != ".xlsx" && name != "-" {
			return usagef("the workbook's name must end in .xlsx, not %q; --csv writes a folder", ext)
		}
		if err := p.writeFile(name, func(w io.Writer) error { return export.WriteXLSX(w, export.Template()) }); err != nil {
			return err
		}
	}
	if name != "-" {
		fmt.Fprintf(p.out, "wrote %s\n", name)
	}
	return nil
}
