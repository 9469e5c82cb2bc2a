package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"
	"golang.org/x/term"
)

// The codes the program ends with; other programs rely on them.
const (
	exitDone  = 0
	exitInput = 1
	exitUsage = 2
	exitWorld = 3
)

// program is what every command works with: the outside as it was given.
type program struct {
	in       io.Reader
	out, err io.Writer
	env      func(string) (string, bool)
	// started is true once the command line was understood: an error before
	// it is one of usage, after it one of the world.
	started bool
}

// exit is an error that decides the code the program ends with. With a nil
// cause everything was said already.
type exit struct {
	code  int
	cause error
}

func (e *exit) Error() string {
	if e.cause == nil {
		return fmt.Sprintf("exit code %d", e.code)
	}
	return e.cause.Error()
}

func (e *exit) Unwrap() error { return e.cause }

// errInput says that the input has errors, which were listed.
var errInput = &exit{code: exitInput}

func usagef(format string, args ...any) error {
	return &exit{exitUsage, fmt.Errorf(format, args...)}
}

// main runs the command line and returns the exit code. A broken invariant is
// a sentence too; LANEWRIGHT_TRACE=1 adds where it broke.
func (p *program) main(ctx context.Context, args []string) (code int) {
	defer func() {
		if r := recover(); r != nil {
			fmt.Fprintf(p.err, "lanewright: a mistake in the program itself, please report it: %v\n", r)
			if _, ok := p.env("LANEWRIGHT_TRACE"); ok {
				_, _ = p.err.Write(debug.Stack())
			}
			code = exitWorld
		}
	}()
	root := p.root()
	root.SetArgs(args)
	return p.code(root.ExecuteContext(ctx))
}

// code prints err, unless that was done, and returns what it ends with.
func (p *program) code(err error) int {
	if err == nil {
		return exitDone
	}
	code := exitUsage
	if p.started {
		code = exitWorld
	}
	if e := (*exit)(nil); errors.As(err, &e) {
		if code = e.code; e.cause == nil {
			return code
		}
	}
	// Libraries break their errors into lines; a person gets one.
	fmt.Fprintf(p.err, "lanewright: %s\n", strings.Join(strings.Fields(err.Error()), " "))
	if code == exitUsage {
		fmt.Fprintln(p.err, "lanewright --help shows the commands, lanewright COMMAND --help their options.")
	}
	return code
}

// run wraps the work of a command: options that the command line does not give
// are taken from the environment first.
func (p *program) run(do func(ctx context.Context, args []string) error) func(*cobra.Command, []string) error {
	return func(cmd *cobra.Command, args []string) error {
		if err := p.configure(cmd.Flags()); err != nil {
			return err
		}
		p.started = true
		return do(cmd.Context(), args)
	}
}

// say writes one line to standard error.
func (p *program) say(format string, args ...any) {
	fmt.Fprintf(p.err, format+"\n", args...)
}

// isTerminal reports whether f is a terminal somebody looks at.
func isTerminal(f any) bool {
	file, ok := f.(*os.File)
	return ok && term.IsTerminal(int(file.Fd()))
}
