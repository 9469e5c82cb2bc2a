package main

import (
	"context"

	"lanewright/planner"
	"lanewright/planner/finding"
)

// facts reads the files that a plan is made from. Where nothing is left to plan it
// lists the errors and ends.
func (p *program) facts(ctx context.Context, names []string) (planner.Input, error) {
	return p.factsBy(ctx, names, "")
}

// factsBy is facts by the mapping of that name.
func (p *program) factsBy(ctx context.Context, names []string, mapping string) (planner.Input, error) {
	input, err := p.read(ctx, names, mapping)
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

// leftOut lists the errors of the input, whose rows the answer leaves out, and
// returns how the program ends.
func (p *program) leftOut(in planner.Input) error {
	if !in.Findings.HasErrors() {
		return nil
	}
	writeFindings(p.err, errorsOf(in.Findings))
	p.say("the input has %s; the answer is one for the rest", plural(in.Findings.Count(finding.Error), "error"))
	return errInput
}
