package planner

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"sync"
	"sync/atomic"

	"lanewright/planner/buildlist"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// BuildScope says which racks of a plan are built: one, those of a cell, or those
// that the plan proposes; its zero value is all.
type BuildScope struct {
	Rack     plant.RackCode
	Cell     plant.CellCode
	Proposed bool
}

// holds reports whether a rack is meant.
func (s BuildScope) holds(r structure.Rack) bool {
	return (s.Rack == "" || s.Rack == r.Rack) && (s.Cell == "" || s.Cell == r.Cell) && (r.Proposed || !s.Proposed)
}

// BuildOptions say what lies in the store beside the plant's own stock on hand, and
// how much is searched. Threads change
// the time, never the result.
type BuildOptions struct {
	Threads int
	buildlist.CutOptions
}

// RackBuild is a rack of a plan with its frame, screening and build list.
type RackBuild struct {
	RackFrame
	// List is empty where the kit lacks a part that every rack needs.
	List buildlist.List
}

// Build is what a number of racks are built from.
type Build struct {
	Racks []RackBuild
	// Unit goes with the plant's unit of length.
	Unit buildlist.Unit
	// Buys is what they take together, Total its mass and cost.
	Buys  []buildlist.Buy
	Total buildlist.Total
	Cuts  []buildlist.CutList
	// Findings are those of the racks' types, frames, screening, build and cut
	// lists.
	Findings finding.List
}

// ErrUnknownRack says that a plan has no such rack.
var ErrUnknownRack = errors.New("unknown rack")

// BuildRacks lists what the racks of a plan are built from, in the order of its
// racks, and cuts all their pieces together. A rack that the plan does not have, or
// that is not among those, is ErrUnknownRack.
func BuildRacks(ctx context.Context, facts *plant.Plant, p *Plan, s BuildScope, o BuildOptions) (Build, error) {
	x := plant.NewIndex(facts)
	var racks []structure.Rack
	for _, r := range p.Racks {
		if s.holds(r) {
			racks = append(racks, r)
		}
	}
	if s.Rack != "" && len(racks) == 0 {
		return Build{}, fmt.Errorf("build %s: %w", s.Rack, ErrUnknownRack)
	}
	b := Build{Racks: make([]RackBuild, len(racks)), Unit: buildlist.UnitOf(p.Settings.Plant.LengthUnit)}
	limits, lanes := frameLimits(p), framed(x, p)
	each(ctx, len(racks), o.Threads, func(i int) {
		b.Racks[i] = rackBuild(frame(x, racks[i], lanes[racks[i].Rack], limits), b.Unit)
	})
	if err := context.Cause(ctx); err != nil {
		return Build{}, fmt.Errorf("build racks: %w", err)
	}
	b.Findings = ofTypes(x, racks)
	o.Seed = p.Settings.Plant.Seed
	o.OnHand = append(buildlist.StockOf(facts), o.OnHand...)
	err := b.together(ctx, o.CutOptions)
	b.speak(Speech(facts, p))
	return b, err
}

// speak writes what was found in the plant's units.
func (b *Build) speak(s units.Speech) {
	b.Findings = b.Findings.In(s)
	for i := range b.Racks {
		b.Racks[i].Findings = b.Racks[i].Findings.In(s)
	}
}

// documentSteps bound the search for the cut list of a part in a plan document: the
// same wherever it is written, for it is part of the document's bytes.
const documentSteps = 50_000_000

// BuildProposed lists what the racks that a plan proposes are built from, for its
// document; nil where the plant has no kits, whose tubes nobody knows, or the plan
// proposes no rack. Threads change the time, never the result.
func BuildProposed(ctx context.Context, facts *plant.Plant, p *Plan, threads int) (*Build, error) {
	if len(facts.Kits) == 0 || !slices.ContainsFunc(p.Racks, func(r structure.Rack) bool { return r.Proposed }) {
		return nil, nil
	}
	b, err := BuildRacks(ctx, facts, p, BuildScope{Proposed: true}, BuildOptions{Threads: threads, CutOptions: buildlist.CutOptions{Steps: documentSteps}})
	return &b, err
}

// ofTypes are the findings about the geometry of the racks' types, each once.
func ofTypes(x *plant.Index, racks []structure.Rack) (list finding.List) {
	meant := map[string]bool{}
	for _, r := range racks {
		if r.Type != nil {
			meant[string(r.Type.RackType)] = true
		}
	}
	for _, f := range structure.Check(x) {
		if meant[f.Subject.RackType] {
			list = append(list, f)
		}
	}
	return list
}

// rackBuild adds the build list to a frame.
func rackBuild(f RackFrame, u buildlist.Unit) RackBuild {
	b := RackBuild{RackFrame: f, List: buildlist.List{Rack: f.Rack.Rack}}
	if f.Frame == nil {
		return b
	}
	list, found := buildlist.Make(f.Rack.Rack, f.Frame, u)
	for i := range found {
		found[i].Subject.Cell = string(f.Rack.Cell)
	}
	b.List, b.Findings = list, append(b.Findings, found...)
	return b
}

// together adds the racks up and cuts their pieces.
func (b *Build) together(ctx context.Context, o buildlist.CutOptions) error {
	var lists []buildlist.List
	for _, r := range b.Racks {
		b.Findings = append(b.Findings, r.Findings...)
		if r.Frame != nil {
			lists = append(lists, r.List)
		}
	}
	b.Buys = buildlist.Together(lists)
	b.Total = buildlist.Sum(b.Buys)
	cuts, found, err := buildlist.CutLists(ctx, lists, o)
	if err != nil {
		return err
	}
	b.Cuts = cuts
	b.Findings = append(append(b.Findings, found...), buildlist.Prices(b.Buys)...)
	b.Findings.Sort()
	return nil
}

// each calls do for 0 to n-1 in so many goroutines, until the context is done.
func each(ctx context.Context, n, threads int, do func(i int)) {
	var next atomic.Int64
	var w sync.WaitGroup
	for range max(1, threads) {
		w.Go(func() {
			for i := int(next.Add(1)) - 1; i < n && ctx.Err() == nil; i = int(next.Add(1)) - 1 {
				do(i)
			}
		})
	}
	w.Wait()
}
