package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"lanewright/planner"
	"lanewright/planner/units"
)

func cuttingCommand() *cobra.Command {
	var limit packingLimit
	var kerf string
	cmd := &cobra.Command{
		Use:   "cutting FILE",
		Short: "Cut pieces from few stocks, or from stocks of several lengths at little cost",
		Long: "cutting reads a cut list and prints the number of stocks as value and the number that no cutting is below as\n" +
			"bound. The file has a line \"stock LENGTH\", perhaps a line \"kerf LENGTH\" with what a cut takes away, and a line\n" +
			"\"LENGTH COUNT\" for each length to cut; what follows # is not read. A file of numbers alone has the number of\n" +
			"lengths, the stock's length and the lines \"LENGTH COUNT\". Lengths are in millimetres and may have decimals.\n\n" +
			"With several lines \"stock LENGTH COST COUNT\" value and bound are the cost. A stock without a cost costs its\n" +
			"length, so that the least material is used; one without a count can be bought as often as wanted. Offcuts on\n" +
			"hand have a count, and the cost 0 where they would be thrown away. The last piece of a stock that is used up\n" +
			"needs no cut.",
		Example: "  lanebench cutting tubes.txt --kerf 3\n  lanebench cutting tubes.txt --steps 50000000 --seed 2",
		Args:    cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := limit.check(); err != nil {
				return err
			}
			list, err := readCutting(args[0], kerf)
			if err != nil {
				return failed(err)
			}
			name := strings.TrimSuffix(filepath.Base(args[0]), filepath.Ext(args[0]))
			if list.several() {
				err = limit.cut(cmd, name, list)
			} else {
				err = limit.pack(cmd, name, list.packing())
			}
			if err != nil {
				return failed(fmt.Errorf("%s: %w", args[0], err))
			}
			return nil
		},
	}
	limit.add(cmd.Flags())
	cmd.Flags().StringVar(&kerf, "kerf", "", "millimetres a cut takes away, instead of what the file says")
	return cmd
}

// cutting is a cut list. Stock is the first of stocks, the only one of a file of
// numbers alone.
type cutting struct {
	stock, kerf units.Length
	stocks      []stockLine
	pieces      []planner.PackingPiece
}

// packing is the cut list as a packing problem: each piece takes its kerf
// along, and the stock has room for one more, as the last piece needs none.
func (c cutting) packing() planner.Packing {
	p := planner.Packing{Capacity: int64(c.stock + c.kerf)}
	for _, piece := range c.pieces {
		p.Pieces = append(p.Pieces, planner.PackingPiece{Size: piece.Size + int64(c.kerf), Count: piece.Count})
	}
	return p
}

func readCutting(name, kerf string) (cutting, error) {
	data, err := os.ReadFile(name)
	if err != nil {
		return cutting{}, fmt.Errorf("read cut list: %w", err)
	}
	list, err := parseCutting(string(data))
	if err == nil && kerf != "" {
		list.kerf, err = parseMM(kerf)
	}
	if err == nil {
		err = list.tooLong()
	}
	if err != nil {
		return cutting{}, fmt.Errorf("%s: %w", name, err)
	}
	return list, nil
}

// tooLong says which piece no stock is long enough for.
func (c cutting) tooLong() error {
	for _, p := range c.pieces {
		if length := units.Length(p.Size); length > c.longest() {
			return fmt.Errorf("%w: a piece of %s is longer than the stock of %s", errPacking, length, c.longest())
		}
	}
	return nil
}

// parseCutting reads a cut list in words or in numbers alone.
func parseCutting(text string) (cutting, error) {
	var list cutting
	var alone []string
	at := 0
	for line := range strings.Lines(strings.TrimPrefix(text, "\ufeff")) {
		at++
		line, _, _ = strings.Cut(line, "#")
		fields := strings.Fields(line)
		if len(fields) > 1 && word(fields[0]) == "stock" {
			if err := list.readStock(fields[1:]); err != nil {
				return cutting{}, fmt.Errorf("line %d: %w", at, err)
			}
			continue
		}
		switch len(fields) {
		case 0:
			continue
		case 1:
			alone = append(alone, fields[0])
		case 2:
			if err := list.read(fields[0], fields[1]); err != nil {
				return cutting{}, fmt.Errorf("line %d: %w", at, err)
			}
		default:
			return cutting{}, fmt.Errorf("%w: line %d has %d words; it should be \"LENGTH COUNT\"", errPacking, at, len(fields))
		}
	}
	err := list.head(alone)
	return list, err
}

// word is a line's first word as it is compared.
func word(s string) string { return strings.ToLower(strings.TrimSuffix(s, ":")) }

// read reads a line of two words.
func (c *cutting) read(a, b string) (err error) {
	if word(a) == "kerf" {
		c.kerf, err = parseMM(b)
		return err
	}
	length, err := parseMM(a)
	if err != nil {
		return err
	}
	count, err := strconv.ParseInt(b, 10, 64)
	if err != nil {
		return fmt.Errorf("%w: %q is no number of pieces", errPacking, b)
	}
	if length <= 0 {
		return fmt.Errorf("%w: a piece of %s mm can not be cut", errPacking, a)
	}
	c.pieces = append(c.pieces, planner.PackingPiece{Size: int64(length), Count: count})
	return nil
}

// head takes the lines of one number: how many lengths there are, and the
// stock.
func (c *cutting) head(alone []string) (err error) {
	switch {
	case len(alone) == 2 && c.stock == 0:
		if alone[0] != strconv.Itoa(len(c.pieces)) {
			return fmt.Errorf("%w: the file says that it has %q lengths; it has %d", errPacking, alone[0], len(c.pieces))
		}
		c.stock, err = parseMM(alone[1])
	case len(alone) > 0:
		return fmt.Errorf("%w: %q stands alone on its line; it should be \"LENGTH COUNT\"", errPacking, alone[0])
	case c.stock == 0:
		return fmt.Errorf("%w: the line \"stock LENGTH\" is missing", errPacking)
	}
	return err
}

// parseMM reads a length of 0 or more in millimetres.
func parseMM(s string) (units.Length, error) {
	d, err := parseDecimal(s)
	if err != nil {
		return 0, err
	}
	if d.digits < 0 {
		return 0, fmt.Errorf("%w: the length %s is below 0", errPacking, s)
	}
	return units.Length(d.at(mostPlaces)) * (units.Millimetre / 1_000_000), nil
}
