package plant

import (
	"fmt"

	"lanewright/planner/finding"
)

// Codes of findings about turns, today's routes and rules about routes.
const (
	CodeTurnNoAisle     = "turns.no-aisle"
	CodeTurnTwice       = "turns.contradict"
	CodeTourOrderTwice  = "current-routes.order-twice"
	CodeTourDiffers     = "current-routes.differ"
	CodeRuleIncomplete  = "route-rules.incomplete"
	CodeRuleNoAisle     = "route-rules.no-aisle"
	CodeRuleNoRoute     = "route-rules.unknown-route"
	CodeRuleContradicts = "route-rules.contradict"
)

// tours checks the sheets Turns, Current routes and Route rules.
func (c *checker) tours() {
	c.turns()
	c.currentRoutes()
	c.routeRules()
}

// way is an aisle between two points, whatever its direction.
type way struct{ a, b PointCode }

func wayOf(a, b PointCode) way { return way{min(a, b), max(a, b)} }

func (c *checker) joined() map[way]bool {
	joined := map[way]bool{}
	for _, a := range c.p.Aisles {
		joined[wayOf(a.From, a.To)] = true
	}
	return joined
}

func (c *checker) turns() {
	joined := c.joined()
	type corner struct{ from, at, to PointCode }
	first := map[corner]Turn{}
	for _, t := range c.p.Turns {
		subject := finding.Subject{Point: string(t.At)}
		for _, end := range []PointCode{t.From, t.To} {
			if end != "" && !joined[wayOf(end, t.At)] {
				c.add("At point", finding.Finding{
					Severity: finding.Warning, Code: CodeTurnNoAisle, Origin: t.Origin, Subject: subject,
					Summary: fmt.Sprintf("A turn at point %s speaks of an aisle to point %s, which is not there", t.At, end),
					Detail:  "A turn leads from one aisle at the point into another, so both must be aisles of the sheet Aisles. The row changes nothing.",
					Remedy:  "Name the next point along each of the two aisles, or add the missing aisle.",
				})
			}
		}
		k := corner{t.From, t.At, t.To}
		if other, ok := first[k]; ok && other.Allowed != t.Allowed {
			c.add("Allowed", finding.Finding{
				Severity: finding.Error, Code: CodeTurnTwice, Origin: t.Origin, Related: origins(other.Origin), Subject: subject,
				Summary: fmt.Sprintf("The turn from %s over %s to %s is both allowed and forbidden", anyPoint(t.From), t.At, anyPoint(t.To)),
				Detail:  "It counts as forbidden.", Remedy: "Take one of the rows out.",
			})
			continue
		}
		first[k] = t
	}
}

func anyPoint(p PointCode) string {
	if p == "" {
		return "anywhere"
	}
	return string(p)
}

// currentRoutes wants one stop in each place of a route, one vehicle type and
// one interval.
func (c *checker) currentRoutes() {
	type place struct {
		route TourCode
		order int
	}
	at := map[place]CurrentStop{}
	head := map[TourCode]CurrentStop{}
	for _, s := range c.p.CurrentRoutes {
		subject := finding.Subject{Route: string(s.Route), Rack: string(s.Rack)}
		if other, ok := at[place{s.Route, s.Order}]; ok {
			c.add("Order", finding.Finding{
				Severity: finding.Warning, Code: CodeTourOrderTwice, Origin: s.Origin, Related: origins(other.Origin), Subject: subject,
				Summary: fmt.Sprintf("Racks %s and %s both are stop %d of today's route %s", other.Rack, s.Rack, s.Order, s.Route),
				Detail:  "The one with the lower rack code is taken first.", Remedy: "Number the stops of a route one after another.",
			})
		}
		at[place{s.Route, s.Order}] = s
		h := head[s.Route]
		if h.Vehicle != "" && s.Vehicle != "" && h.Vehicle != s.Vehicle || h.Interval > 0 && s.Interval > 0 && h.Interval != s.Interval {
			c.add("Route", finding.Finding{
				Severity: finding.Warning, Code: CodeTourDiffers, Origin: s.Origin, Related: origins(h.Origin), Subject: subject,
				Summary: fmt.Sprintf("The rows of today's route %s name different vehicle types or intervals", s.Route),
				Detail:  "A route has one vehicle type and one interval. The first ones that its rows give were taken.",
				Remedy:  "Give them in one row of the route, or in all rows alike.",
			})
			continue
		}
		if h.Route == "" {
			h = s
		}
		if h.Vehicle == "" {
			h.Vehicle = s.Vehicle
		}
		if h.Interval == 0 {
			h.Interval = s.Interval
		}
		head[s.Route] = h
	}
}

