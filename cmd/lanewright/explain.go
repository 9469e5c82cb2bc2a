package main

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"lanewright/api/codes"
	"lanewright/api/wire"
	"lanewright/importers/column"
	"lanewright/planner"
	"lanewright/planner/finding"
)

// explainOptions are the options of the explain command.
type explainOptions struct {
	which
	route, rack string
	json        bool
	plan        planOptions
}

func (p *program) explainCommand() *cobra.Command {
	var o explainOptions
	cmd := &cobra.Command{
		Use:   "explain [CODE | FILE... --part PART | FILE... --route ROUTE | FILE... --rack RACK]",
		Short: "Explain a finding's code, a loop, a route or a rack",
		Long: `explain CODE says what the code of a finding means; without one it lists all codes.

explain FILE... --part PART plans the files and tells of one loop what a colleague would:
how fast the part is used and which cells of the sheets that came from, by which rule it
was sized and what went in, what came out, what a sign at the lane would say, where it
lies and who brings it, where else it could lie and what is in the way there or, without a
lane, what would give it one, which other containers would serve, and what would change it.

explain FILE... --route ROUTE tells of one route who drives it, where its time goes, what
each stop costs there and on the next best route, what a round takes from the market in the
order in which it is picked, and when it leaves. explain FILE... --rack RACK tells why a rack
is on its route, what each other route would cost or what forbids it, and what would let a
round serve the loops that none serves.`,
		Example: `  lanewright explain
  lanewright explain parts.unknown-container
  lanewright explain plant.xlsx --part 4711 --cell MAST --station 020
  lanewright explain plant.xlsx --part 4711 --set refill_interval_min=30
  lanewright explain plant.xlsx --route B
  lanewright explain plant.xlsx --rack R12`,
		RunE: p.run(func(ctx context.Context, args []string) error { return p.explain(ctx, args, o) }),
		ValidArgsFunction: func(_ *cobra.Command, _ []string, _ string) ([]string, cobra.ShellCompDirective) {
			var all []string
			for _, page := range codes.Pages() {
				all = append(all, page.Code+"\t"+page.Title)
			}
			return all, cobra.ShellCompDirectiveDefault
		},
	}
	flags := cmd.Flags()
	flags.StringVar(&o.part, "part", "", "explain the loop of this part in the plan of the files")
	flags.StringVar(&o.cell, "cell", "", "the cell of --part, where the part is used in several")
	flags.StringVar(&o.station, "station", "", "the station of --part, where the part is used at several")
	flags.StringVar(&o.route, "route", "", "explain this route of the plan of the files")
	flags.StringVar(&o.rack, "rack", "", "explain the rounds of this rack in the plan of the files")
	answerFlag(flags, &o.json)
	o.plan.flags(flags)
	return cmd
}

func (p *program) explain(ctx context.Context, args []string, o explainOptions) error {
	switch {
	case o.route != "" || o.rack != "":
		return p.explainRounds(ctx, args, o)
	case o.part != "" && len(args) == 0:
		return usagef("--part needs the FILE that the plan is made from")
	case o.part != "":
		return p.explainLoop(ctx, args, o)
	case o.cell != "" || o.station != "" || o.json || len(o.plan.set) > 0 || o.plan.mapping != "":
		return usagef("--cell, --station, --set, --mapping and --json need --part, --route or --rack")
	case len(args) == 0:
		return p.listPages(codes.Pages())
	case len(args) > 1 || exists(args[0], false):
		return usagef("which loop is meant? add --part, as in lanewright explain %s --part PART", strings.Join(args, " "))
	default:
		return p.explainCode(codes.Pages(), args[0])
	}
}

// explainLoop plans the files and tells about one loop.
func (p *program) explainLoop(ctx context.Context, names []string, o explainOptions) error {
	if err := files(nil, names); err != nil {
		return err
	}
	return p.fromPlan(ctx, names, o.plan, func(input planner.Input, made *planner.Plan) error {
		loop, ok, err := p.loop(made, o.which, "--part")
		if err != nil || !ok {
			return err
		}
		e, _ := planner.NewReasons(input.Plant, made).Loop(loop.Key)
		return p.show(o.json, func() any { return wire.NewExplanation(e) }, func(w io.Writer) { writeExplanation(w, e) })
	})
}

// writeExplanation shows an explanation to people: each sentence, and below it the
// values it rests on with their places.
func writeExplanation(w io.Writer, e planner.Explanation) {
	fmt.Fprintf(w, "Part %s at station %s of cell %s\n", e.Loop.Part, e.Loop.Station, e.Loop.Cell)
	writeSections(w, e.Sections)
}

func writeSections(w io.Writer, sections []planner.Section) {
	for _, s := range sections {
		fmt.Fprintf(w, "\n%s\n", s.Title)
		for _, sentence := range s.Sentences {
			fmt.Fprintf(w, "  %s\n", wrap(sentence.Text, "  "))
			for _, v := range sentence.Values {
				fmt.Fprintf(w, "    %s: %s (%s)\n", v.Name, v.Text, from(v))
			}
		}
	}
}

// from says where a value can be changed.
func from(v planner.Value) string {
	switch {
	case !v.Origin.IsZero():
		return v.Origin.String()
	case v.Setting != "":
		return "the plant's setting " + v.Setting
	default:
		return "not given"
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

func (p *program) explainCode(all []finding.Page, code string) error {
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
