package api

import (
	"context"
	"fmt"
	"io"
	"net/http"
	"strconv"
	"sync"

	"github.com/danielgtaylor/huma/v2"

	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/archive"
	"lanewright/planner/costing"
	"lanewright/planner/plant"
)

// PlanStore reads stored plans.
type PlanStore interface {
	// Plans lists the plans of a plant by id, those after the given one.
	Plans(ctx context.Context, plant string, after int64, limit int) ([]archive.Plan, error)
	Plan(ctx context.Context, id int64) (archive.Plan, error)
	LoadPlan(ctx context.Context, id int64) (*planner.Plan, error)
}

// PlanInput names a plan in an address.
type PlanInput struct {
	Plan int64 `path:"plan" minimum:"1" doc:"id of the plan"`
}

// PlanPage asks for a part of a list of a plan.
type PlanPage struct {
	PlanInput
	PageInput
}

func (s *server) listPlans(ctx context.Context, in *plantPage) (*output[wire.Page[wire.PlanHeader]], error) {
	after, err := in.fromNumber()
	if err != nil {
		return nil, err
	}
	list, err := s.store.Plans(ctx, in.Plant, after, in.Limit+1)
	if err != nil {
		return nil, err
	}
	return current(paged(list, in.Limit, wire.NewPlanHeader, func(p archive.Plan) string { return strconv.FormatInt(p.ID, 10) })), nil
}

// view is a stored plan in memory, as its readers need it.
type view struct {
	header archive.Plan
	plan   *planner.Plan
	doc    *wire.Plan
	racks  []RackRow
	// tag is the strong entity tag of everything that is told of the plan.
	tag string
	// home tells the cell of each rack.
	home map[string]string
	// cells are gathered on first use, for they need the facts too.
	cells func() ([]wire.Cell, error)
	// floor is the plant map, made on first use.
	floor func() (*wire.Map, error)
	// cost prices the plan, and reasons tells why it is as it is, each on first use.
	cost func() (*costing.Cost, error)
	// built is the document with what the proposed racks are built from, on first use.
	built   func() (*wire.Plan, error)
	reasons func() (*planner.Reasons, error)
	// desk is the plan spread out for edits by hand, on first use.
	desk func() (*planner.Desk, error)
}

// planOf returns a plan, which never changes.
func (s *server) planOf(ctx context.Context, id int64) (*view, error) {
	return s.plans.get(ctx, id, s.loadPlan)
}

func (s *server) loadPlan(ctx context.Context, id int64) (*view, error) {
	header, err := s.store.Plan(ctx, id)
	if err != nil {
		return nil, err
	}
	p, err := s.store.LoadPlan(ctx, id)
	if err != nil {
		return nil, err
	}
	v := &view{header: header, plan: p, doc: wire.NewPlan(p), home: wire.RackCells(p)}
	v.racks = rackRows(v.doc)
	v.tag = hashed(fmt.Append(nil, header.ID, header.Hash, header.Seed, header.Version, header.Created.UnixNano(), s.version))
	facts := func() (*plant.Plant, error) {
		f, err := s.factsOf(context.WithoutCancel(ctx), header.Plant, header.Revision)
		if err != nil {
			return nil, err
		}
		return f.plant, nil
	}
	v.cells = once(facts, func(facts *plant.Plant) ([]wire.Cell, error) { return wire.NewCells(facts, p), nil })
	v.floor = once(facts, func(facts *plant.Plant) (*wire.Map, error) {
		cells, err := v.cells()
		if err != nil {
			return nil, err
		}
		return wire.NewMap(facts, p, cells), nil
	})
	v.cost = once(facts, func(facts *plant.Plant) (*costing.Cost, error) {
		cost := planner.Cost(facts, p)
		return &cost, nil
	})
	v.built = once(facts, func(facts *plant.Plant) (*wire.Plan, error) {
		b, err := planner.BuildProposed(context.WithoutCancel(ctx), facts, p, 1)
		if err != nil {
			return nil, err
		}
		return v.doc.Built(b), nil
	})
	v.reasons = once(facts, func(facts *plant.Plant) (*planner.Reasons, error) { return planner.NewReasons(facts, p), nil })
	v.desk = once(facts, func(facts *plant.Plant) (*planner.Desk, error) { return planner.NewDesk(facts, p), nil })
	return v, nil
}

// once makes something of a plan's facts on first use; an error is not kept.
func once[T any](facts func() (*plant.Plant, error), build func(*plant.Plant) (T, error)) func() (T, error) {
	var mu sync.Mutex
	var made T
	var done bool
	return func() (T, error) {
		mu.Lock()
		defer mu.Unlock()
		if done {
			return made, nil
		}
		f, err := facts()
		if err != nil {
			return made, err
		}
		made, err = build(f)
		done = err == nil
		return made, err
	}
}

type documentInput struct {
	PlanInput
	IfNoneMatch string `header:"If-None-Match" doc:"entity tag the caller has already"`
}

// getPlan streams the plan document.
func (s *server) getPlan(ctx context.Context, in *documentInput) (*huma.StreamResponse, error) {
	v, err := s.planOf(ctx, in.Plan)
	if err != nil {
		return nil, err
	}
	doc, err := v.built()
	if err != nil {
		return nil, err
	}
	return s.send(v.tag, in.IfNoneMatch, "application/json", "", doc.Write), nil
}

// send streams what write writes, unless the caller has it already.
func (s *server) send(tag, known, mediaType, filename string, write func(io.Writer) error) *huma.StreamResponse {
	return &huma.StreamResponse{Body: func(ctx huma.Context) {
		ctx.SetHeader("ETag", tag)
		ctx.SetHeader("Cache-Control", revalidate)
		if matches(known, tag) {
			ctx.SetStatus(http.StatusNotModified)
			return
		}
		ctx.SetHeader("Content-Type", mediaType)
		if filename != "" {
			ctx.SetHeader("Content-Disposition", filename)
		}
		if err := write(ctx.BodyWriter()); err != nil && ctx.Context().Err() == nil {
			panic(fmt.Errorf("send: %w", err)) // the answer has begun: break it off
		}
	}}
}

// planOverview is a plan at a glance.
type planOverview struct {
	wire.PlanHeader
	Stopped  string          `json:"stopped" doc:"cancelled when the search was cut short"`
	Settings map[string]any  `json:"settings"`
	Changed  []string        `json:"settings_changed" doc:"keys of settings that differ from those of the plant's own sheets"`
	Routes   wire.RouteBound `json:"route_bounds"`
	Optimal  int             `json:"cells_optimal" doc:"cells proved to be the best possible"`
	Cells    int             `json:"cells"`
}

func (s *server) planSummary(ctx context.Context, in *PlanInput) (*output[planOverview], error) {
	v, err := s.planOf(ctx, in.Plan)
	if err != nil {
		return nil, err
	}
	f, err := s.factsOf(ctx, v.header.Plant, v.header.Revision)
	if err != nil {
		return nil, err
	}
	o := planOverview{
		PlanHeader: wire.NewPlanHeader(v.header), Stopped: v.doc.Stopped, Changed: changedSettings(f.plant, v.plan.Settings),
		Settings: v.doc.Settings, Routes: v.doc.Bounds.Routes, Cells: len(v.doc.Bounds.Cells),
	}
	for _, c := range v.doc.Bounds.Cells {
		if c.Optimal {
			o.Optimal++
		}
	}
	return tagged(v.tag, o), nil
}