// rackPair is two racks in the order in which a rule names them.
type rackPair struct{ first, second RackCode }

func (c *checker) routeRules() {
	known := map[TourCode]bool{}
	for _, s := range c.p.CurrentRoutes {
		known[s.Route] = true
	}
	joined := c.joined()
	pinned, before := map[RackCode]RouteRule{}, map[rackPair]RouteRule{}
	for _, r := range c.p.RouteRules {
		if what := r.lacks(); what != "" {
			c.rule(r, nil, CodeRuleIncomplete, finding.Error, fmt.Sprintf("A rule %q lacks %s", r.Kind, what),
				"The rule says nothing without it and was not used.", "Fill in what is missing, or take the row out.")
			continue
		}
		switch r.Kind {
		case RulePin:
			if !known[r.Route] {
				c.rule(r, nil, CodeRuleNoRoute, finding.Warning, fmt.Sprintf("Rack %s is pinned to route %s, which is none of today's routes", r.Rack, r.Route),
					"Routes of a plan are known by today's routes that they continue. Racks pinned to one name still stay on one route together.", "Name a route of the sheet Current routes.")
			}
			if other, ok := pinned[r.Rack]; ok && other.Route != r.Route {
				c.rule(r, origins(other.Origin), CodeRuleContradicts, finding.Error, fmt.Sprintf("Rack %s is pinned to route %s and to route %s", r.Rack, other.Route, r.Route),
					"A rack is on one route.", "Take one of the rules out.")
				continue
			}
			pinned[r.Rack] = r
		case RuleBefore:
			if other, ok := before[rackPair{r.Other, r.Rack}]; ok {
				c.rule(r, origins(other.Origin), CodeRuleContradicts, finding.Error, fmt.Sprintf("Rack %s shall come before rack %s and after it", r.Rack, r.Other),
					"Both rules can only be kept on two routes.", "Take one of the rules out.")
			}
			before[rackPair{r.Rack, r.Other}] = r
		case RuleClosed:
			if !joined[wayOf(r.From, r.To)] {
				c.rule(r, nil, CodeRuleNoAisle, finding.Warning, fmt.Sprintf("The aisle from %s to %s is closed, but there is none", r.From, r.To),
					"Closing it changes nothing.", "Name the two ends of one row of the sheet Aisles.")
			}
		}
	}
	c.apart(pinned)
}

// apart finds racks that are kept apart and pinned to one route.
func (c *checker) apart(pinned map[RackCode]RouteRule) {
	for _, r := range c.p.RouteRules {
		a, okA := pinned[r.Rack]
		b, okB := pinned[r.Other]
		if r.Kind == RuleApart && okA && okB && a.Route == b.Route {
			c.rule(r, append(origins(a.Origin), origins(b.Origin)...), CodeRuleContradicts, finding.Error, fmt.Sprintf("Racks %s and %s shall never be on one route, and both are pinned to route %s", r.Rack, r.Other, a.Route),
				"The rules can not all be kept.", "Take one of them out.")
		}
	}
}

// lacks says what a rule needs and does not have.
func (r RouteRule) lacks() string {
	switch {
	case r.Kind == RuleClosed && (r.From == "" || r.To == ""):
		return "From or To"
	case r.Kind != RuleClosed && r.Rack == "":
		return "its rack"
	case r.Kind == RulePin && r.Route == "":
		return "its route"
	case (r.Kind == RuleApart || r.Kind == RuleBefore) && r.Other == "":
		return "the other rack"
	case (r.Kind == RuleApart || r.Kind == RuleBefore) && r.Other == r.Rack:
		return "another rack than " + string(r.Rack)
	}
	return ""
}

// Complete reports whether the rule has all that its kind needs.
func (r RouteRule) Complete() bool { return r.lacks() == "" }

func (c *checker) rule(r RouteRule, related []finding.Origin, code string, severity finding.Severity, summary, detail, remedy string) {
	c.add("Rule", finding.Finding{
		Severity: severity, Code: code, Origin: r.Origin, Related: related, Summary: summary, Detail: detail, Remedy: remedy,
		Subject: finding.Subject{Rack: string(r.Rack), Route: string(r.Route), Point: string(r.From)},
	})
}
