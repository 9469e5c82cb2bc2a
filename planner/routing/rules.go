package routing

import (
	"cmp"
	"fmt"
	"slices"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
)

// Rules are what the routes of a plan must keep, from the sheet Route rules. Closed
// aisles are not among them: they are no part of the network.
type Rules struct {
	// Pins names the route of today that serves a rack. Racks pinned to one name are
	// on one route, racks pinned to two names on two.
	Pins map[plant.RackCode]plant.TourCode
	// Apart are racks that are never on one route; of two racks in Before the first
	// comes first where they are on one.
	Apart, Before []RackPair
}

// RackPair is two racks and the row that speaks of them.
type RackPair struct {
	First, Second plant.RackCode
	Rule          plant.RouteRule
}

// NewRules reads the rules of p; those that lack something are left out, and of two
// pins of one rack the first counts.
func NewRules(p *plant.Plant) Rules {
	r := Rules{Pins: map[plant.RackCode]plant.TourCode{}}
	for _, rule := range p.RouteRules {
		pair := RackPair{rule.Rack, rule.Other, rule}
		switch {
		case !rule.Complete():
		case rule.Kind == plant.RulePin && r.Pins[rule.Rack] == "":
			r.Pins[rule.Rack] = rule.Route
		case rule.Kind == plant.RuleApart:
			r.Apart = append(r.Apart, pair)
		case rule.Kind == plant.RuleBefore:
			r.Before = append(r.Before, pair)
		}
	}
	return r
}

// noteRules reports the rules that the routes of the plan break.
func (w *work) noteRules() {
	rules := NewRules(w.in.Index.Plant)
	for _, r := range w.plan.Routes {
		at := map[plant.RackCode]int{}
		for i, s := range r.Stops {
			if _, twice := at[s.Rack]; !twice {
				at[s.Rack] = i
			}
		}
		for _, p := range rules.Apart {
			if both(at, p) {
				w.ruleBroken(p.Rule, r.Route, fmt.Sprintf("Racks %s and %s are both on route %s and shall be apart", p.First, p.Second, r.Route))
			}
		}
		for _, p := range rules.Before {
			if both(at, p) && at[p.First] > at[p.Second] {
				w.ruleBroken(p.Rule, r.Route, fmt.Sprintf("Route %s comes to rack %s after rack %s and shall come there before", r.Route, p.First, p.Second))
			}
		}
	}
	w.notePins(rules)
}

func both(at map[plant.RackCode]int, p RackPair) bool {
	_, first := at[p.First]
	_, second := at[p.Second]
	return first && second
}

// notePins reports racks pinned to one name that are on several routes, and racks
// pinned to several names that are on one.
func (w *work) notePins(rules Rules) {
	byName, byRoute := map[plant.TourCode][]string{}, map[string][]string{}
	for _, r := range w.plan.Routes {
		for _, s := range r.Stops {
			if name := rules.Pins[s.Rack]; name != "" {
				byName[name] = append(byName[name], r.Route)
				byRoute[r.Route] = append(byRoute[r.Route], string(name))
			}
		}
	}
	for _, rule := range w.in.Index.Plant.RouteRules {
		if rule.Kind != plant.RulePin || rules.Pins[rule.Rack] != rule.Route || len(distinct(byName[rule.Route])) < 2 {
			continue
		}
		w.ruleBroken(rule, "", fmt.Sprintf("Racks pinned to route %s are on routes %s", rule.Route, list(byName[rule.Route])))
		delete(byName, rule.Route)
	}
	for _, r := range w.plan.Routes {
		if names := byRoute[r.Route]; len(distinct(names)) > 1 {
			at := slices.IndexFunc(w.in.Index.Plant.RouteRules, func(p plant.RouteRule) bool { return p.Kind == plant.RulePin && string(p.Route) == names[0] })
			w.ruleBroken(w.in.Index.Plant.RouteRules[at], r.Route, fmt.Sprintf("Route %s serves racks pinned to routes %s", r.Route, list(names)))
		}
	}
}

func distinct[T cmp.Ordered](names []T) []T {
	names = slices.Clone(names)
	slices.Sort(names)
	return slices.Compact(names)
}

func (w *work) ruleBroken(rule plant.RouteRule, route, summary string) {
	w.plan.Findings = append(w.plan.Findings, finding.Finding{
		Severity: finding.Warning, Code: CodeRuleBroken, Origin: rule.Origin,
		Subject: finding.Subject{Route: route, Rack: string(rule.Rack)}, Summary: summary,
		Detail: "A rule of the sheet Route rules is not kept by this plan.",
		Remedy: "Take the rule out if it does not matter; else give the racks other intervals or shifts, or change the routes by hand.",
	})
}

// inTurn reports whether racks at these places of a route keep the rules of what
// comes before what.
func (r Rules) inTurn(place map[plant.RackCode]int) bool {
	return !slices.ContainsFunc(r.Before, func(p RackPair) bool { return both(place, p) && place[p.First] > place[p.Second] })
}
