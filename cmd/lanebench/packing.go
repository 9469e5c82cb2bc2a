package main

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"lanewright/planner"
)

func packingCommand() *cobra.Command {
	var limit packingLimit
	cmd := &cobra.Command{
		Use:   "packing FILE...",
		Short: "Pack pieces into few bins of one capacity",
		Long: "packing reads a one-dimensional bin packing problem and prints the number of bins as value and the number that\n" +
			"no packing is below as bound. The file holds the number of pieces, the capacity and one size a line; where only\n" +
			"the second number can be that of the pieces, the capacity comes first. A file of several problems begins with\n" +
			"their number; each has a line with its name, a line with capacity, number of pieces and a third number, which is\n" +
			"not used, and one size a line. It prints one line of JSON a problem. Sizes may have decimals.\n" +
			"The same steps and seed give the same packing; seconds do not.",
		Example: "  lanebench packing t60.txt --seed 1\n  lanebench packing t60.txt --steps 50000000\n  lanebench packing t60.txt --seconds 10",
		Args:    cobra.MinimumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return packFiles(cmd, args, limit)
		},
	}
	limit.add(cmd.Flags())
	return cmd
}

// packingLimit says how long to search.
type packingLimit struct {
	seconds float64
	steps   int64
	seed    uint64
}

func (l *packingLimit) add(flags *pflag.FlagSet) {
	flags.Float64Var(&l.seconds, "seconds", 0, "seconds to search at most; 0 sets no limit of time")
	flags.Int64Var(&l.steps, "steps", 0, "elementary operations to spend; 0 is about a second's, without end where --seconds is set")
	flags.Uint64Var(&l.seed, "seed", 1, "seed of the random choices")
}

func (l *packingLimit) check() error {
	if !(l.seconds >= 0) || l.seconds > 1e6 || l.steps < 0 {
		return fmt.Errorf("--seconds must be 0 to 1000000 and --steps 0 or more: got %v, %d", l.seconds, l.steps)
	}
	return nil
}

func packFiles(cmd *cobra.Command, names []string, l packingLimit) error {
	if err := l.check(); err != nil {
		return err
	}
	for _, name := range names {
		list, err := readPackings(name)
		if err != nil {
			return failed(err)
		}
		for _, p := range list {
			if err := l.pack(cmd, p.name, p.problem); err != nil {
				return failed(fmt.Errorf("%s: %w", name, err))
			}
		}
	}
	return nil
}

// limited is the context and the options of a search within l.
func (l *packingLimit) limited(cmd *cobra.Command) (context.Context, context.CancelFunc, planner.PackingOptions) {
	o := planner.PackingOptions{Steps: l.steps, Seed: l.seed}
	if l.seconds <= 0 {
		return cmd.Context(), func() {}, o
	}
	if o.Steps == 0 {
		o.Steps = math.MaxInt64
	}
	ctx, cancel := context.WithTimeout(cmd.Context(), time.Duration(l.seconds*float64(time.Second)))
	return ctx, cancel, o
}

// pack packs one problem and prints its line.
func (l *packingLimit) pack(cmd *cobra.Command, name string, p planner.Packing) error {
	ctx, cancel, o := l.limited(cmd)
	defer cancel()
	start := time.Now()
	r, err := planner.Pack(ctx, p, o)
	if err != nil {
		return err
	}
	seconds := since(start)
	bound := float64(r.Bound)
	return figures{
		Instance: name, Value: float64(r.Count), Bound: &bound, Feasible: planner.CheckPacking(p, r) == nil, Seconds: seconds, Seed: l.seed,
	}.print(cmd)
}

// packingFile is a problem and its name.
type packingFile struct {
	name    string
	problem planner.Packing
}

// errPacking marks files that are no packing problem.
var errPacking = errors.New("not a packing problem")

