package main

import (
	"context"
	"fmt"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"

	"lanewright/planner"
)

// root is the whole command line.
func (p *program) root() *cobra.Command {
	root := &cobra.Command{
		Use:   "lanewright",
		Short: "Plans gravity flow racks and the routes that refill them",
		Long: `Lanewright reads what a plant has (its parts, containers, racks, stations and
aisles, in a workbook or CSV files) and plans how many containers each part needs
at each station, which lane of which rack they lie in, and who refills them when.

FILE is a workbook (.xlsx, .ods), a flat table (.csv), a .zip or a folder of CSV
files; - reads standard input. Results go to standard output, everything else to
standard error. The exit code is 0 when it is done, 1 when the input has errors
(all of them are listed), 2 when the command line is wrong, 3 when the world
failed: a file that can't be read, a database that is away.`,
		Example: `  lanewright demo                                  see it work on a made-up plant
  lanewright template plant.xlsx                   an empty workbook to fill in
  lanewright check plant.xlsx                      what is wrong with it
  lanewright plan plant.xlsx --report report.xlsx  the plan, as a workbook to read`,
		Version:       version(),
		SilenceErrors: true,
		SilenceUsage:  true,
		// Two letters changed are still a slip of the hand.
		SuggestionsMinimumDistance: 2,
		Args:                       known,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return cmd.Help()
		},
	}
	root.SetVersionTemplate("lanewright {{.Version}}\n")
	root.SetIn(p.in)
	root.SetOut(p.out)
	root.SetErr(p.err)
	group(root, "To begin with:", p.demoCommand(), p.templateCommand(), p.explainCommand(), p.versionCommand())
	group(root, "With files alone:", p.inspectCommand(), p.checkCommand(), p.mapCommand(), p.planCommand(), p.simulateCommand(), p.choicesCommand(), p.tradeCommand(), p.reliefsCommand(), p.compareCommand(), p.rackCommand(), p.buildCommand(), p.cellModelCommand())
	group(root, "To print, from files or a database:", p.reportCommand(), p.labelsCommand(), p.cardsCommand(), p.routeSheetsCommand())
	group(root, "With a database:", p.importCommand(), p.serveCommand(), p.migrateCommand())
	return root
}

// known refuses what is no command and says which one was meant.
func known(root *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	if near := root.SuggestionsFor(args[0]); len(near) > 0 {
		return usagef("there is no command %q; did you mean %s?", args[0], strings.Join(near, " or "))
	}
	return usagef("there is no command %q", args[0])
}

// group adds commands that belong together under one heading of the help.
func group(root *cobra.Command, heading string, commands ...*cobra.Command) {
	root.AddGroup(&cobra.Group{ID: heading, Title: heading})
	for _, c := range commands {
		c.GroupID = heading
	}
	root.AddCommand(commands...)
}

func (p *program) versionCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "version",
		Short: "Print the version of the program and of its planning rules",
		Args:  cobra.NoArgs,
		RunE: p.run(func(context.Context, []string) error {
			fmt.Fprintf(p.out, "lanewright %s\n", version())
			return nil
		}),
	}
}

// version is that of the planner's rules, with the commit it was built from
// where the build knows it.
func version() string {
	v := planner.Version
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return v
	}
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" && len(s.Value) >= 12 {
			v += " (" + s.Value[:12] + ")"
		}
	}
	return v + ", " + info.GoVersion
}
