package main

import (
	"context"
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"lanewright/api/drawing"
	"lanewright/planner"
	"lanewright/planner/plant"
)

// sourceOptions say which plan is printed, and what of it: that of files, which is made
// for the purpose, or a stored one.
type sourceOptions struct {
	id    int64
	plant string
	cells []string
	at    place
	plan  planOptions
}

// source is a plan with the facts it was made from.
type source struct {
	drawing.Papers
	// at is when it was made; zero for one that was made for the purpose.
	at time.Time
	// ends says how the program ends when all is written.
	ends func() error
}

// options adds the options of a command that prints a plan.
func (o *sourceOptions) options(cmd *cobra.Command) {
	flags := cmd.Flags()
	flags.Int64Var(&o.id, "plan", 0, "id of a stored plan")
	flags.StringVar(&o.plant, "plant", "", "name of a plant in the database: its latest plan")
	flags.StringArrayVar(&o.cells, "cell", nil, "only this cell; may be given several times")
	o.plan.flags(flags)
	fromEnvironment(flags, "plant")
	o.at.flags(flags)
	o.at.join = true
	cmd.Args = func(cmd *cobra.Command, args []string) error {
		if len(args) == 0 {
			return nil // then a stored plan is meant
		}
		return files(cmd, args)
	}
}

// check refuses what names no plan, or two.
func (o *sourceOptions) check(cmd *cobra.Command, p *program, inputs []string, outputs ...string) error {
	// A file on the command line wins over a plant of the environment.
	if known, _ := p.env("LANEWRIGHT_PLANT"); len(inputs) > 0 && o.plant == known {
		o.plant = ""
	}
	switch named := o.id != 0 || o.plant != ""; {
	case o.id < 0:
		return usagef("--plan is %d; it must be 1 or more", o.id)
	case len(inputs) == 0 && !named:
		return usagef("%s needs --plant NAME (its latest plan) or --plan ID, or FILE...", cmd.CommandPath())
	case len(inputs) > 0 && named:
		return usagef("%s takes a plan from FILE..., or a stored one by --plant or --plan, not both", cmd.CommandPath())
	}
	o.plan.outputs = outputs
	return o.plan.check(inputs)
}

// find makes the plan of the files, or loads the stored one.
func (p *program) find(ctx context.Context, names []string, o sourceOptions) (m source, err error) {
	if len(names) > 0 {
		m, err = p.fromFiles(ctx, names, o.plan)
	} else {
		m, err = p.stored(ctx, o)
	}
	if err != nil {
		return m, err
	}
	for _, name := range o.cells {
		c, err := cellNamed(m.Facts, name)
		if err != nil {
			return m, err
		}
		m.Cells = append(m.Cells, c)
	}
	return m, nil
}

func (p *program) fromFiles(ctx context.Context, names []string, o planOptions) (source, error) {
	input, err := p.facts(ctx, names, o)
	if err != nil {
		return source{}, err
	}
	plan, err := p.search(ctx, input, o)
	if err != nil {
		return source{}, stopped(ctx, err)
	}
	writeFindings(p.err, errorsOf(input.Findings))
	return source{papersOf(input.Plant, plan, ""), time.Time{}, func() error { return p.leftOut(input.Findings, "plan that is printed", o) }}, nil
}

// papersOf names a plan as its papers do; id is empty for one that is not stored.
func papersOf(facts *plant.Plant, plan *planner.Plan, id string) drawing.Papers {
	name := fmt.Sprintf("facts %.12s, seed %d", plan.Revision, plan.Settings.Plant.Seed)
	if id != "" {
		name = fmt.Sprintf("plan %s, facts %.12s", id, plan.Revision)
	}
	return drawing.Papers{Facts: facts, Plan: plan, Name: name}
}

func (p *program) stored(ctx context.Context, o sourceOptions) (m source, err error) {
	s, err := p.openCurrent(ctx, o.at)
	if err != nil {
		return m, err
	}
	m, err = loadSource(ctx, s, o)
	return m, closing(s, err)
}

func loadSource(ctx context.Context, s *store, o sourceOptions) (source, error) {
	if o.id == 0 {
		found, err := s.Plant(ctx, o.plant)
		if err != nil {
			return source{}, missing(err, "plant %q in the database", o.plant)
		}
		if found.LatestPlan == 0 {
			return source{}, usagef("there is no plan of %q yet: lanewright import FILE --plant %q --plan makes one", o.plant, o.plant)
		}
		o.id = found.LatestPlan
	}
	m, err := loadPlan(ctx, s, o.id)
	return m, missing(err, "plan %d in the database", o.id)
}

// loadPlan loads a stored plan. What is printed from it bears the time at which it
// was made, so that the same plan gives the same bytes.
func loadPlan(ctx context.Context, s *store, id int64) (source, error) {
	header, err := s.Plan(ctx, id)
	if err != nil {
		return source{}, err
	}
	plan, err := s.LoadPlan(ctx, id)
	if err != nil {
		return source{}, err
	}
	facts, _, _, err := s.LoadPlant(ctx, header.Plant, header.Revision)
	if err != nil {
		return source{}, err
	}
	return source{papersOf(facts, plan, fmt.Sprint(id)), header.Created, func() error { return nil }}, nil
}
