package planner

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/floor"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/search"
	"lanewright/planner/simulation"
	"lanewright/planner/sizing"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// Input is what a run starts from: a revision's facts and what was noticed
// when they were read. Neither is changed.
type Input struct {
	Plant    *plant.Plant
	Findings finding.List
}

// Run makes a plan. The stages stand here in their order, each reading what
// those before it decided.
//
// A context that reaches its deadline cuts the searches short: the best found
// so far is returned with Stopped = search.Cancelled. A context that was
// cancelled by the caller gives its error and no plan.
func Run(ctx context.Context, in Input, s Settings, o Options) (*Plan, error) {
	x := plant.NewIndex(in.Plant)
	s.Plant.Origin = finding.Origin{}
	plan := &Plan{
		Plant: in.Plant.Name, Revision: plant.Revision(in.Plant), Version: Version, Settings: s,
		Findings: append(finding.List{}, in.Findings...), Stopped: search.Limit,
	}

	o.Progress.Report("demand", 0, 1)
	used, noticed := demand.Loops(x, s.Plant)
	plan.notice(noticed)
	plan.notice(structure.Check(x))
	network, noticed := floor.New(in.Plant)
	plan.notice(noticed)
	r := recipe{
		index: x, settings: s, racks: structure.Racks(x), network: network, tables: new(floor.Tables),
		threads: max(1, o.Threads), progress: o.Progress,
	}
	made := r.make(ctx, used)
	if s.ChooseIntervals {
		chosen := r.chooseIntervals(ctx, paced{used, r.everywhere(s.Plant.Interval), made})
		used, made = chosen.used, chosen.made
		plan.notice(r.noteIntervals(chosen))
	}
	if s.DesignRacks {
		made, noticed = r.designRacks(ctx, used, made)
		plan.notice(noticed)
		x = r.index
	}
	for pass := 1; s.CoverShiftEnds && pass < coverPasses && ctx.Err() == nil && cover(x, used, made.routes); pass++ {
		made = r.make(ctx, used)
	}
	plan.take(made)

	if err := ctx.Err(); err != nil {
		if !errors.Is(err, context.DeadlineExceeded) {
			return nil, fmt.Errorf("plan %s: %w", in.Plant.Name, err)
		}
		plan.Stopped = search.Cancelled
	}
	plan.notice(work(x, made.loops, made.layout, made.routes, s.Ergonomics))
	plan.notice(screened(ctx, in.Plant, plan, r.threads))
	if s.Prove {
		if err := plan.prove(ctx, in.Plant, o); err != nil {
			return nil, err
		}
	}
	plan.speak(Speech(in.Plant, plan))
	o.Progress.Report("done", 1, 1)
	return plan, nil
}

func (p *Plan) notice(l finding.List) { p.Findings = append(p.Findings, l...) }

// speak ends what a plan says: its sentences in the plant's units, its findings in
// their order.
func (p *Plan) speak(s units.Speech) {
	p.Findings = p.Findings.In(s)
	p.Findings.Sort()
	p.Unplaced = slices.Clone(p.Unplaced)
	for i := range p.Unplaced {
		p.Unplaced[i].Detail = s.Local(p.Unplaced[i].Detail)
	}
}

// recipe is what the stages after demand start from.
type recipe struct {
	index    *plant.Index
	settings Settings
	racks    []structure.Rack
	network  *floor.Network
	tables   *floor.Tables
	threads  int
	progress search.Progress
}

// made is what those stages decided.
type made struct {
	loops    []sizing.Loop
	layout   placement.Layout
	moves    []placement.Move
	steps    []placement.Step
	routes   routing.Plan
	findings finding.List
}

// make sizes the loops, gives them their lanes and the racks their rounds.
func (r *recipe) make(ctx context.Context, used []demand.Loop) made {
	s := r.settings
	r.progress.Report("sizing", 0, 1)
	loops, findings := sizing.Size(r.index, used)
	place := placement.Input{Index: r.index, Loops: loops, Racks: r.racks, Plant: s.Plant}
	layout := placement.Place(ctx, place, s.Placement, s.Plant.Seed, r.threads, r.progress)
	routes := routing.Routes(ctx, routing.Input{
		Plant: s.Plant, Index: r.index, Network: r.network, Tables: r.tables, Racks: layout.Racks, Demands: demands(r.index, loops, layout),
	}, s.Routing, s.Plant.Seed, r.threads, r.progress)
	findings = append(findings, layout.Findings...)
	findings = append(findings, routes.Findings...)
	findings = append(findings, placement.Empties(place, layout, visits(routes))...)
	return made{loops, layout, placement.Moves(place, layout), placement.Steps(place, layout, s.Placement.Moving), routes, findings}
}

