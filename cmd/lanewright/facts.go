package main

import (
	"context"
	"fmt"
	"io"
	"runtime"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/pflag"

	"lanewright/planner"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
)

// planOptions say how files are read and planned: what all commands that work
// with the plan of files have in common.
type planOptions struct {
	// mapping is the file that says what the columns mean.
	mapping string
	// leaveOut says that rows with errors may be left out: they are no reason
	// to end with the code for bad input.
	leaveOut bool
	// set changes settings, as key=value; seed, where given, wins.
	set     []string
	seed    *uint64
	limit   time.Duration
	threads int
	prove   bool
	// outputs are the files that the command writes, none of them one that it
	// reads.
	outputs []string
}

// factsFlags adds the options of a command that reads FILE... and asks for no
// whole plan.
func (o *planOptions) factsFlags(flags *pflag.FlagSet) {
	o.threads = 1
	mappingFlag(flags, &o.mapping)
	flags.BoolVar(&o.leaveOut, "leave-out", false, "leave out the rows with errors and be content: they are listed, and the exit code is 0")
	flags.StringArrayVar(&o.set, "set", nil, "change a setting, as key=value; settings are those the plan document shows")
}

// flags adds the options of a command that plans FILE...
func (o *planOptions) flags(flags *pflag.FlagSet) {
	o.factsFlags(flags)
	flags.Func("seed", "`number` that every random choice starts from (default that of the plant's sheet)", func(text string) error {
		seed, err := strconv.ParseUint(text, 10, 64)
		if err != nil {
			return fmt.Errorf("expected a whole number from 0 to %d", uint64(1<<64-1))
		}
		o.seed = &seed
		return nil
	})
	flags.IntVar(&o.threads, "threads", runtime.GOMAXPROCS(0), "threads that search; they change the time, never the result")
	fromEnvironment(flags, "seed", "threads")
}

// check refuses options that can't be before a file is read.
func (o planOptions) check(inputs []string) error {
	switch {
	case o.threads < 1:
		return usagef("--threads is %d; it must be 1 or more", o.threads)
	case o.limit < 0:
		return usagef("--time-limit is %s; it must be more than 0", o.limit)
	}
	if err := o.apply(&planner.Settings{}); err != nil {
		return err
	}
	return distinct(append(inputs[:len(inputs):len(inputs)], o.mapping), o.outputs...)
}

// settings are the plant's own with what the command line changes.
func (o planOptions) settings(facts *plant.Plant) (planner.Settings, error) {
	s := planner.DefaultSettings(facts)
	err := o.apply(&s)
	return s, err
}

// apply puts --set, --seed and --prove into settings; --seed wins.
func (o planOptions) apply(s *planner.Settings) error {
	for _, text := range o.set {
		key, value, ok := strings.Cut(text, "=")
		if !ok {
			return usagef("--set %q: expected key=value", text)
		}
		if err := s.Set(strings.TrimSpace(key), value); err != nil {
			return usagef("--set %s: %w", text, err)
		}
	}
	if o.seed != nil {
		s.Plant.Seed = *o.seed
	}
	s.Prove = s.Prove || o.prove
	return nil
}

// facts reads the files that a plan is made from. Where nothing is left to plan it
// lists the errors and ends.
func (p *program) facts(ctx context.Context, names []string, o planOptions) (planner.Input, error) {
	if err := o.check(names); err != nil {
		return planner.Input{}, err
	}
	input, err := p.read(ctx, names, o.mapping)
	if err != nil {
		return planner.Input{}, stopped(ctx, err)
	}
	if len(input.Plant.Usage) == 0 && input.Findings.HasErrors() {
		writeFindings(p.err, errorsOf(input.Findings))
		p.say("there is nothing to plan; nothing was written")
		return planner.Input{}, errInput
	}
	return planner.Input{Plant: &input.Plant, Findings: input.Findings}, nil
}

// fromFacts answers from the facts in the files and lists the errors whose rows
// the answer leaves out.
func (p *program) fromFacts(ctx context.Context, names []string, o planOptions, answer func(planner.Input) error) error {
	input, err := p.facts(ctx, names, o)
	if err != nil {
		return err
	}
	if err := answer(input); err != nil {
		return stopped(ctx, err)
	}
	writeFindings(p.err, errorsOf(input.Findings))
	return p.leftOut(input.Findings, "answer", o)
}

// fromPlan is fromFacts for an answer that needs the plan of the files.
func (p *program) fromPlan(ctx context.Context, names []string, o planOptions, answer func(planner.Input, *planner.Plan) error) error {
	return p.fromFacts(ctx, names, o, func(in planner.Input) error {
		made, err := p.search(ctx, in, o)
		if err != nil {
			return err
		}
		return answer(in, made)
	})
}

// search runs the planner under the time limit, with a bar.
func (p *program) search(ctx context.Context, input planner.Input, o planOptions) (*planner.Plan, error) {
	settings, err := o.settings(input.Plant)
	if err != nil {
		return nil, err
	}
	if o.limit > 0 {
		var cancel context.CancelFunc
		ctx, cancel = context.WithTimeout(ctx, o.limit)
		defer cancel()
	}
	progress, clear := p.progress()
	defer clear()
	return planner.Run(ctx, input, settings, planner.Options{Threads: o.threads, Progress: progress})
}

// leftOut counts the errors of the input, whose rows the work leaves out, and
// returns how the program ends.
func (p *program) leftOut(found finding.List, work string, o planOptions) error {
	if !found.HasErrors() {
		return nil
	}
	p.say("the input has %s; the %s is one for the rest", plural(found.Count(finding.Error), "error"), work)
	if o.leaveOut {
		return nil
	}
	return errInput
}

// answerFlag adds the option that asks for JSON.
func answerFlag(flags *pflag.FlagSet, asJSON *bool) {
	flags.BoolVar(asJSON, "json", false, "print JSON instead of text")
}

// show prints an answer: its JSON shape or the text for people.
func (p *program) show(asJSON bool, shape func() any, write func(io.Writer)) error {
	if asJSON {
		return p.writeJSON(shape())
	}
	write(p.out)
	return nil
}

// draws says that the command draws into plot; standard output has its text.
func (o *planOptions) draws(plot string) error {
	if plot == "-" {
		return usagef("--plot needs a file: standard output has the table")
	}
	o.outputs = append(o.outputs, plot)
	return nil
}

// showDrawn is show for an answer that is drawn too, where a plot is asked for.
func (p *program) showDrawn(asJSON bool, plot string, draw func(io.Writer) error, shape func() any, write func(io.Writer)) error {
	if plot == "" {
		return p.show(asJSON, shape, write)
	}
	if err := p.writeFile(plot, draw); err != nil {
		return err
	}
	return p.show(asJSON, shape, func(w io.Writer) {
		write(w)
		fmt.Fprintf(w, "wrote %s\n", plot)
	})
}
