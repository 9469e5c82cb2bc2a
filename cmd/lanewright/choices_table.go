package main

import (
	"fmt"
	"io"
	"strconv"

	"lanewright/planner"
	"lanewright/planner/costing"
	"lanewright/planner/units"
)

// writeChoices shows a choice to a row. The service level is a column where there
// are several.
func writeChoices(w io.Writer, list []planner.Choice) {
	several := severalLevels(list)
	rows := [][]string{{"", "every", "service", "containers", "without lane", "lanes", "racks", "proposed", "frontage", "routes", "handlers", "rounds a day", "stock value", "cost a year"}}
	for _, c := range list {
		star := ""
		if c.Undominated {
			star = "*"
		}
		rows = append(rows, []string{
			star, units.Minutes(c.Interval).String() + " min", percent(c.ServiceLevel), strconv.Itoa(c.Containers), strconv.Itoa(c.Unplaced),
			strconv.Itoa(c.LanesUsed), strconv.Itoa(c.Racks), strconv.Itoa(c.RacksProposed), fmt.Sprintf("%.1f m", c.Frontage.Metres()),
			strconv.Itoa(c.Routes), strconv.Itoa(c.Handlers), fmt.Sprintf("%.0f", c.RoundsDay.Float64()), stockValue(c), yearly(c.Cost),
		})
	}
	if !several {
		for i := range rows {
			rows[i] = append(rows[i][:2:2], rows[i][3:]...)
		}
	}
	table(w, rows)
}

func severalLevels(list []planner.Choice) bool {
	for _, c := range list {
		if !c.ServiceLevel.Equal(list[0].ServiceLevel) {
			return true
		}
	}
	return false
}

func percent(share units.Ratio) string {
	return strconv.FormatFloat(share.Mul(units.Int(100)).Float64(), 'g', 6, 64) + " %"
}

func stockValue(c planner.Choice) string {
	if c.StockValue().IsZero() {
		return "unknown"
	}
	s := fmt.Sprintf("%.0f", c.StockValue().Float64())
	if c.Unvalued > 0 {
		s += " and more"
	}
	return s
}

// yearly says a total that is not all as such.
func yearly(c costing.Cost) string {
	switch {
	case !c.Partial():
		return fmt.Sprintf("%.0f", c.Total.Float64())
	case c.Total == 0:
		return "unknown"
	default:
		return fmt.Sprintf("%.0f and more", c.Total.Float64())
	}
}

// writeKept says what the choices do not touch and which prices are missing.
func writeKept(w io.Writer, list []planner.Choice) {
	fmt.Fprintln(w, "\n* no other choice is as good or better in everything that counts and better in something")
	if len(list) == 0 {
		return
	}
	first := list[0]
	if first.OwnIntervals > 0 {
		fmt.Fprintf(w, "%s the interval of the sheet's rows\n", keep(first.OwnIntervals))
	}
	if first.OwnServiceLevels > 0 && severalLevels(list) {
		fmt.Fprintf(w, "%s the service level of the sheet's rows\n", keep(first.OwnServiceLevels))
	}
	if first.Unvalued > 0 {
		fmt.Fprintf(w, "%s no unit cost for their part; the value of stock leaves them out\n", have(first.Unvalued))
	}
	for _, text := range unpriced(first.Cost) {
		fmt.Fprintln(w, text)
	}
}

func keep(n int) string {
	if n == 1 {
		return "1 loop keeps"
	}
	return fmt.Sprintf("%d loops keep", n)
}

func have(n int) string {
	if n == 1 {
		return "1 loop has"
	}
	return fmt.Sprintf("%d loops have", n)
}

// unpriced names the prices that a yearly cost lacks, a sentence to each.
func unpriced(c costing.Cost) []string {
	wanted := map[costing.Kind]string{
		costing.Handlers: "what a handler's hour costs (handler_cost_hour)",
		costing.Vehicles: "what a vehicle costs in a year (vehicle_cost_year)",
		costing.Racks:    "over how many years racks are written off (rack_life_years)",
		costing.Floor:    "what a square metre of floor costs in a year (floor_cost_m2_year)",
		costing.Stock:    "the interest on stock (stock_interest)",
	}
	var list []string
	for _, l := range c.Lines {
		switch {
		case l.Known():
		case l.Price.IsZero():
			list = append(list, fmt.Sprintf("no setting says %s; the cost leaves %s out", wanted[l.Kind], l.Kind))
		case l.Kind == costing.Racks:
			list = append(list, fmt.Sprintf("%d of %d racks are of a type without a cost; the cost leaves them out", l.Unpriced, l.Items))
		}
	}
	return list
}