// take makes what was decided part of the plan.
func (p *Plan) take(m made) {
	l, r := m.layout, m.routes
	p.Racks, p.Lanes, p.Unplaced, p.Cells, p.Balance = l.Racks, l.Lanes, l.Unplaced, l.Bounds, l.Balance
	p.Moves, p.MoveSteps = m.moves, m.steps
	p.Routes, p.Unserved, p.RouteBounds = r.Routes, r.Unserved, r.Bounds
	p.Loops = describe(m.loops, l, r)
	p.notice(m.findings)
}

// prove plays the plan. When the time limit of the search has passed there is no
// time left to play: the plan then stands without proof.
func (p *Plan) prove(ctx context.Context, facts *plant.Plant, o Options) error {
	result, err := Play(ctx, facts, p, p.Settings.Simulation, o)
	switch {
	case errors.Is(err, context.DeadlineExceeded):
		p.Stopped = search.Cancelled
	case errors.Is(err, simulation.ErrTooMuch):
		p.notice(finding.List{simulation.TooMuch(err)})
	case err != nil:
		return fmt.Errorf("plan %s: %w", p.Plant, err)
	default:
		p.Proof = &result
		p.notice(result.Findings)
	}
	return nil
}

// visits are the intervals at which racks are served: the longest where
// several routes share one.
func visits(r routing.Plan) map[plant.RackCode]time.Duration {
	every := map[plant.RackCode]time.Duration{}
	for _, route := range r.Routes {
		for _, stop := range route.Stops {
			every[stop.Rack] = max(every[stop.Rack], route.Interval)
		}
	}
	return every
}

// demands turns the layout into what each rack asks of the rounds: a loop that
// lies on several racks is shared by the containers on each.
func demands(x *plant.Index, loops []sizing.Loop, l placement.Layout) []routing.Demand {
	type at struct {
		loop demand.Key
		rack plant.RackCode
	}
	on := map[at]int{}
	placed := map[demand.Key]int{}
	var order []at
	for _, lane := range l.Lanes {
		if lane.Empty() {
			continue
		}
		k := at{lane.Loop, lane.Rack}
		if on[k] == 0 {
			order = append(order, k)
		}
		on[k] += lane.Containers
		placed[lane.Loop] += lane.Containers
	}
	byKey := make(map[demand.Key]*sizing.Loop, len(loops))
	for i := range loops {
		byKey[loops[i].Key] = &loops[i]
	}
	list := make([]routing.Demand, 0, len(order))
	for _, k := range order {
		s := byKey[k.loop]
		pack := float64(s.Pack)
		list = append(list, routing.Demand{
			Loop: k.loop, Rack: k.rack, Share: share(on[k], placed[k.loop]),
			Rate: s.Rate.Float64() / pack, Variance: s.Variance.Float64() / pack / pack,
			Interval: s.Interval, Gross: s.Gross,
			Returnable: x.Containers[s.Container].Returnable,
		})
	}
	return list
}

func share(part, whole int) units.Ratio { return units.R(int64(part), int64(max(whole, 1))) }

// describe joins each loop with the lanes it got and the route that refills
// it. A loop on several racks is named after the route of its first lane's
// rack.
func describe(loops []sizing.Loop, l placement.Layout, r routing.Plan) []Loop {
	at := make(map[demand.Key]int, len(loops))
	list := make([]Loop, len(loops))
	for i, s := range loops {
		at[s.Key], list[i].Loop = i, s
	}
	for _, lane := range l.Lanes {
		if lane.Empty() {
			continue
		}
		d := &list[at[lane.Loop]]
		if d.Lanes == 0 {
			d.Capacity, d.Side = lane.Capacity, lane.Side
		}
		d.Lanes++
	}
	for _, route := range r.Routes {
		for _, stop := range route.Stops {
			for _, k := range stop.Loops {
				if d := &list[at[k]]; d.Route == "" {
					d.Route = route.Route
				}
			}
		}
	}
	return list
}
