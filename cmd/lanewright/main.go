// Command lanewright turns the workbook of a plant into a plan of its gravity
// flow racks and refill routes: on the command line, in a database, and over
// an HTTP interface with pages.
//
// It ends with 0 when it is done, 1 when the input has errors (all of them are
// listed), 2 when the command line is wrong, 3 when the world failed.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
	_ "time/tzdata" // plants name their time zone; not every machine knows it
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	// A second signal ends the program at once.
	context.AfterFunc(ctx, stop)
	p := &program{in: os.Stdin, out: os.Stdout, err: os.Stderr, env: os.LookupEnv}
	code := p.main(ctx, os.Args[1:])
	stop()
	os.Exit(code)
}
