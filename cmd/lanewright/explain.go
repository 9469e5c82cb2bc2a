package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"lanewright/importers/column"
	"lanewright/planner/finding"
)

func (p *program) explainCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "explain [CODE]",
		Short: "Explain a finding's code; without one, list all codes",
		Example: `  lanewright explain
  lanewright explain parts.unknown-container`,
		Args: cobra.MaximumNArgs(1),
		RunE: p.run(func(_ context.Context, args []string) error {
			if len(args) == 0 {
				return p.listPages(pages())
			}
			return p.explain(pages(), args[0])
		}),
		ValidArgsFunction: func(_ *cobra.Command, _ []string, _ string) ([]string, cobra.ShellCompDirective) {
			var codes []string
			for _, page := range pages() {
				codes = append(codes, page.Code+"\t"+page.Title)
			}
			return codes, cobra.ShellCompDirectiveNoFileComp
		},
	}
}

func (p *program) listPages(all []finding.Page) error {
	rows := make([][]string, len(all))
	for i, page := range all {
		rows[i] = []string{page.Code, page.Title}
	}
	table(p.out, rows)
	return nil
}

func (p *program) explain(all []finding.Page, code string) error {
	for _, page := range all {
		if strings.EqualFold(page.Code, code) {
			fmt.Fprintf(p.out, "%s\n%s\n\n%s\n", page.Code, page.Title, wrap(page.Text, ""))
			return nil
		}
	}
	if near := nearest(all, code); near != "" {
		return usagef("there is no code %q; did you mean %s?", code, near)
	}
	return usagef("there is no code %q; lanewright explain lists all", code)
}

// nearest returns the code that is most like what was typed, or nothing. The
// part after the point ("unknown-container") is as good as the whole.
func nearest(all []finding.Page, typed string) string {
	var codes, tails []string
	for _, page := range all {
		_, tail, _ := strings.Cut(page.Code, ".")
		codes, tails = append(codes, page.Code), append(tails, tail)
	}
	if code, ok := column.Nearest(typed, codes); ok {
		return code
	}
	if tail, ok := column.Nearest(typed, tails); ok {
		return codes[slices.Index(tails, tail)]
	}
	return ""
}