func readPackings(name string) ([]packingFile, error) {
	data, err := os.ReadFile(name)
	if err != nil {
		return nil, fmt.Errorf("read problem: %w", err)
	}
	base := strings.TrimSuffix(filepath.Base(name), filepath.Ext(name))
	list, err := parsePackings(base, string(data))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return list, nil
}

// parsePackings reads one problem, or several with a name each.
func parsePackings(name, text string) ([]packingFile, error) {
	fields := strings.Fields(strings.TrimPrefix(text, "\ufeff"))
	if len(fields) < 2 {
		return nil, fmt.Errorf("%w: the number of pieces and the capacity are missing", errPacking)
	}
	if _, err := parseDecimal(fields[1]); err != nil {
		return parseNamed(fields)
	}
	p, err := parseSingle(fields)
	return []packingFile{{name, p}}, err
}

// parseSingle reads the number of pieces, the capacity and the sizes.
func parseSingle(fields []string) (planner.Packing, error) {
	want := strconv.Itoa(len(fields) - 2)
	switch {
	case fields[0] == want:
		return decimals(fields[1], fields[2:])
	case fields[1] == want:
		return decimals(fields[0], fields[2:])
	}
	return planner.Packing{}, fmt.Errorf("%w: it holds %s sizes; neither %q nor %q, its first numbers, says so", errPacking, want, fields[0], fields[1])
}

// parseNamed reads several problems.
func parseNamed(fields []string) ([]packingFile, error) {
	var list []packingFile
	rest := fields[1:]
	for len(rest) > 0 {
		if len(rest) < 4 {
			return nil, fmt.Errorf("%w: problem %q ends too soon", errPacking, rest[0])
		}
		n, err := strconv.Atoi(rest[2])
		if err != nil || n < 0 || n > len(rest)-4 {
			return nil, fmt.Errorf("%w: problem %q says that it has %q pieces", errPacking, rest[0], rest[2])
		}
		p, err := decimals(rest[1], rest[4:4+n])
		if err != nil {
			return nil, fmt.Errorf("problem %q: %w", rest[0], err)
		}
		list = append(list, packingFile{rest[0], p})
		rest = rest[4+n:]
	}
	if fields[0] != strconv.Itoa(len(list)) {
		return nil, fmt.Errorf("%w: the file says that it has %q problems; it has %d", errPacking, fields[0], len(list))
	}
	return list, nil
}

// decimals reads capacity and sizes as whole numbers of the smallest place
// that one of them has.
func decimals(capacity string, sizes []string) (planner.Packing, error) {
	list := make([]decimal, 0, len(sizes)+1)
	places := 0
	for _, s := range append([]string{capacity}, sizes...) {
		d, err := parseDecimal(s)
		if err != nil {
			return planner.Packing{}, err
		}
		list = append(list, d)
		places = max(places, d.places)
	}
	p := planner.Packing{Capacity: list[0].at(places), Pieces: make([]planner.PackingPiece, len(sizes))}
	for i, d := range list[1:] {
		p.Pieces[i] = planner.PackingPiece{Size: d.at(places), Count: 1}
	}
	return p, nil
}

// decimal is a number with so many places after the point.
type decimal struct {
	digits int64
	places int
}

// Limits of a decimal: so many places, and a value below 10^9.
const (
	mostPlaces = 6
	mostDigits = 9
)

func parseDecimal(s string) (decimal, error) {
	whole, part, _ := strings.Cut(s, ".")
	part = strings.TrimRight(part, "0")
	n, err := strconv.ParseInt(whole+part, 10, 64)
	if err != nil || len(whole) > mostDigits || len(part) > mostPlaces || strings.ContainsAny(part, "+-") {
		return decimal{}, fmt.Errorf("%w: %q is no number below a thousand million with at most %d decimals", errPacking, s, mostPlaces)
	}
	return decimal{n, len(part)}, nil
}

// at is the number in units of so many places.
func (d decimal) at(places int) int64 {
	n := d.digits
	for range places - d.places {
		n *= 10
	}
	return n
}
