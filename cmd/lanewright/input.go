package main

import (
	"context"
	"fmt"
	"io"
	"slices"

	"github.com/spf13/cobra"

	"lanewright/importers"
)

// standardInput is the name that findings give to what was piped in.
const standardInput = "standard input"

// files accepts one FILE or more; - stands alone.
func files(cmd *cobra.Command, args []string) error {
	if len(args) == 0 {
		return usagef("%s needs a FILE: a workbook, a flat table, a .zip or a folder of CSV files, or - for standard input", cmd.CommandPath())
	}
	if len(args) > 1 && slices.Contains(args, "-") {
		return usagef("- (standard input) can't be read together with files")
	}
	return nil
}

// read turns the files into a plant and findings, by the mapping of that name
// where there is one.
func (p *program) read(ctx context.Context, names []string, mapping string) (*importers.Result, error) {
	m, err := stated(mapping)
	if err != nil {
		return nil, err
	}
	return p.readWith(ctx, names, importers.Options{Mapping: m})
}

// readWith is read with all that is known about the files.
func (p *program) readWith(ctx context.Context, names []string, o importers.Options) (*importers.Result, error) {
	if names[0] != "-" {
		return importers.ReadFilesWith(ctx, o, names...)
	}
	data, err := p.piped()
	if err != nil {
		return nil, err
	}
	return importers.ReadBytesWith(ctx, o, standardInput, data)
}

// piped reads standard input to its end.
func (p *program) piped() ([]byte, error) {
	if isTerminal(p.in) {
		p.say("reading standard input; end it with Ctrl-D")
	}
	data, err := io.ReadAll(p.in)
	if err != nil {
		return nil, fmt.Errorf("read standard input: %w", err)
	}
	return data, nil
}
