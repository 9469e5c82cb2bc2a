package main

import (
	"fmt"
	"math"
	"strconv"
	"time"

	"github.com/spf13/cobra"

	"lanewright/planner"
	"lanewright/planner/units"
)

// stockLine is a line "stock LENGTH COST COUNT"; priced says that the cost is
// there.
type stockLine struct {
	length units.Length
	cost   decimal
	priced bool
	count  int64
}

// readStock reads what follows the word stock.
func (c *cutting) readStock(fields []string) (err error) {
	s := stockLine{count: planner.UnlimitedStock}
	if len(fields) > 3 {
		return fmt.Errorf("%w: a stock has a length, a cost and a count, not %d numbers", errPacking, len(fields))
	}
	if s.length, err = parseMM(fields[0]); err != nil {
		return err
	}
	cost := fields[0]
	if s.priced = len(fields) > 1; s.priced {
		cost = fields[1]
	}
	if s.cost, err = parseDecimal(cost); err != nil {
		return err
	}
	if len(fields) > 2 {
		if s.count, err = strconv.ParseInt(fields[2], 10, 64); err != nil {
			return fmt.Errorf("%w: %q is no number of stocks", errPacking, fields[2])
		}
	}
	if c.stock == 0 {
		c.stock = s.length
	}
	c.stocks = append(c.stocks, s)
	return nil
}

// several reports whether costs and counts matter.
func (c cutting) several() bool { return len(c.stocks) > 1 || len(c.stocks) == 1 && c.stocks[0].priced }

func (c cutting) longest() units.Length {
	longest := c.stock
	for _, s := range c.stocks {
		longest = max(longest, s.length)
	}
	return longest
}

// problem is the cut list with costs in whole numbers of their smallest place.
func (c cutting) problem() (p planner.Cutting, places int) {
	p.Kerf = int64(c.kerf)
	for _, s := range c.stocks {
		places = max(places, s.cost.places)
	}
	for _, s := range c.stocks {
		p.Stocks = append(p.Stocks, planner.CuttingStock{Length: int64(s.length), Cost: s.cost.at(places), Count: s.count})
	}
	for _, piece := range c.pieces {
		p.Items = append(p.Items, planner.CuttingItem{Length: piece.Size, Count: piece.Count})
	}
	return p, places
}

// cut cuts and prints the figures; it fails where a piece found no stock.
func (l *packingLimit) cut(cmd *cobra.Command, name string, list cutting) error {
	p, places := list.problem()
	ctx, cancel, o := l.limited(cmd)
	defer cancel()
	start := time.Now()
	r, err := planner.Cut(ctx, p, o)
	if err != nil {
		return err
	}
	unit := math.Pow10(places)
	bound := float64(r.Bound) / unit
	f := figures{
		Instance: name, Value: float64(r.Value) / unit, Bound: &bound, Seconds: since(start), Seed: l.seed,
		Feasible: r.Missing == 0 && planner.CheckCutting(p, r) == nil,
	}
	if err := f.print(cmd); err != nil {
		return err
	}
	if r.Missing > 0 {
		return fmt.Errorf("%w: %d pieces find no stock; each counts as %v", errPacking, r.Missing, float64(r.Dear)/unit)
	}
	return nil
}
