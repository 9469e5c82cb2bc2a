package api

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"time"

	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/plant"
)

// reliefTime is how long a caller is kept waiting for reliefs.
const reliefTime = 30 * time.Second

// reliefsKept is how many cells' reliefs stay in memory.
const reliefsKept = 32

// listReliefs answers with what would make room in a cell. It is computed while
// the caller waits, within bounds, and given up when he goes away; no more than
// a few are at work at once.
func (s *server) listReliefs(ctx context.Context, in *CellInput) (*output[wire.CellReliefs], error) {
	v, err := s.planOf(ctx, in.Plan)
	if err != nil {
		return nil, err
	}
	if _, err := v.cell(in.Cell); err != nil {
		return nil, err
	}
	list, err := s.reliefs.get(ctx, reliefKey{in.Plan, in.Cell}, func(context.Context, reliefKey) ([]planner.Relief, error) {
		return s.findReliefs(ctx, v, in.Cell)
	})
	if err != nil {
		return nil, err
	}
	return tagged(v.tag, wire.NewCellReliefs(v.plan, plant.CellCode(in.Cell), list)), nil
}

// reliefKey is a cell of a plan.
type reliefKey struct {
	plan int64
	cell string
}

func (s *server) findReliefs(ctx context.Context, v *view, cell string) ([]planner.Relief, error) {
	f, err := s.factsOf(ctx, v.header.Plant, v.header.Revision)
	if err != nil {
		return nil, err
	}
	select {
	case s.tracing <- struct{}{}:
		defer func() { <-s.tracing }()
	case <-ctx.Done():
		return nil, context.Cause(ctx)
	}
	limited, cancel := context.WithTimeout(ctx, reliefTime)
	defer cancel()
	list, err := planner.Reliefs(limited, planner.Input{Plant: f.plant}, v.plan, plant.CellCode(cell), planner.Options{Threads: 1})
	switch {
	case errors.Is(err, context.DeadlineExceeded) && ctx.Err() == nil:
		return nil, problem(http.StatusServiceUnavailable, fmt.Sprintf("Trying what makes room in this cell takes longer than %s; the program's command reliefs has no such limit.", reliefTime))
	case errors.Is(err, planner.ErrUnknownCell):
		return nil, missing("cell", cell)
	}
	return list, err
}
