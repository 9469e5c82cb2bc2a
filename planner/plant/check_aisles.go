package plant

import (
	"fmt"
	"slices"

	"lanewright/planner/finding"
)

// Codes of findings about aisles and vehicles.
const (
	CodeUnreachable    = "aisles.unreachable"
	CodeNoAisles       = "aisles.none"
	CodeAisleToItself  = "aisles.to-itself"
	CodeNoMarket       = "vehicles.no-market"
	CodeMarketNotNamed = "vehicles.market-not-named"
	CodeNotAMarket     = "vehicles.not-a-market"
)

func (c *checker) aisles() {
	for _, a := range c.p.Aisles {
		if a.From == a.To {
			c.add("To", finding.Finding{
				Severity: finding.Warning, Code: CodeAisleToItself, Origin: a.Origin, Subject: finding.Subject{Point: string(a.From)},
				Summary: fmt.Sprintf("An aisle leads from point %s to itself", a.From),
				Detail:  "Nothing can be reached by it; another aisle may be missing.",
				Remedy:  "Correct one of its ends, or take the row out.",
			})
		}
	}
	c.reach()
}

// reach wants, for every aisle point where a rack is served, a market with a
// way to it and back: rounds start and end at one market.
func (c *checker) reach() {
	markets := c.markets()
	switch {
	case len(markets) == 0:
		return
	case len(c.p.Aisles) == 0:
		c.noAisles()
		return
	}
	there, back := c.ways(markets)
	served := func(o finding.Origin, field, name string, point PointCode, s finding.Subject) {
		what := "no market is reached from it"
		switch {
		case point == "" || c.x.Points[point] == nil:
			return
		case slices.ContainsFunc(markets, func(m PointCode) bool { return there[m][point] && back[m][point] }):
			return
		case !slices.ContainsFunc(markets, func(m PointCode) bool { return there[m][point] }):
			what = "no market reaches it"
		case slices.ContainsFunc(markets, func(m PointCode) bool { return back[m][point] }):
			what = "no market both reaches it and is reached from it"
		}
		s.Point = string(point)
		c.add(field, finding.Finding{
			Severity: finding.Error, Code: CodeUnreachable, Origin: o, Related: origins(c.x.Points[point].Origin), Subject: s,
			Summary: fmt.Sprintf("%s is served at aisle point %s, but %s over the aisles", name, point, what),
			Detail:  "A round starts at a market, passes the point and ends at the same market; one-way aisles count in their direction only, closed ones not at all.",
			Remedy:  "Add the missing aisle, correct a one-way aisle, open a closed one, or correct the aisle point.",
		})
	}
	for _, r := range c.p.Racks {
		served(r.Origin, "Aisle point", "Rack "+string(r.Rack), r.AislePoint, finding.Subject{Rack: string(r.Rack), Cell: string(r.Cell)})
	}
	for _, cell := range c.p.Cells {
		served(cell.Origin, "New rack aisle point", "A new rack of cell "+string(cell.Cell), cell.NewRackPoint, finding.Subject{Cell: string(cell.Cell)})
	}
}

// noAisles says once, for a plant with vehicles, that they can go nowhere.
func (c *checker) noAisles() {
	if len(c.p.Vehicles) == 0 {
		return
	}
	c.add("", finding.Finding{
		Severity: finding.Error, Code: CodeNoAisles, Origin: c.p.Vehicles[0].Origin,
		Summary: "There are vehicles but no aisles, so no rack can be reached",
		Detail:  "The plan has lanes and racks, but no routes.",
		Remedy:  "Add the sheet Aisles, one row for each way between two aisle points; or leave the vehicles out as long as no routes are wanted.",
	})
}

// markets returns the markets in the order of their codes.
func (c *checker) markets() []PointCode {
	var markets []PointCode
	for _, p := range c.p.AislePoints {
		if p.Kind == Market {
			markets = append(markets, p.Point)
		}
	}
	slices.Sort(markets)
	return slices.Compact(markets)
}

// ways returns, for each market, the points that it reaches and the points
// that reach it.
func (c *checker) ways(markets []PointCode) (there, back map[PointCode]map[PointCode]bool) {
	out, in := map[PointCode][]PointCode{}, map[PointCode][]PointCode{}
	closed := c.p.Closed()
	for _, a := range c.p.Aisles {
		if closed(a.From, a.To) {
			continue
		}
		out[a.From], in[a.To] = append(out[a.From], a.To), append(in[a.To], a.From)
		if !a.OneWay {
			out[a.To], in[a.From] = append(out[a.To], a.From), append(in[a.From], a.To)
		}
	}
	there, back = map[PointCode]map[PointCode]bool{}, map[PointCode]map[PointCode]bool{}
	for _, m := range markets {
		there[m], back[m] = flood(out, m), flood(in, m)
	}
	return there, back
}

// flood returns all points that can be reached from start.
func flood(next map[PointCode][]PointCode, start PointCode) map[PointCode]bool {
	seen := map[PointCode]bool{start: true}
	for open := []PointCode{start}; len(open) > 0; {
		at := open[len(open)-1]
		open = open[:len(open)-1]
		for _, p := range next[at] {
			if !seen[p] {
				seen[p] = true
				open = append(open, p)
			}
		}
	}
	return seen
}

// vehicles wants to know at which market the rounds of each vehicle start.
func (c *checker) vehicles() {
	markets := c.markets()
	for _, v := range c.p.Vehicles {
		subject := finding.Subject{Vehicle: string(v.Vehicle), Point: string(v.From)}
		switch from := c.x.Points[v.From]; {
		case len(markets) == 0:
			c.add("Vehicle type", finding.Finding{
				Severity: finding.Error, Code: CodeNoMarket, Origin: v.Origin, Subject: subject,
				Summary: fmt.Sprintf("Vehicle type %s has no market to start from: no aisle point is a market", v.Vehicle),
				Detail:  "Rounds start and end at a market, where full containers are loaded.",
				Remedy:  "Give the kind market to the aisle point where containers are loaded.",
			})
		case v.From == "" && len(markets) > 1:
			c.add("From market", finding.Finding{
				Severity: finding.Error, Code: CodeMarketNotNamed, Origin: v.Origin, Subject: subject,
				Summary: fmt.Sprintf("Vehicle type %s names no market, and there are %d", v.Vehicle, len(markets)),
				Detail:  "With one market it goes without saying; with several it would be a guess.",
				Remedy:  "Fill in From market: one of " + finding.And(texts(markets)) + ".",
			})
		case from != nil && from.Kind != Market:
			c.add("From market", finding.Finding{
				Severity: finding.Error, Code: CodeNotAMarket, Origin: v.Origin, Related: origins(from.Origin), Subject: subject,
				Summary: fmt.Sprintf("Vehicle type %s starts from point %s, which is a %s", v.Vehicle, v.From, from.Kind),
				Detail:  "Rounds start and end at a market, where full containers are loaded.",
				Remedy:  "Name a market (" + finding.And(texts(markets)) + "), or give the point the kind market.",
			})
		}
	}
}

func texts[T ~string](codes []T) []string {
	list := make([]string, len(codes))
	for i, c := range codes {
		list[i] = string(c)
	}
	return list
}
