package planner

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
)

// namedRacks is how many racks a finding names beside its own.
const namedRacks = 5

// screened is what the screening of a plan's racks finds, as they are built from
// the plant's own kits; nothing for a plant without kits, whose tubes nobody knows.
// What holds alike for several racks of one type is said once, of the rack on which
// it is worst.
func screened(ctx context.Context, facts *plant.Plant, p *Plan, threads int) finding.List {
	if len(facts.Kits) == 0 {
		return nil
	}
	type key struct {
		code, rackType string
		level          int
	}
	groups := map[key]finding.List{}
	var order []key
	for _, f := range Frames(ctx, facts, p, threads) {
		for _, one := range f.Findings {
			k := key{one.Code, one.Subject.RackType, one.Subject.Level}
			if groups[k] == nil {
				order = append(order, k)
			}
			groups[k] = append(groups[k], one)
		}
	}
	var list finding.List
	for _, k := range order {
		list = append(list, worstOf(groups[k]))
	}
	return list
}

// worstOf is the worst of findings that differ in their racks only, and says which
// other racks have it.
func worstOf(list finding.List) finding.Finding {
	worst := list[0]
	for _, f := range list[1:] {
		if d := f.Severity.Rank() - worst.Severity.Rank(); d < 0 || d == 0 && beyond(f) > beyond(worst) {
			worst = f
		}
	}
	var others []string
	for _, f := range list {
		if r := f.Subject.Rack; r != worst.Subject.Rack && !slices.Contains(others, r) {
			others = append(others, r)
		}
	}
	if len(others) == 0 {
		return worst
	}
	more := ""
	if n := len(others) - namedRacks; n > 0 {
		more, others = fmt.Sprintf(" and %d more", n), others[:namedRacks]
	}
	worst.Detail += fmt.Sprintf(" That is rack %s, where it is worst; it is so on %s%s too.", worst.Subject.Rack, strings.Join(others, ", "), more)
	return worst
}

// beyond is how far a finding's number lies beyond its limit, as a share of it.
func beyond(f finding.Finding) float64 {
	if f.Measure == nil {
		return 0
	}
	over := math.Abs(f.Measure.Value - f.Measure.Limit)
	if f.Measure.Limit != 0 {
		over /= math.Abs(f.Measure.Limit)
	}
	return over
}
